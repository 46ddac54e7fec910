"""Several control points of the hull's curves moved at once."""

import pytest

from restoration.calc.hull_particulars import Particulars, lines_from
from restoration.calc.lines import move_points

WREN = lines_from(Particulars("long_keel", 9754, 7315))


def test_neighbours_move_together_where_one_alone_would_overtake_the_other():
    third, fourth = (WREN.deck.points[number] for number in (2, 3))
    aft = fourth[0] + 300
    with pytest.raises(ValueError, match="doubles back"):
        move_points(WREN, {"deck": {2: (aft, third[1])}})
    moved = move_points(WREN, {"deck": {2: (aft, third[1]), 3: (aft + 200, fourth[1])}})
    assert [along for along, _ in moved.deck.points[2:4]] == [aft, aft + 200]
    assert moved.sheer == WREN.sheer
    assert moved.assumed == WREN.assumed


def test_a_curve_that_is_not_there_is_named():
    with pytest.raises(ValueError, match="no curve named 'buttock'"):
        move_points(WREN, {"buttock": {0: (0.0, 0.0)}})
