"""How much of a log a plan brings out, beside what a published log rule says it should.

A rule for a whole class of logs cannot judge one plan to the board: it gives a band of what is
plausible. Far under it the planner wastes wood; far over it, it sells wood that is not there.
"""

import pytest

from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.rivals import through_and_through
from timber_stock.sawing.search import Allowance, search

INCH_MM, FOOT_MM = 25.4, 304.8
# What the International 1/4 inch rule stands for: a kerf of a quarter inch, a sixteenth more for
# shrinkage in each inch board, a taper of half an inch in 4 feet, boards sawn alive.
KERF_IN, SHRINKAGE_IN, TAPER_IN_PER_FT = 0.25, 0.0625, 0.125
LENGTH_FT = 16
# The rule counts shorter boards out of the taper too, and these are all of the log's length.
LEAST, MOST = 0.75, 1.05

# Logs of 16 ft by their small end, inches: board feet by the International 1/4 inch rule, from the
# comparison of three rules that Virginia extension prints.
PRINTED = {12: 95, 16: 180}


def board(width_in):
    return {
        "id": f"1 x {width_in}", "thickness_mm": (1 + SHRINKAGE_IN) * INCH_MM,
        "width_mm": width_in * INCH_MM, "length_mm": LENGTH_FT * FOOT_MM, "quantity": 40,
        "worth": 1, "heart_clearance_mm": None, "rings": None, "sapwood_allowed": True,
        "knot_free": [],
    }  # fmt: skip


def planned_board_feet(top_in):
    butt_in = top_in + TAPER_IN_PER_FT * LENGTH_FT
    log = {
        "length_mm": LENGTH_FT * FOOT_MM, "butt_diameter_mm": [butt_in * INCH_MM] * 2,
        "top_diameter_mm": [top_in * INCH_MM] * 2, "butt_pith_mm": [0, 0], "top_pith_mm": [0, 0],
        "sapwood_mm": 0, "knots": [], "rot": [],
    }  # fmt: skip
    saw = {"kerf_mm": KERF_IN * INCH_MM, "crosscut_kerf_mm": 9}
    wanted = [board(width_in) for width_in in range(4, top_in)]
    request = parse_request({"log": log, "saw": saw, "wanted": wanted})
    layout = search(through_and_through(request), Allowance(steps=150)).layout
    # A board foot: 144 cubic inches, of the nominal inch.
    inches = [
        request.wanted[t.line].width_mm / INCH_MM * LENGTH_FT / 12
        for b in layout
        for t in b.timbers
    ]
    return sum(inches)


@pytest.mark.parametrize(("top_in", "printed"), PRINTED.items())
def test_boards_planned_alive_come_near_what_the_international_rule_prints(top_in, printed):
    assert LEAST * printed <= planned_board_feet(top_in) <= MOST * printed
