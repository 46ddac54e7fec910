"""A figure that is missing or endless is refused where it comes in, and never reckoned with."""

import math
from datetime import date

import pytest

from timber_stock.wood.air_drying import DayRange
from timber_stock.wood.durability import decay_risk
from timber_stock.wood.moisture import equilibrium_cautions
from timber_stock.wood.take_up import nut_turns, retightening, share_come
from timber_stock.wood.temperature import format_temperature

PACE = DayRange(100, 300, "test")


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize(
    "reckon",
    [
        lambda n: nut_turns(n, 2.5),
        lambda n: retightening(date(2025, 3, 1), n, 80, 16, PACE),
        lambda n: share_come(n, 80, 16),
        lambda n: share_come(0.1, n, 16),
        lambda n: share_come(0.1, 80, n),
        lambda n: equilibrium_cautions(n, 65),
        lambda n: equilibrium_cautions(20, n),
        lambda n: decay_risk(15, n),
        lambda n: decay_risk(25, n),
        format_temperature,
    ],
)
def test_it_is_refused_in_a_sentence(reckon, bad):
    with pytest.raises(ValueError, match="must be a finite number"):
        reckon(bad)


def test_a_timber_that_dries_no_further_has_no_share_to_make():
    for start, settled in ((80, 30), (14, 14), (12, 15)):
        with pytest.raises(ValueError, match="dries no further"):
            share_come(0.1, start, settled)
