"""What every test may ask for: a yard, its people, and a throwaway place for files."""

import pytest
from django.core.management import call_command


@pytest.fixture(autouse=True)
def throwaway_media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


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
