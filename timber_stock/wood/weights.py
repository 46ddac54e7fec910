"""What a log, a board or a lift weighs.

Wood only: bark, ice, mud and soaked butts are extra.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from timber_stock.wood.checked import between, finite, positive

LIFTING_CAUTION = (
    "A weight reckoned from averages. A lot may be 20 % heavier green and 10 % air dry, and bark, "
    "mud and ice come on top. A competent person plans the lift, by the rated marks of the gear "
    "and the local rules."
)
GREEN_ALLOWANCE_PERCENT = 20.0
"""How far a green lot may exceed the tabled weight (FPL Technical Note 218, 1931; read)."""

KG_PER_POUND = 0.45359237
"""The pound avoirdupois, exactly (international agreement of 1959)."""

NEWTONS_PER_POUND = KG_PER_POUND * 9.80665
"""The pound as a force, at the standard acceleration of free fall."""

LEANING_SLINGS = (
    "A sling leg that leans carries more than its share: of two legs 60° from upright each carries "
    "the whole weight (statics: W/(2 cos a))."
)


def _kilograms(volume_mm3: float, density_kg_m3: float) -> float:
    return volume_mm3 * 1e-9 * between(density_kg_m3, 30, 2200, "The density", " kg/m³")


def board_weight_kg(
    width_mm: float, thickness_mm: float, length_mm: float, density_kg_m3: float
) -> float:
    """Weight of a squared piece, kg: its volume times its density. Sizes in mm above nought."""
    volume = positive(width_mm, "The width in mm") * positive(thickness_mm, "The thickness in mm")
    return _kilograms(volume * positive(length_mm, "The length in mm"), density_kg_m3)


def log_weight_kg(
    small_diameter_mm: float,
    large_diameter_mm: float,
    length_mm: float,
    heartwood_kg_m3: float,
    sapwood_kg_m3: float | None = None,
    sapwood_mm: float = 0.0,
) -> float:
    """Weight in kg of a round tapering log inside bark, heartwood and sapwood each at its density.

    Frustum of a cone, pi L (d^2 + d D + D^2)/12 (exact for a straight taper); the heartwood is the
    frustum with both diameters less twice the sapwood. Diameters, length and sapwood in mm. Left
    out, the sapwood weighs as the heartwood. ValueError for sapwood that leaves no heart.
    """
    small = positive(small_diameter_mm, "The small diameter in mm")
    large = positive(large_diameter_mm, "The large diameter in mm")
    length = positive(length_mm, "The length in mm")
    rind = finite(sapwood_mm, "The sapwood in mm")
    if not 0 <= 2 * rind < min(small, large):
        raise ValueError(
            f"Sapwood of {rind:g} mm leaves no heartwood in a log {min(small, large):g} mm through."
        )
    whole = _frustum_mm3(small, large, length)
    heart = _frustum_mm3(small - 2 * rind, large - 2 * rind, length)
    outer = heartwood_kg_m3 if sapwood_kg_m3 is None else sapwood_kg_m3
    return _kilograms(heart, heartwood_kg_m3) + _kilograms(whole - heart, outer)


def _frustum_mm3(small_mm: float, large_mm: float, length_mm: float) -> float:
    return math.pi * length_mm * (small_mm**2 + small_mm * large_mm + large_mm**2) / 12.0


def balance_from_small_end_mm(
    small_diameter_mm: float, large_diameter_mm: float, length_mm: float
) -> float:
    """Distance in mm from the small end to the point where a tapering log balances.

    L/4 (r^2 + 2 r R + 3 R^2)/(r^2 + r R + R^2), the centre of a cone frustum of even density.
    """
    small = positive(small_diameter_mm, "The small diameter in mm")
    large = positive(large_diameter_mm, "The large diameter in mm")
    length = positive(length_mm, "The length in mm")
    return (
        length
        / 4
        * (small**2 + 2 * small * large + 3 * large**2)
        / (small**2 + small * large + large**2)
    )


def lift_weight_kg(
    pieces_kg: Iterable[float],
    gear_kg: float = 0.0,
    allowance_percent: float = GREEN_ALLOWANCE_PERCENT,
) -> float:
    """Weight to lift, kg: the pieces with an allowance, and the gear that goes up with them.

    pieces_kg: each above nought. allowance_percent: 0 to 100, twenty for green wood.
    """
    wood = sum(positive(piece, "The weight of a piece in kg") for piece in pieces_kg)
    gear = between(gear_kg, 0, 1e6, "The weight of the gear", " kg")
    share = between(allowance_percent, 0, 100, "The allowance", " %")
    return wood * (1.0 + share / 100.0) + gear
