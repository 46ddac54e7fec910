"""The section bench by hand, with a finger on a phone or a mouse at a desk."""

import re

import pytest

from timber_stock.measure import parse_length_mm
from timber_stock.models import Log

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def log(woods):
    return Log.objects.create(
        tag="L07", species=woods["oak_white"], length_mm=4200, butt_diameter_mm=530,
        top_diameter_mm=470, butt_heart_offset_mm=38, butt_heart_clock=4.5,
        top_heart_offset_mm=21, top_heart_clock=5, sapwood_mm=25,
    )  # fmt: skip


@pytest.fixture
def bench(signed_in, log):
    """The bench begun from the log, signed in as the yard."""
    page = signed_in
    page.goto(f"/timber/bench/?log={log.pk}")
    return page


def middle(page, what):
    box = page.locator(f"#bench-end {what}").bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def pixels_per_mm(page):
    box = page.locator("#bench-end rect[data-drag]").bounding_box()
    return box["width"] / mm(page, "width")


def mm(page, name):
    text = page.input_value(f"[name={name}]")
    size = parse_length_mm(text.lstrip("−-"), "in")
    return -size if text[0] in "−-" else size


def drag(page, what, right_mm, up_mm):
    x, y = middle(page, what)
    scale = pixels_per_mm(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right_mm * scale / 2, y - up_mm * scale / 2, steps=4)
    page.mouse.move(x + right_mm * scale, y - up_mm * scale, steps=4)


def test_a_section_dragged_shows_at_once_what_it_will_do(bench):
    from playwright.sync_api import expect

    page = bench
    page.locator("#bench-end svg").scroll_into_view_if_needed()
    lead = page.text_content(".bench-lead")
    assert "clear of the heart" in lead
    across, up = mm(page, "across"), mm(page, "up")

    drag(page, "rect[data-drag]", 40, -90)
    expect(page.locator(".bench-lead")).not_to_have_text(lead)
    page.mouse.up()
    # The fields follow the hand, to the marks of the rule, and so does the address.
    assert mm(page, "across") - across == pytest.approx(40, abs=4)
    assert mm(page, "up") - up == pytest.approx(-90, abs=4)
    page.get_by_text("the heart is in it").wait_for()
    page.get_by_text("with a check open").wait_for()
    expect(page).to_have_url(re.compile("across="))
    page.wait_for_function("() => !asking")

    shared = page.url
    page.goto("/timber/")
    page.goto(shared)
    assert "with a check open" in page.inner_text(".bench-lead")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert page.mistakes == []


def test_the_grip_sizes_it_and_the_far_corner_stays(bench):
    page = bench
    page.locator("#bench-end svg").scroll_into_view_if_needed()
    width, thickness = mm(page, "width"), mm(page, "thickness")
    corner = mm(page, "across") - width / 2, mm(page, "up") - thickness / 2
    drag(page, ".grip [data-drag]:last-child", 25, 20)
    page.mouse.up()
    assert mm(page, "width") - width == pytest.approx(25, abs=4)
    assert mm(page, "thickness") - thickness == pytest.approx(20, abs=4)
    kept = mm(page, "across") - mm(page, "width") / 2, mm(page, "up") - mm(page, "thickness") / 2
    assert kept == pytest.approx(corner, abs=1.6)
    assert page.mistakes == []


def test_dragged_out_of_the_log_it_says_so_and_can_be_dragged_back(bench):
    page = bench
    page.locator("#bench-end svg").scroll_into_view_if_needed()
    drag(page, "rect[data-drag]", 0, 140)
    page.get_by_text("The section does not fit the log").wait_for()
    page.mouse.up()
    page.locator("#bench-end rect[stroke-dasharray]").wait_for()
    drag(page, "rect[data-drag]", 0, -140)
    page.mouse.up()
    page.locator(".bench-lead").wait_for()
    assert page.get_by_text("The section does not fit the log").count() == 0
    # What is refused comes as 422, which the browser notes; nothing else may go wrong.
    assert [m for m in page.mistakes if "422" not in m] == []


def test_what_is_typed_is_reckoned_without_leaving_the_field(bench):
    page = bench
    page.fill("[name=thickness]", "2 1/2")
    page.get_by_text("2 1/2 in green").or_(page.get_by_text("2 1/2 in →")).first.wait_for()
    page.select_option("[name=limits]", "older_handbooks")
    page.get_by_text("Whence these figures").click()
    page.get_by_text("Older handbooks, from memory").wait_for()
    assert page.mistakes == []
