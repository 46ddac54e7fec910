"""What every test may ask for: a yard, its people, and a throwaway place for files."""

import pytest
from django.core.management import call_command
from hypothesis import HealthCheck, settings

# A law holds on a slow machine too: none fails for the time it takes, or for a busy hour.
settings.register_profile("laws", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("laws")


@pytest.fixture(autouse=True)
def throwaway_media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture(autouse=True)
def quick_passwords(settings):
    """Guarding passwords is slow on purpose; here it would only make the tests slow."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture
def woods(db):
    """The reference woods, by their code."""
    from timber_stock.models import Species

    call_command("load_reference", verbosity=0)
    return {wood.code: wood for wood in Species.objects.all()}


@pytest.fixture
def owner(db):
    from restoration.models import Client

    return Client.objects.create(name="Ottoline Verhaag")


@pytest.fixture
def people(db, owner):
    """One of each role, signed up: `people["yard"]`, `people["surveyor"]`, `people["client"]`."""
    from restoration.models import User

    return {
        "yard": User.objects.create_user("wright", password="oak-and-larch", role="yard"),
        "surveyor": User.objects.create_user("prober", password="oak-and-larch", role="surveyor"),
        "client": User.objects.create_user(
            "owner", password="oak-and-larch", role="client", client=owner
        ),
    }


@pytest.fixture
def vessel(owner, woods):
    from restoration.models import Vessel

    return Vessel.objects.create(
        code="TEN", name="Tenacious Wren", client=owner, loa_mm=9754, lwl_mm=7315
    )


@pytest.fixture
def demo_yard(db, throwaway_media):
    """The demonstration yard, as `manage.py demo` loads it."""
    call_command("load_reference", verbosity=0)
    call_command("load_demo", verbosity=0)


def pytest_collection_modifyitems(config, items):
    """Without a Chromium the browser tests cannot run: say so, or refuse where one is required."""
    import os
    import shutil

    browser = [item for item in items if "tests/browser/" in item.path.as_posix()]
    for item in browser:
        item.add_marker(pytest.mark.browser)
        item.add_marker(pytest.mark.django_db(transaction=True))
    names = ("chromium", "chromium-browser", "google-chrome", "chrome")
    if os.environ.get("HULL_LOG_CHROMIUM") or any(shutil.which(name) for name in names):
        return
    config.tests_without_browser = len(browser)
    if os.environ.get("HULL_LOG_BROWSER") == "required" and browser:
        raise pytest.UsageError(f"{len(browser)} browser tests need a Chromium, and none is here.")
    for item in browser:
        item.add_marker(pytest.mark.skip(reason="no Chromium on this machine"))


def pytest_terminal_summary(terminalreporter, config):
    if missed := getattr(config, "tests_without_browser", 0):
        terminalreporter.section("NOT RUN: BROWSER TESTS", sep="!", red=True)
        terminalreporter.write_line(
            f"{missed} browser tests did NOT run: no Chromium was found. On Debian: 'sudo apt "
            "install chromium'. Elsewhere set HULL_LOG_CHROMIUM to the path of a Chromium."
        )
