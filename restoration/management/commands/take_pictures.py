import shutil

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

PICTURES = settings.BASE_DIR / ".pictures"
# name, who is signed in, where, the window's width, and how much of the page is shown
SHOTS = [
    ("home", "yard", "/", 1280, 800),
    ("finding", "surveyor", "/surveys/2/members/{floor}/", 390, 844),
    ("thread", "yard", "/t/WHR-F12/", 1280, 900),
    ("log", "yard", "/timber/logs/1/", 1280, 900),
    ("hull", "yard", "/vessels/1/hull/", 1280, 1180),
    ("bench", "yard", "/timber/bench/?log=1", 1280, 1000),
    ("yard_board", "yard", "/yard-board/", 1280, 1100),
    ("pattern", "yard", "/patterns/1/", 1280, 1100),
]


class Command(BaseCommand):
    help = "Takes the README's pictures from the running demonstration (python3 manage.py demo)."

    def add_arguments(self, parser):
        parser.add_argument("--address", default="http://127.0.0.1:8000")

    def handle(self, *args, **options):
        try:
            from playwright.sync_api import sync_playwright
        except ImportError as error:
            raise CommandError(
                "Playwright is needed; 'python3 manage.py test' installs it."
            ) from error
        chromium = shutil.which("chromium") or shutil.which("google-chrome")
        if not chromium:
            raise CommandError("No Chromium was found. On Debian: 'sudo apt install chromium'.")
        PICTURES.mkdir(exist_ok=True)
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=chromium, args=["--no-sandbox", "--disable-gpu"]
            )
            for shot in SHOTS:
                self.take(browser, options["address"], *shot)
            browser.close()

    def take(self, browser, address, name, who, path, width, height):
        context = browser.new_context(base_url=address, viewport={"width": width, "height": height})
        page = context.new_page()
        page.goto("/sign-in/")
        page.get_by_label("Username").fill(who)
        page.get_by_label("Password").fill("demo-only")
        page.get_by_role("main").get_by_role("button", name="Sign in").click()
        if "{floor}" in path:
            page.goto("/surveys/2/")
            path = page.get_by_role("link", name="F11").first.get_attribute("href")
        page.goto(path)
        page.screenshot(path=PICTURES / f"{name}.png")
        self.stdout.write(f"{name}.png")
        context.close()
