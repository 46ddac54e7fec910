"""How far the grain runs out of a timber along its middle line, against what is published.

Grain that leaves the timber's edge at 1 in n is a slope of 1 over n times as far along. Strength
falls fast with it. All figures here are for straight-grained wood cut to the pattern: a board's own
slope, spiral grain and knots come on top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from restoration.calc.pattern_needs_midline import Midline
from restoration.calc.pattern_needs_sizes import Point, folded_deg
from timber_stock.wood.checked import between, finite

READ, MEMORY = "read", "from memory"
WOOD_HANDBOOK = "Wood Handbook, table of strength against slope of grain"

CAUTION = (
    "A short-grained timber breaks without warning. These are figures for straight-grained clear "
    "wood cut to this pattern; knots, spiral grain and the board's own slope come on top. No "
    "published limit of slope for wooden hulls was found: class rules, local codes and a surveyor "
    "or naval architect decide."
)


@dataclass(frozen=True)
class SlopeLimit:
    """A slope of 1 in `one_in` as published: for what, by whom, and read or from memory."""

    one_in: float
    what: str
    source: str
    standing: str


LIMITS = (
    SlopeLimit(
        15,
        "oak for steam bending, grain to diverge no more",
        "National Hardwood Lumber Association, Rules Book (2015), page 63, bending oak",
        READ,
    ),
    SlopeLimit(
        8,
        "the coarsest of the usual grades of structural timber, which run from 1 in 15 to 1 in 8",
        "visual grading rules",
        MEMORY,
    ),
)

KEPT = ((25, 96), (20, 93), (15, 89), (10, 81), (5, 55))
"""Bending strength kept, percent, at 1 in n: Wood Handbook table, from memory."""

ACROSS_SHARE = 0.04
"""Bending strength across the grain over that along it, as goes with `KEPT` (least of the usual
0.04 to 0.10; Wood Handbook ch. 5, from memory)."""


@dataclass(frozen=True)
class RunOut:
    """Grain against the middle line. Angles in degrees, nought where the grain follows it.

    `worst_at_mm` is where the angle is greatest, `beyond` the share of the line's length that is
    steeper than each limit of LIMITS, in their order. `angles_deg` is one for each point of it.
    """

    worst_deg: float
    worst_at_mm: Point
    worst_along_mm: float
    beyond: tuple[float, ...]
    angles_deg: tuple[float, ...]

    @property
    def one_in(self) -> float:
        """Infinite for grain that does not run out at all, nought for grain square across."""
        return one_in(self.worst_deg)

    @property
    def kept(self) -> float:
        return strength_kept(self.worst_deg)


def run_out(line: Midline, grain_deg: float) -> RunOut:
    """The run-out of straight grain in that direction, counter-clockwise from the pattern's x."""
    grain = finite(grain_deg, "The direction of the grain")
    return run_out_of(line, [abs(folded_deg(runs - grain)) for runs in line.runs_deg])


def run_out_of(line: Midline, angles_deg: list[float]) -> RunOut:
    """The run-out where the angle to the grain is known at each point of the line."""
    at = max(range(len(angles_deg)), key=angles_deg.__getitem__)
    beyond = [
        sum(one_in(angle) < limit.one_in - 1e-9 for angle in angles_deg) / len(angles_deg)
        for limit in LIMITS
    ]
    return RunOut(
        angles_deg[at], line.points_mm[at], line.along_mm[at], tuple(beyond), tuple(angles_deg)
    )


def straightest_deg(line: Midline) -> float:
    """The direction of straight grain whose worst run-out is least: midway of all that it runs."""
    return folded_deg((min(line.runs_deg) + max(line.runs_deg)) / 2)


def one_in(angle_deg: float) -> float:
    """A slope as 1 in n: n = 1 / tan(angle). Infinite below a thousandth of a degree."""
    angle = between(abs(finite(angle_deg, "The angle")), 0, 90, "The angle", "°")
    return math.inf if angle < 1e-3 else abs(1 / math.tan(math.radians(angle)))


def strength_kept(angle_deg: float) -> float:
    """The share of bending strength kept with the grain at an angle, 0 to 1: q/(sin^2 + q cos^2).

    The Hankinson formula with its power 2 and q of ACROSS_SHARE (Wood Handbook ch. 5; both from
    memory), which gives the table `KEPT` within three points. For comparing one way of cutting
    with another, never for design.
    """
    angle = math.radians(between(abs(angle_deg), 0, 90, "The angle", "°"))
    return ACROSS_SHARE / (math.sin(angle) ** 2 + ACROSS_SHARE * math.cos(angle) ** 2)


def slope_words(angle_deg: float) -> str:
    """1 in 12; or across the grain where it is steeper than 1 in 1."""
    n = one_in(angle_deg)
    if n > 100:
        return "none to speak of"
    if n < 1:
        return "across the grain"
    return f"1 in {n:.0f}" if n >= 9.5 else f"1 in {n:.1f}"
