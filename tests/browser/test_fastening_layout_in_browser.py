"""A joint laid out in a real browser: bolts in two rows, one refused off the timber, one moved."""

import pytest
from playwright.sync_api import expect

from restoration.actions.members import join_members
from restoration.models import Member, PlannedHole

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def joint(vessel, woods):
    keel = Member.objects.create(
        vessel=vessel, kind="keel", mark="K1", wood=woods["oak_white"], sided_mm=178, moulded_mm=228
    )
    stem = Member.objects.create(
        vessel=vessel, kind="stem_foot", mark="SF1", wood=woods["oak_white"], moulded_mm=127
    )
    old = {"kind": "bolt", "metal": "wrought iron", "diameter_mm": 19.05, "count": 4}
    return join_members(member=stem, others=[keel], fastening=old)[0]


def fits(page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def lay_out_the_face(page):
    page.get_by_role("link", name="Lay out new fastenings").click()
    page.get_by_label("What is laid out").fill("scarf")
    page.get_by_label("Length of the face").fill("2' 6")
    page.get_by_label("Width of the face").fill("5 1/2")
    page.get_by_label("It is a scarf of").select_option("keel")
    page.get_by_label("Depth of the timber scarfed").fill("7")
    page.get_by_role("button", name="Keep").click()


def add_the_bolts(page):
    page.get_by_role("link", name="Add fastenings").click()
    page.get_by_label("Kind").select_option(label="through bolt")
    page.get_by_label("Metal").select_option("silicon_bronze_651")
    page.get_by_label("Diameter", exact=True).fill("3/4")
    page.get_by_label("Length").fill("1-3-4")
    page.get_by_label("Thread").select_option("3/4-10")
    page.get_by_role("button", name="Keep").click()


def lay_the_holes(page, along):
    page.get_by_label("First hole, along").fill("5 1/4")
    page.get_by_label("First hole, across").fill("2 1/4")
    page.get_by_label("Holes in a row").fill(along)
    page.get_by_label("Apart in the row").fill("9")
    page.get_by_role("button", name="Lay out").click()


def smallest_letters(page) -> float:
    return page.evaluate(
        "Math.min(...[...document.querySelectorAll('.fastening-layout .w-dim')]"
        ".map(t => parseFloat(t.getAttribute('font-size')) * t.getScreenCTM().a || 99)"
        ".filter(s => s > 0))"
    )


def test_bolts_are_laid_out_refused_off_the_timber_and_moved(signed_in, joint):
    page = signed_in
    page.goto(f"/joints/{joint.pk}/layouts/")
    lay_out_the_face(page)
    add_the_bolts(page)
    lay_the_holes(page, "4")
    assert "beyond the far end of the face" in page.get_by_role("alert").first.inner_text()
    assert page.get_by_label("Holes in a row").input_value() == "4"
    assert not PlannedHole.objects.exists()
    page.mistakes = [said for said in page.mistakes if "422" not in said]
    lay_the_holes(page, "3")
    drawing = page.locator("svg.fastening-layout")
    expect(drawing.get_by_text("14 1/4 in", exact=True)).to_have_count(1)
    page.wait_for_load_state()
    assert fits(page)
    assert smallest_letters(page) >= 11
    page.get_by_role("link", name="Move hole 2").click()
    page.get_by_label("Along the face").fill("13")
    page.get_by_role("button", name="Move").click()
    expect(drawing.get_by_text("13 in", exact=True)).to_have_count(1)
    page.get_by_role("link", name="What it holds").click()
    expect(page.get_by_text("not design approval")).to_be_visible()
    page.wait_for_load_state()
    assert page.get_by_text("Governs:").count() >= 2
    assert fits(page)
    page.get_by_role("link", name="Metals, old and new").click()
    page.wait_for_url("**/metals/")
    assert fits(page)
    assert page.mistakes == []
