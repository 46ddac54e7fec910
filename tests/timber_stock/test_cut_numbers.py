"""The numbers of cuts stand beside the log, each readable, however many there are."""

import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.drawings.cut_numbers import columns, spread
from timber_stock.drawings.log_section import CutDrawn, Section, section_svg
from timber_stock.drawings.sheet_sections import stage_drawn
from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_layout import parse_layout
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.saw_sheet import saw_sheet
from timber_stock.sawing.search import Allowance

SVG = "{http://www.w3.org/2000/svg}"
REACH = 310.0


class Drawn:
    """What `stage_drawn` asks of a plan."""

    def __init__(self, request, layout):
        self.request, self.layout = request, layout


def crowd(count):
    """So many cuts close under each other, not one beginning where another does."""
    return [
        CutDrawn(-250 + 11 * (n % 13), -40 + 1.7 * n, -90 + 9 * (n % 17), -40 + 1.7 * n, 3, f"{n}")
        for n in range(1, count + 1)
    ]


def boxes(svg):
    """Left, top, right and bottom of each number's box, and what stands in it."""
    found = {}
    for group in ET.fromstring(svg).iter(f"{SVG}g"):
        if group.get("class") == "cut-number":
            box = group.find(f"{SVG}rect")
            x, y, wide, tall = (float(box.get(n)) for n in ("x", "y", "width", "height"))
            found[group.find(f"{SVG}text").text] = (x, y, x + wide, y + tall)
    return found


def meet(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def none_meet(found):
    return not any(meet(a, b) for a, b in combinations(found.values(), 2))


def section(cuts, **more):
    return Section("A stage", 300, REACH, 20, (0.0, 0.0), 20, REACH, cuts=cuts, **more)


@pytest.mark.parametrize("count", [1, 2, 25, 60, 240])
def test_no_two_numbers_lie_over_each_other_nor_over_the_log_however_many_cuts_there_are(count):
    cuts = crowd(count)
    svg = section_svg(section(cuts, bed=-300.0))
    found = boxes(svg)
    assert set(found) == {cut.number for cut in cuts}
    assert none_meet(found)
    assert all(left > REACH * 1.15 or right < -REACH * 1.15 for left, _, right, _ in found.values())
    _, _, wide, tall = map(float, ET.fromstring(svg).get("viewBox").split())
    for left, top, right, bottom in found.values():
        assert -wide / 2 <= left
        assert right <= wide / 2
        assert -tall / 2 <= top
        assert bottom <= tall / 2


def test_no_two_numbers_of_a_real_plan_of_many_planks_lie_over_each_other():
    asked = {
        "log": {
            "length_mm": 3100, "butt_diameter_mm": [610, 590], "top_diameter_mm": [560, 570],
            "butt_pith_mm": [14, -9], "top_pith_mm": [3, 0], "sapwood_mm": 22,
        },
        "saw": {"kerf_mm": 3.2, "crosscut_kerf_mm": 9},
        "wanted": [
            {"id": "PLK", "thickness_mm": 33, "width_mm": 88, "length_mm": 2950, "quantity": 24,
             "worth": 1},
            {"id": "CLT", "thickness_mm": 41, "width_mm": 41, "length_mm": 1400, "quantity": 20,
             "worth": 1},
        ],
    }  # fmt: skip
    request = parse_request(asked)
    plan = make_plan(request, Allowance(steps=60))
    layout = parse_layout(request, plan["bolts"])
    ripped, numbers = 0, 0
    for n, stage in enumerate(saw_sheet(request, layout, plan["cuts"]), 1):
        ripped += sum(not cut.crosscut for cut in stage.cuts)
        for drawn in stage_drawn(Drawn(request, layout), stage, n):
            numbers += len(boxes(drawn.svg))
            assert none_meet(boxes(drawn.svg))
    assert numbers == ripped > 40


def test_cuts_of_one_height_in_two_pieces_are_numbered_each_at_its_own_side():
    left, right = CutDrawn(-200, 40, -20, 40, 3, "8"), CutDrawn(60, 40, 120, 40, 3, "9")
    told = {one.text: one for one in columns([left, right], REACH, 360).numbers}
    assert told["8"].x < 0 < told["9"].x
    assert told["8"].end == (-200, 40)
    assert told["9"].end == (120, 40)


def test_a_number_with_room_stands_level_with_its_cut():
    (told,) = columns([CutDrawn(-100, 77, 200, 77, 3, "4")], REACH, 360).numbers
    assert told.y == pytest.approx(77)


def test_a_drawing_without_numbers_is_no_wider_for_them():
    bare = section_svg(section([CutDrawn(-100, 77, 200, 77, 3)]))
    assert bare.count("cut-number") == 0
    _, _, wide, tall = map(float, ET.fromstring(bare).get("viewBox").split())
    assert wide == pytest.approx(tall)


@given(st.lists(st.floats(-90, 90), min_size=1, max_size=20), st.floats(0.5, 10))
def test_heights_are_spread_in_order_within_bounds_and_left_alone_where_they_need_nothing(
    wanted, pitch
):
    wanted = sorted(wanted)
    found = spread(wanted, pitch, -100, 100)
    assert all(b - a >= pitch - 1e-9 for a, b in pairwise(found))
    assert found[0] >= -100 - 1e-9
    assert found[-1] <= 100 + 1e-9
    if all(b - a >= pitch for a, b in pairwise(wanted)):
        assert found == pytest.approx(wanted)


def test_neighbours_that_want_one_place_share_it_about_its_middle():
    assert spread([10.0, 10.0, 10.0, 60.0], 4, -100, 100) == pytest.approx([6, 10, 14, 60])


def hour_marks(svg):
    return [
        (float(text.get("y")), float(text.get("font-size")))
        for text in ET.fromstring(svg).iter(f"{SVG}text")
        if text.text in ("12", "3", "6", "9") and text.get("fill") == "#1b242c"
    ]


def test_the_line_of_the_bed_crosses_no_hour_of_the_butt():
    """A quarter turned, 9 o'clock lies straight below: the mark would stand on the bed's line."""
    for bed in (-REACH, -REACH - 20, -REACH - 40):
        svg = section_svg(section([], bed=bed))
        for y, size in hour_marks(svg):
            assert not y - size * 0.75 < -bed < y
