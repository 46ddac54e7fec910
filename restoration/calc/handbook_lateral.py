"""Lateral load of nails, screws and lag screws by the empirical equations before 1991.

Wood Handbook, chapter 8, table 8-4: p = K D**1.5 for nails, K D**2 for screws and lag screws; the
load at the proportional limit, along the grain, N and mm. A third view of a small fastening.
"""

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero
from restoration.calc.fastening_sources import HANDBOOK, READ, Published

SOURCE = Published(f"{HANDBOOK}, table 8-4, equations in use before 1991", READ)
POWER = {"nail": 1.5, "spike": 1.5, "screw": 2.0, "lag": 2.0}


@dataclass(frozen=True)
class Band:
    """Constants of the woods between two specific gravities (on the volume at 12 %)."""

    lightest: float
    heaviest: float
    nail: float
    screw: float
    lag: float


HARDWOODS = (
    Band(0.33, 0.47, 50.04, 23.17, 26.34),
    Band(0.48, 0.56, 69.50, 31.99, 29.51),
    Band(0.57, 0.74, 94.52, 44.13, 34.13),
)


def proportional_limit_n(kind: str, gravity: float, diameter_mm: float) -> float:
    """Load along the grain in hardwood, N. gravity: on the volume at 12 %, to two places.

    Lag screws: for a side timber 3.5 diameters thick. ValueError for other kinds and for woods
    lighter or heavier than the table's.
    """
    if kind not in POWER:
        raise ValueError(f"The table has nails, screws and lag screws, not “{kind}”.")
    diameter = above_zero(diameter_mm, "diameter")
    g = round(above_zero(gravity, "specific gravity"), 2)
    band = next((each for each in HARDWOODS if each.lightest <= g <= each.heaviest), None)
    if band is None:
        raise ValueError(f"The table is for hardwoods of 0.33 to 0.74; this one is {g:g}.")
    constant = {"screw": band.screw, "lag": band.lag}.get(kind, band.nail)
    return constant * math.pow(diameter, POWER[kind])
