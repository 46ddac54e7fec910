"""The plain figures of a pattern: how long, how broad, how much of it, how near its holes lie."""

import math
from dataclasses import dataclass
from itertools import pairwise

from shapely import Point as At

from restoration.calc.pattern import LINE_KINDS, Pattern, outline_polygon


@dataclass(frozen=True)
class HoleFigures:
    """`to_edge_mm` is from the rim of the hole to the nearest edge of the outline."""

    number: int
    x_mm: float
    y_mm: float
    diameter_mm: float
    to_edge_mm: float


@dataclass(frozen=True)
class Figures:
    """Length along x and breadth across it, of the outline; its area; each line's true length."""

    long_mm: float
    broad_mm: float
    area_mm2: float
    round_mm: float
    holes: tuple[HoleFigures, ...]
    lines: tuple[tuple[str, float], ...]


def figures(pattern: Pattern) -> Figures:
    """What can be said of a pattern that `checked` lets through, mm and mm² in its own frame."""
    shape = outline_polygon(pattern)
    left, low, right, high = shape.bounds
    holes = tuple(
        HoleFigures(
            number,
            hole.x_mm,
            hole.y_mm,
            hole.diameter_mm,
            float(shape.exterior.distance(At(hole.x_mm, hole.y_mm))) - hole.diameter_mm / 2,
        )
        for number, hole in enumerate(pattern.holes, 1)
    )
    lines = tuple(
        (LINE_KINDS[line.kind], sum(math.dist(a, b) for a, b in pairwise(line.points_mm)))
        for line in pattern.lines
    )
    return Figures(right - left, high - low, shape.area, shape.length, holes, lines)
