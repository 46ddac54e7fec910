"""A table of offsets pasted out of a spreadsheet, looked at, kept, and printed full size."""

import io
import re

import pytest
from pypdf import PdfReader

from restoration.models import Member, Pattern

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
SHEET = (
    "Station\tUpper edge\tLower edge\tRabbet\r\n"
    "0-0-0\t0-4-0\t0-0-0\t0-2-0\r\n"
    "1-0-0\t0-5-4+\t-0-1-2\t0-2-2\r\n"
    "2-0-0\t0-7-1\t0-1-0\t0-3-5\r\n"
    "3-3-0\t0-9-0\t0-4-0\t\r\n"
)


@pytest.fixture
def foot(page, client, people, vessel, live_server):
    client.force_login(people["yard"])
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=live_server.url)
    return Member.objects.create(vessel=vessel, kind="stem_foot", mark="SF1", sided_mm=139.7)


def paste(page, label, text):
    page.get_by_label(label).click()
    page.keyboard.press("Control+A")
    page.evaluate("text => navigator.clipboard.writeText(text)", text)
    page.keyboard.press("Control+V")


def test_offsets_pasted_from_a_spreadsheet_are_drawn_mended_kept_and_printed(page, foot):
    page.goto(foot.get_absolute_url())
    page.get_by_role("link", name="Take a pattern").click()
    page.get_by_role("link", name="Type or paste offsets").click()
    paste(page, "Offsets", SHEET.replace("0-7-1", "0-7-11"))
    page.get_by_role("button", name="Look at it first").click()
    page.get_by_text("Offsets, row 4: upper edge: “0-7-11” is not").wait_for()
    assert "3-3-0\t0-9-0" in page.get_by_label("Offsets").input_value()
    assert page.get_by_label("Sided", exact=True).input_value() == "5 1/2 in"

    paste(page, "Offsets", SHEET)
    paste(page, "Bolt holes", "12\t3 1/2\t3/4")
    page.get_by_role("button", name="Look at it first").click()
    page.get_by_role("heading", name="Not kept yet").wait_for()
    page.wait_for_load_state()
    drawing = page.locator("svg.pattern-drawing")
    assert drawing.locator("circle").count() == 1
    assert "3 ft 3 in" in drawing.text_content()
    assert not Pattern.objects.exists()

    page.get_by_role("button", name="Keep").click()
    page.wait_for_url(re.compile(r"/patterns/\d+/(#|$)"))
    page.get_by_role("heading", name="Stem foot SF1").wait_for()
    kept = Pattern.objects.get()
    assert kept.shape().outline_mm[1] == pytest.approx((304.8, -31.75))
    assert kept.shape().lines[0].kind == "rabbet"
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")

    page.get_by_label("Full-size paper pattern on").select_option("Letter")
    got = page.context.request.get(f"/patterns/{kept.pk}/paper/?paper=Letter")
    papers = PdfReader(io.BytesIO(got.body()))
    assert len(papers.pages) > 4
    assert page.mistakes == [] or all("422" in said for said in page.mistakes)
