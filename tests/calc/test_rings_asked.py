"""The ring direction asked for, as the saw's limits to the wide face."""

import pytest

from restoration.calc.rings_asked import mean_limits_deg
from timber_stock.wood.ring_limits import AUTHORITIES

TRADE = AUTHORITIES["hardwood_trade"]  # flat below 30, quarter from 60


@pytest.mark.parametrize(
    ("rings", "face", "limits"),
    [
        ("any", "", (None, None)),
        ("quarter", "", (60, None)),
        ("quarter", "moulded", (60, None)),
        ("quarter", "sided", (None, 30)),
        ("flat", "", (None, 30)),
        ("flat", "sided", (60, None)),
        ("rift", "", (30, 60)),
        ("rift", "sided", (30, 60)),
    ],
)
def test_a_direction_judged_on_the_narrow_face_is_turned_by_a_right_angle(rings, face, limits):
    assert mean_limits_deg(rings, face, 90, 165, TRADE) == limits


def test_another_authority_draws_the_line_elsewhere():
    assert mean_limits_deg("quarter", "", 90, 165, AUTHORITIES["oak_catalogue"]) == (75, None)


def test_a_direction_that_is_none_is_refused():
    with pytest.raises(ValueError, match="no ring direction"):
        mean_limits_deg("curly", "", 90, 165, TRADE)
