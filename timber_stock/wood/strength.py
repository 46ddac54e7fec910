"""Strength at another moisture than the table's: for comparison only, never a design value."""

from __future__ import annotations

import math

from timber_stock.wood.checked import between, positive

PER_POINT: dict[str, dict[str, float]] = {
    "birch_yellow": {"rupture": 4.8, "elasticity": 2.0, "crushing": 6.1},
    "cedar_port_orford": {"rupture": 5.2, "elasticity": 1.6, "crushing": 6.2},
    "cedar_western_red": {"rupture": 3.4, "elasticity": 1.6, "crushing": 5.1},
    "douglas_fir_coast": {"rupture": 3.7, "elasticity": 1.8, "crushing": 5.5},
    "mahogany_true": {"rupture": 1.3, "elasticity": 0.8, "crushing": 2.5},
    "pine_eastern_white": {"rupture": 4.8, "elasticity": 2.0, "crushing": 5.7},
    "spruce_sitka": {"rupture": 3.9, "elasticity": 1.7, "crushing": 5.3},
}
"""Change in percent for each 1 % of moisture. ANC-18 (1951), quoted in a boatbuilding handbook."""


def strength_at_moisture(
    value: float, percent_per_point: float, moisture_from_percent: float, moisture_to_percent: float
) -> float:
    """A strength or stiffness taken to another moisture, a factor 1 + P for every point.

    value (1 + P/100)^(from - to): drying strengthens. In the unit of `value`. percent_per_point P:
    0 to 15. Both moistures from 0 to 30 %, for strength does not change above fibre saturation.
    Source of the rule and of `PER_POINT`: ANC-18 (1951), second-hand. Small clear specimens: not a
    design value.
    """
    rate = between(percent_per_point, 0, 15, "The change per point of moisture", " %")
    start = between(moisture_from_percent, 0, 30, "The first moisture", " %")
    end = between(moisture_to_percent, 0, 30, "The second moisture", " %")
    return positive(value, "The strength") * math.pow(1.0 + rate / 100.0, start - end)
