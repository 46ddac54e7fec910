"""Bolt holes of a pattern against its edges, its ends and the heart of the timber.

Only where to look: what a joint carries is worked out where its fastenings are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from restoration.calc.pattern import BoltHole, Pattern, outline_polygon
from restoration.calc.pattern_needs_sizes import Point
from timber_stock.wood.checked import finite

EDGE_DIAMETERS, LOADED_EDGE_DIAMETERS, END_DIAMETERS = 1.5, 4.0, 7.0
SOURCE = (
    "Wood Handbook ch. 8 and the American design specification for wood, at full load, from memory:"
    " 1.5 diameters to an edge loaded along the grain, 4 to an edge pulled across it, 7 to a pulled"
    " end in softwood and 5 in hardwood"
)
HEART_NEAR_MM = 12.0
"""A hole nearer to the heart than this is told of: common practice, checks run out from there."""


@dataclass(frozen=True)
class HeartLine:
    """Where the heart runs in the plane of the pattern: from one point to another, mm."""

    start_mm: Point
    end_mm: Point


@dataclass(frozen=True)
class HoleCheck:
    """One hole. Distances from its middle, mm; `from_heart_mm` from its rim, None where unknown.

    `to_edge_mm` is square to the grain and `to_end_mm` along it, whichever way is nearer.
    """

    number: int
    hole: BoltHole
    to_edge_mm: float
    to_end_mm: float
    from_heart_mm: float | None
    flags: tuple[str, ...]


def check_holes(pattern: Pattern, grain_deg: float, heart: HeartLine | None) -> list[HoleCheck]:
    """Each hole in turn, with what speaks against it."""
    shape = outline_polygon(pattern)
    grain = math.radians(finite(grain_deg, "The direction of the grain"))
    found = []
    for number, hole in enumerate(pattern.holes, 1):
        end = _nearest(shape, hole, (grain, grain + math.pi))
        edge = _nearest(shape, hole, (grain + math.pi / 2, grain - math.pi / 2))
        off = None if heart is None else _off_line(hole, heart) - hole.diameter_mm / 2
        flags = (*_edge_flags(hole, edge, end), *_heart_flags(off))
        found.append(HoleCheck(number, hole, edge, end, off, flags))
    return found


def heart_along(pattern: Pattern, grain_deg: float, from_low_edge_mm: Sequence[float]) -> HeartLine:
    """A heart given as one measures it: up from the lower edge, at the left end and at the right.

    Left, right and low as the pattern lies with its grain level. Two figures, in mm; ValueError
    where the heart would lie outside the timber by more than its width.
    """
    grain = math.radians(finite(grain_deg, "The direction of the grain"))
    ux, uy = math.cos(grain), math.sin(grain)
    along = [x * ux + y * uy for x, y in pattern.outline_mm]
    across = [y * ux - x * uy for x, y in pattern.outline_mm]
    low, high = min(across), max(across)
    ends = []
    for at, up in zip((min(along), max(along)), from_low_edge_mm, strict=True):
        height = low + finite(up, "The heart's distance from the edge")
        if not 2 * low - high <= height <= 2 * high - low:
            raise ValueError(
                f"The heart lies {up:g} mm from the lower edge of a pattern {high - low:.0f} mm "
                "across: so far outside it is not in this timber."
            )
        ends.append((at * ux - height * uy, at * uy + height * ux))
    return HeartLine(ends[0], ends[1])


def _nearest(shape: shapely.Polygon, hole: BoltHole, ways: Sequence[float]) -> float:
    far = shape.exterior.length
    centre = shapely.Point(hole.x_mm, hole.y_mm)
    rays = [
        shapely.LineString(
            [(hole.x_mm, hole.y_mm), (hole.x_mm + far * math.cos(w), hole.y_mm + far * math.sin(w))]
        )
        for w in ways
    ]
    return min(float(centre.distance(ray.intersection(shape.exterior))) for ray in rays)


def _off_line(hole: BoltHole, heart: HeartLine) -> float:
    (x1, y1), (x2, y2) = heart.start_mm, heart.end_mm
    across = (x2 - x1) * (hole.y_mm - y1) - (y2 - y1) * (hole.x_mm - x1)
    return abs(across) / math.dist(heart.start_mm, heart.end_mm)


def _edge_flags(hole: BoltHole, edge: float, end: float) -> list[str]:
    d = hole.diameter_mm
    said = []
    if edge < LOADED_EDGE_DIAMETERS * d:
        least = "less than 1.5" if edge < EDGE_DIAMETERS * d else "less than 4"
        use = "for any load" if edge < EDGE_DIAMETERS * d else "where it pulls towards that edge"
        said.append(f"{_tenths(edge / d)} diameters from an edge, {least}: too near {use}")
    if end < END_DIAMETERS * d:
        said.append(
            f"{_tenths(end / d)} diameters of wood along the grain to where it runs out, less than "
            "7: short grain that may split out under a pull"
        )
    return said


def _tenths(diameters: float) -> str:
    """Cut and not rounded: 3.98 is less than 4 and is not said to be 4.0."""
    return f"{math.floor(diameters * 10 + 1e-9) / 10:.1f}"


def _heart_flags(off: float | None) -> list[str]:
    if off is None or off >= HEART_NEAR_MM:
        return []
    if off < 0:
        return ["goes through the heart, where the timber will check"]
    return [f"{off:.0f} mm from the heart: a check from the heart will find it"]
