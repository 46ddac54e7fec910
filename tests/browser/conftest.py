"""A real Chromium, found here; without one, every test here says loudly that it did not run."""

import os
import shutil

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


def chromium() -> str | None:
    named = os.environ.get("HULL_LOG_CHROMIUM")
    return named or next((path for name in NAMES if (path := shutil.which(name))), None)


@pytest.fixture(scope="session")
def browser():
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=30_000)
    # Django refuses its database inside Playwright's event loop; the tests use it on purpose.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=QUIET)
        yield browser
        browser.close()


@pytest.fixture(params=[(390, 844), (1400, 900)], ids=["phone", "desk"])
def page(request, browser, live_server):
    width, height = request.param
    context = browser.new_context(
        viewport={"width": width, "height": height}, base_url=live_server.url
    )
    context.set_default_timeout(30_000)
    page = context.new_page()
    page.mistakes = []
    page.on("pageerror", lambda error: page.mistakes.append(str(error)))
    page.on("console", lambda m: page.mistakes.append(m.text) if m.type == "error" else None)
    yield page
    context.close()


@pytest.fixture
def signed_in(page, people):
    """The same browser, signed in as the yard by its name and password."""
    page.goto("/sign-in/")
    page.fill("[name=username]", "wright")
    page.fill("[name=password]", "oak-and-larch")
    page.click("main button")
    page.wait_for_url(lambda address: not address.endswith("/sign-in/"))
    return page


@pytest.fixture
def phone(browser, live_server, tmp_path):
    """Opens one and the same phone, as often as it is asked to: what it stored is still there."""
    opened = []

    def open_it(user, client):
        context = browser.browser_type.launch_persistent_context(
            tmp_path / "phone", executable_path=chromium(), args=QUIET, has_touch=True,
            viewport={"width": 390, "height": 844}, base_url=live_server.url,
        )  # fmt: skip
        context.set_default_timeout(30_000)
        opened.append(context)
        client.force_login(user)
        session = client.cookies["sessionid"].value
        context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
        return context.pages[0]

    yield open_it
    for context in opened:
        context.close()
