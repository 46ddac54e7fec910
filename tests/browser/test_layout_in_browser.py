"""A layout changed by hand: a piece dragged to where it may lie, and to where it may not."""

import pytest

from restoration.actions.nesting import Wanted, lay_out_board, move_piece, take_off
from restoration.calc.nesting_pieces import centred, rectangle
from restoration.calc.nesting_sheet import Defect, Sheet, oval, tapered
from restoration.models import Layout
from timber_stock.models import Board, Supplier

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

FLOOR = centred([(0, 0), (400, 60), (800, 0), (780, 95), (400, 170), (15, 100)])


@pytest.fixture
def layout(woods, people):
    yard = Supplier.objects.create(name="Drayhithe Timber")
    board = Board.objects.create(
        tag="Q9", species=woods["oak_white"], supplier=yard, thickness_mm=70, width_mm=300,
        length_mm=2600,
    )  # fmt: skip
    sheet = Sheet(
        2600, 70, tapered(2600, 300, 260), butt_check_mm=60,
        defects=(Defect("knot", oval(2300, 0, 80, 70), 10),),
    )  # fmt: skip
    straight = rectangle("A", "bearer", long_mm=600, wide_mm=90, sided_mm=60)
    curved = rectangle("B", "floor", long_mm=1, wide_mm=1, sided_mm=60)
    curved = type(curved)("B", "floor", FLOOR, 60, hand="drawn")
    return lay_out_board(
        board_id=board.pk, sheet=sheet, wanted=[Wanted(straight), Wanted(curved)], gap_mm=6,
        grain_deg=5, by=people["yard"], steps=4,
    )  # fmt: skip


def drag(page, piece, along_mm, across_mm):
    """Millimetres on the board, across to the left of the chalk line."""
    shape = page.locator(f'.laid[data-piece="{piece.pk}"]')
    shape.scroll_into_view_if_needed()
    scale = float(page.locator(".layout-drawing").get_attribute("data-scale"))
    each = page.evaluate(
        "document.querySelector('.layout-drawing').getScreenCTM().a",
    )
    box = shape.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    end = x + along_mm / scale * each, y - across_mm / scale * each
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move((x + end[0]) / 2, (y + end[1]) / 2)
    page.mouse.move(*end)
    with page.expect_response("**/move/") as answered:
        page.mouse.up()
    return answered.value.status


def test_a_layout_is_changed_by_hand(signed_in, layout):
    page = signed_in
    bearer, floor = layout.pieces.get(key="A"), layout.pieces.get(key="B")
    take_off(piece=floor)
    move_piece(piece=bearer, x_mm=600, y_mm=-40, angle_deg=0, mirrored=False)
    bearer.refresh_from_db()
    page.goto(layout.get_absolute_url())
    before = bearer.x_mm
    assert drag(page, bearer, 300, 0) == 200
    page.get_by_text("bearer lies there now.").wait_for()
    bearer.refresh_from_db()
    assert bearer.x_mm == pytest.approx(before + 300, abs=15)
    # Into the knot: refused with its reason, and it lies where it lay.
    held = bearer.x_mm, bearer.y_mm
    assert drag(page, bearer, 2300 - bearer.x_mm, -bearer.y_mm) == 422
    page.get_by_text("would have defect 1, the knot, in it").wait_for()
    bearer.refresh_from_db()
    assert (bearer.x_mm, bearer.y_mm) == held
    page.wait_for_function(
        "id => !document.querySelector(`.laid[data-piece='${id}']`).hasAttribute('transform')",
        arg=bearer.pk,
    )
    lay_by_figures(page, floor, bearer)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    # The refusal is an answer of 422, which the browser itself writes down as a mistake.
    assert [m for m in page.mistakes if "422" not in m] == []


def lay_by_figures(page, floor, bearer):
    """From the keyboard alone: onto the other piece, which is refused, then clear of it."""
    row = page.locator(f"#piece-{floor.pk}")
    row.locator("summary").click()
    form = page.locator(f"#move-{floor.pk}")
    form.locator("[name=x_mm]").fill(f"{bearer.x_mm:.1f} mm")
    form.locator("[name=y_mm]").fill(f"{bearer.y_mm:.1f} mm")
    form.locator("[name=y_mm]").press("Enter")
    page.get_by_text("floor and bearer would overlap").wait_for()
    form = page.locator(f"#move-{floor.pk}")
    assert form.locator("[name=x_mm]").input_value() == f"{bearer.x_mm:.1f} mm"
    form.locator("[name=x_mm]").fill("1700 mm")
    form.locator("[name=y_mm]").fill("-10 mm")
    form.get_by_role("button", name="Lay it there").click()
    page.get_by_text("floor lies there now.").wait_for()
    page.get_by_role("button", name="Keep this layout").click()
    page.get_by_text("The layout is kept.").wait_for()
    assert page.locator(".may-move").count() == 0
    assert Layout.objects.get().kept_on


def test_on_a_phone_the_drawing_opens_on_the_first_piece_and_stays_where_it_was(signed_in, layout):
    page = signed_in
    bearer, floor = layout.pieces.get(key="A"), layout.pieces.get(key="B")
    take_off(piece=floor)
    move_piece(piece=bearer, x_mm=1600, y_mm=-40, angle_deg=0, mirrored=False)
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(layout.get_absolute_url())
    left = page.locator(f'.laid[data-piece="{bearer.pk}"]').bounding_box()["x"]
    frame = page.locator(".layout-figure .scroll")
    box = frame.bounding_box()
    assert box["x"] <= left < box["x"] + box["width"] / 2
    was = frame.evaluate("frame => frame.scrollLeft")
    assert was > 0
    page.get_by_role("button", name="Search longer").click()
    page.get_by_text("Searched longer").wait_for()
    assert frame.evaluate("frame => frame.scrollLeft") == was
