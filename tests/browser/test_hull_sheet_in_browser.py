"""The hull sheet in a real browser: read aloud, tabbed, pinched, looked at closer, and on A3."""

import io
import re

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from restoration.models import User, Vessel

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
A3_POINTS = (1191, 842)


@pytest.fixture
def hare(page, client, live_server, demo_yard):
    """The page, signed in as the yard, and the vessel whose hull sheet it is to open."""
    client.force_login(User.objects.get(username="yard"))
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    return Vessel.objects.get(code="WHR")


def sheet(vessel, asked=""):
    return f"/vessels/{vessel.pk}/hull/{asked}"


def fits(page):
    return page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def width(page):
    return page.locator("svg.hull-sheet").bounding_box()["width"]


def test_each_member_is_one_named_link_that_opens_its_page(page, hare):
    page.goto(sheet(hare))
    assert fits(page)
    drawing = page.get_by_role("group", name=re.compile("Hull sheet of Wintle Hare"))
    assert drawing.get_by_role("link").count() == hare.members.count()
    link = drawing.get_by_role("link", name=re.compile("^F10, floor timber: class 3, major"))
    link.focus()
    page.keyboard.press("Enter")
    page.wait_for_url(f"**{hare.members.get(mark='F10').get_absolute_url()}")
    assert not page.mistakes


def test_the_buttons_look_closer_without_a_script(browser, hare, live_server, client):
    session = client.cookies["sessionid"].value
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, base_url=live_server.url, java_script_enabled=False
    )
    context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    page = context.new_page()
    page.goto(sheet(hare, "?condition=3"))
    whole = width(page)
    page.get_by_role("link", name="closer still").click()
    page.wait_for_url("**zoom=3**")
    assert width(page) > 5 * whole
    assert "condition=3" in page.url
    floor = page.get_by_role("link", name=re.compile("^SF1, stem foot"))
    box = floor.first.bounding_box()
    assert 0 < box["x"] < 390, "the first member shown is in sight"
    assert -2 < box["y"] < 844
    context.close()


def test_two_fingers_look_closer_where_they_are(page, hare):
    page.goto(sheet(hare))
    before = width(page)
    page.evaluate(
        """() => {
          const box = document.querySelector(".hull-scroll");
          const at = box.getBoundingClientRect();
          const fingers = (apart) => [-1, 1].map((side, id) => new Touch({
            identifier: id, target: box, clientX: at.left + at.width / 2 + side * apart,
            clientY: at.top + at.height / 2,
          }));
          const send = (kind, touches) => box.dispatchEvent(new TouchEvent(kind,
            { touches, cancelable: true, bubbles: true }));
          send("touchstart", fingers(30));
          send("touchmove", fingers(60));
          send("touchend", []);
        }"""
    )
    assert width(page) == pytest.approx(2 * before, rel=0.02)
    box = page.locator(".hull-scroll")
    assert box.evaluate("box => box.scrollLeft") > 0.2 * before
    assert fits(page)
    assert not page.mistakes


def test_it_prints_as_one_sheet_of_a3_and_nothing_else(page, hare):
    page.goto(sheet(hare, "?condition=2%2B&zoom=2"))
    paper = PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True)))
    assert len(paper.pages) == 1
    size = paper.pages[0].mediabox
    assert (float(size.width), float(size.height)) == pytest.approx(A3_POINTS, abs=2)
    words = paper.pages[0].extract_text()
    assert "Wintle Hare" in words
    assert "Scale 1:32" in words
    assert "Show by survey" not in words


def test_a_hull_is_set_out_looked_at_and_stored(page, hare):
    boat = Vessel.objects.get(code="OYM")
    page.goto(f"/vessels/{boat.pk}/set-out/")
    page.get_by_label("From frame to frame").fill("9 in")
    page.get_by_label("Strakes a side").fill("9")
    page.get_by_label("Spaces between stations").fill("20")
    page.get_by_role("button", name="Propose").click()
    page.locator("svg.hull-sheet").wait_for()
    assert fits(page)
    assert not boat.members.exists()
    page.get_by_role("button", name=re.compile("^Store these")).first.click()
    page.wait_for_url(re.compile("/members/by-range/"))
    assert boat.members.filter(kind="planking", side="P").count() == 6
    page.get_by_label("In one line").fill("floors 4 to 9: sided 3 in")
    page.get_by_role("button", name="Read it into the form").click()
    page.wait_for_url("**sentence=**")
    page.get_by_role("button", name="Preview").click()
    page.get_by_role("button", name="Change these 6").click()
    page.get_by_text("6 members changed.").wait_for()
    assert boat.members.filter(sided_mm__range=(76.1, 76.3)).count() == 6
    assert not page.mistakes


def test_two_surveys_side_by_side_fit_the_screen(page, hare):
    page.goto(f"/vessels/{hare.pk}/between-surveys/")
    assert fits(page)
    page.get_by_role("link", name="18 got worse").click()
    expect(page.get_by_role("heading", name="Got worse")).to_be_visible()
    named = page.locator("svg.hull-sheet").get_by_role(
        "link", name=re.compile("^F12, .* put right")
    )
    expect(named).to_have_count(1)
    assert not page.mistakes
