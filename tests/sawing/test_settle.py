import json
from dataclasses import replace
from pathlib import Path

from timber_stock.sawing.cut_order import cut_list
from timber_stock.sawing.judge_layout import judge_layout
from timber_stock.sawing.layout import Bolt, Placed
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.settle import settled

CASE = Path(__file__).parents[2] / "fixtures" / "sawing" / "case-H.json"


def request_of(**log):
    asked = json.loads(CASE.read_text())
    asked["log"] |= log
    return parse_request(asked)


def test_a_timber_left_half_way_along_is_drawn_to_the_butt():
    request = request_of(knots=[])
    half_way = Bolt(0.0, 4267.2, 0.0, (Placed(1, 77.5, -75.0, 500.0, True),))
    found = settled(request, (half_way,))
    assert found[0].timbers[0] == replace(half_way.timbers[0], from_mm=0.0)
    assert len(cut_list(request, found)) == len(cut_list(request, (half_way,))) - 1
    assert settled(request, found) == found


def test_a_timber_stays_where_the_end_is_forbidden():
    rot = {"x_mm": 100, "y_mm": 100, "radius_mm": 40, "from_mm": 0, "to_mm": 1000}
    request = request_of(knots=[], rot=[rot], top_diameter_mm=[900, 900])
    past = Bolt(0.0, 4267.2, 0.0, (Placed(1, 60.0, 60.0, 1005.0, True),))
    moved = settled(request, (past,))[0].timbers[0]
    assert moved.from_mm > 1005.0  # drawn to the top instead
    assert judge_layout(request, settled(request, (past,))).lawful


def test_a_pinned_timber_is_left_alone():
    request = request_of(knots=[])
    pinned = Bolt(0.0, 4267.2, 0.0, (Placed(1, 77.5, -75.0, 500.0, True, pinned=True),))
    assert settled(request, (pinned,)) == (pinned,)
