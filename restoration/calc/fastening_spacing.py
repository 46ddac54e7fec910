"""How far a fastening wants to stand from ends, edges and its neighbours, as multiples of its size.

Two published opinions: the NDS (bolts, drifts and lag screws as bolts; smaller ones by the
commentary's table for bored holes) and EN 1995-1-1. In a hull loads come from both sides, so every
end and edge is taken as loaded. Nearly all is from memory, and each rule says so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite
from restoration.calc.dowel_bearing import SMALL_MM
from restoration.calc.fastening_sources import (
    EN,
    MEMORY,
    SPACING_OF_BOLTS,
    SPACING_OF_SMALL,
    Published,
)

END, EDGE, ALONG, ACROSS = "end", "edge", "along the grain", "across the grain"
SMALL_KINDS = frozenset({"screw", "rivet", "nail", "annular", "spike"})


@dataclass(frozen=True)
class Wanted:
    """One distance: for the full load, and the least at which part of it may be counted, mm.

    by_size: whether a thinner fastening would want less.
    """

    full_mm: float
    least_mm: float
    rule: str
    source: Published
    by_size: bool = True


@dataclass(frozen=True)
class Placing:
    """What the rules depend on: kind and size, the wood, the load's angle to grain 0 to 90, and
    the lesser of the fastening's lengths in the two timbers. rows_apart_mm: from the row along the
    grain it stands in to the next, 0 where there is no other."""

    kind: str
    diameter_mm: float
    hardwood: bool
    angle_deg: float
    bearing_mm: float
    rows_apart_mm: float = 0.0

    def __post_init__(self) -> None:
        above_zero(self.diameter_mm, "diameter")
        above_zero(self.bearing_mm, "length in the timber")
        if not 0 <= finite(self.angle_deg, "angle of load to grain") <= 90:
            raise ValueError("An angle of load to grain lies between 0 and 90 degrees.")

    @property
    def slenderness(self) -> float:
        return self.bearing_mm / self.diameter_mm

    @property
    def is_small(self) -> bool:
        return self.kind in SMALL_KINDS and self.diameter_mm < SMALL_MM - 1e-6


NDS_BOLTS = Published(SPACING_OF_BOLTS, MEMORY)
NDS_SMALL = Published(SPACING_OF_SMALL, MEMORY)
EN_BOLTS = Published(f"{EN}, table 8.4, bolts", MEMORY)
EN_SMALL = Published(f"{EN}, table 8.2, nails in bored holes", MEMORY)


def nds_distances(placing: Placing) -> dict[str, Wanted]:
    """End, edge, and apart along and across the grain, by the NDS.

    Bolts: end 7 D softwood, 5 D hardwood (half of it counts half the load); edge 1.5 D for loads
    along the grain, 4 D for loads across it. A row runs with the load: in a row 4 D, at least 3 D;
    between rows 1.5 D for loads along the grain, and for loads across it 2.5 D, rising to 5 D for a
    slender bolt. Loads at an angle: the stricter of the two. A bolt longer in the timber than 6 D
    that stands in rows wants half their distance at an edge along the load too. Small ones, bored:
    end 10 D, edge 2.5 D, along the grain 10 D, across it 3 D, or 5 D for loads across it.
    """
    across = placing.angle_deg > 1e-6
    if placing.is_small:
        small = {END: 10.0, EDGE: 2.5, ALONG: 10.0, ACROSS: 5.0 if across else 3.0}
        return {what: _times(placing, n, n, NDS_SMALL) for what, n in small.items()}
    end = 5.0 if placing.hardwood else 7.0
    along, apart = _apart(placing)
    return {
        END: _times(placing, end, end / 2, NDS_BOLTS),
        EDGE: _edge(placing),
        ALONG: _times(placing, *along, NDS_BOLTS),
        ACROSS: _times(placing, *apart, NDS_BOLTS),
    }


def _edge(placing: Placing) -> Wanted:
    if placing.angle_deg > 1e-6:
        return _times(placing, 4.0, 4.0, NDS_BOLTS)
    half = placing.rows_apart_mm / 2
    if placing.slenderness <= 6 or half <= 1.5 * placing.diameter_mm:
        return _times(placing, 1.5, 1.5, NDS_BOLTS)
    return Wanted(half, half, "half the rows' distance", NDS_BOLTS, by_size=False)


def _apart(placing: Placing) -> tuple[tuple[float, float], tuple[float, float]]:
    """Full and least spacing, in diameters: along the grain, and across it."""
    in_row, rows = (4.0, 3.0), _rows_across(placing.slenderness)
    if placing.angle_deg < 1e-6:
        return in_row, (1.5, 1.5)
    if placing.angle_deg > 90 - 1e-6:
        return (rows, rows), in_row
    return (max(4.0, rows), max(3.0, rows)), in_row


def en_distances(placing: Placing) -> dict[str, Wanted]:
    """The same four by EN 1995-1-1, loaded end and edge; nothing may be counted below them.

    Bolts (and screws over 6 mm): end max(7 d, 80 mm); edge max((2 + 2 sin a) d, 3 d); along
    the grain (4 + cos a) d; across it 4 d. Smaller, bored: (7 + 5 cos a) d; (3 + 2 sin a) d,
    from 5 mm (3 + 4 sin a) d; (4 + cos a) d; (3 + sin a) d.
    """
    sine, cosine = _sine_cosine(placing.angle_deg)
    if placing.kind in SMALL_KINDS and placing.diameter_mm <= 6:
        slope = 4 if placing.diameter_mm >= 5 else 2
        small = {
            END: 7 + 5 * cosine,
            EDGE: 3 + slope * sine,
            ALONG: 4 + cosine,
            ACROSS: 3 + sine,
        }
        return {what: _times(placing, n, n, EN_SMALL) for what, n in small.items()}
    end, edge = max(7 * placing.diameter_mm, 80.0), max(2 + 2 * sine, 3.0)
    return {
        END: Wanted(end, end, "7 D, not under 80 mm", EN_BOLTS),
        EDGE: _times(placing, edge, edge, EN_BOLTS),
        ALONG: _times(placing, 4 + cosine, 4 + cosine, EN_BOLTS),
        ACROSS: _times(placing, 4.0, 4.0, EN_BOLTS),
    }


def _times(placing: Placing, full: float, least: float, source: Published) -> Wanted:
    d = placing.diameter_mm
    return Wanted(full * d, least * d, f"{round(full, 2):g} D", source)


def _rows_across(slenderness: float) -> float:
    """2.5 D up to l/D = 2, 5 D from 6, (5 l + 10 D)/8 between."""
    return (5 * min(max(slenderness, 2.0), 6.0) + 10) / 8


def _sine_cosine(angle_deg: float) -> tuple[float, float]:
    angle = math.radians(angle_deg)
    return math.sin(angle), math.cos(angle)
