"""At the saw with a phone in hand: what is typed is reckoned as it is typed, and then kept."""

import pytest
from playwright.sync_api import expect

from timber_stock.models import Board, Log, MoistureReading

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def log(woods):
    return Log.objects.create(
        tag="L07", species=woods["oak_white"], length_mm=4200, butt_diameter_mm=530,
        top_diameter_mm=410, butt_heart_offset_mm=38, butt_heart_clock=4.5, sapwood_mm=25,
    )  # fmt: skip


@pytest.fixture
def at(signed_in):
    """Signed in as the yard, at an address."""

    def go(address):
        signed_in.goto(address)
        return signed_in

    return go


def fill_row(page, number, **typed):
    for name, text in typed.items():
        page.fill(f"[name=piece-{number}-{name}]", text)


def test_a_sawing_is_reckoned_while_it_is_typed_and_then_kept(at, log):
    page = at(f"{log.get_absolute_url()}saw/")
    page.fill("[name=sawn_by]", "Bram Oddy")
    page.fill("[name=kerf_mm]", "1/4")
    fill_row(page, 0, quantity="3", thickness_mm="2 1/2", width_mm="9", length_mm="13 ft")
    page.select_option("[name=piece-0-heart]", "clear")
    page.get_by_text("Comes out, 3 pieces").wait_for()
    page.get_by_text("Row 1: L07-1 to L07-3").wait_for()
    page.get_by_text("Row 2: L07-4").wait_for()

    page.click("text=Add a row")
    page.get_by_text("Row 5:").wait_for()
    assert page.input_value("[name=piece-0-length_mm]") == "13 ft"
    assert page.input_value("[name=piece-0-heart]") == "clear"
    fill_row(page, 4, thickness_mm="1", width_mm="6", length_mm="9 ft")
    page.click("text=Keep the sawing")
    page.get_by_text("4 pieces came out of L07.").wait_for()
    page.locator("text=L07-4").first.wait_for()
    assert Board.objects.filter(log=log).count() == 4
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert page.mistakes == []


def test_a_reading_is_kept_without_leaving_the_board(at, log, woods):
    from timber_stock.models import Supplier

    board = Board.objects.create(
        tag="X1-3", species=woods["larch_european"], thickness_mm=63, width_mm=254,
        length_mm=3100, state="in_stick", supplier=Supplier.objects.create(name="Aldermoor"),
    )  # fmt: skip
    page = at(board.get_absolute_url())
    drawn = []
    for day, said, percent in [
        ("2026-02-09", "9 February 2026", "34.5"),
        ("2026-03-14", "14 March 2026", "29"),
    ]:
        page.fill("[name=read_on]", day)
        page.fill("[name=percent]", percent)
        page.click("text=Keep the reading")
        page.locator("#moisture th", has_text=said).wait_for()
        drawn.append(page.locator(".plot circle").count())
    assert page.url.endswith(board.get_absolute_url())
    assert drawn[0] >= 1
    assert drawn[1] == drawn[0] + 1
    assert sorted(r.percent for r in MoistureReading.objects.all()) == [29, 34.5]
    assert page.mistakes == []


def test_a_list_is_narrowed_as_one_types(at, log, woods):
    Log.objects.create(
        tag="K12", species=woods["larch_european"], length_mm=5000, butt_diameter_mm=400,
        top_diameter_mm=300,
    )  # fmt: skip
    page = at("/timber/logs/")
    page.get_by_text("2 logs").wait_for()
    page.fill("[name=q]", "larix")
    page.get_by_text("1 log", exact=True).wait_for()
    expect(page.locator("text=K12")).to_have_count(1)
    assert "q=larix" in page.url
