"""Several fastenings that carry together: rows, and how many a row counts for."""

import math
from collections.abc import Sequence
from itertools import pairwise

from restoration.calc.checks import above_zero, whole_number
from restoration.calc.fastening_layout import Hole


def effective_number(number: int, apart_mm: float, diameter_mm: float) -> float:
    """How many fastenings a row along the grain counts for: n**0.9 (a/(13 d))**0.25, at most n.

    EN 1995-1-1, loads along the grain, from memory. Raises ValueError for no fastening, and for a
    spacing or diameter not above 0.
    """
    n = whole_number(number, "number in the row")
    if n < 1:
        raise ValueError("A row has one fastening or more.")
    if n == 1:
        return 1.0
    spread = above_zero(apart_mm, "distance in the row") / (13 * above_zero(diameter_mm, "size"))
    return min(float(n), math.pow(n, 0.9) * math.pow(spread, 0.25))


def rows_along(holes: Sequence[Hole], grain_deg: float) -> tuple[tuple[float, ...], ...]:
    """Holes gathered into rows along the grain: of each row the places along it, mm, in order.

    Holes belong to one row when they lie within half a diameter of its first across the grain.
    """
    angle = math.radians(grain_deg)
    rows: list[tuple[float, float, list[float]]] = []
    for hole in sorted(holes, key=lambda each: (each.x_mm, each.y_mm)):
        along = hole.x_mm * math.cos(angle) + hole.y_mm * math.sin(angle)
        across = -hole.x_mm * math.sin(angle) + hole.y_mm * math.cos(angle)
        for place, width, row in rows:
            if abs(place - across) <= width / 2:
                row.append(along)
                break
        else:
            rows.append((across, hole.diameter_mm, [along]))
    return tuple(tuple(sorted(row)) for _, _, row in rows)


def counted(holes: Sequence[Hole], grain_deg: float, load_angle_deg: float) -> float:
    """How many of the holes count by EN 1995-1-1: rows along the grain for loads along it, all of
    them for loads across, between these in proportion to the angle (from memory)."""
    everyone = float(len(holes))
    if not holes:
        return 0.0
    diameter = max(hole.diameter_mm for hole in holes)
    along = sum(
        effective_number(len(row), _least_apart(row), diameter)
        for row in rows_along(holes, grain_deg)
    )
    return along + (everyone - along) * min(max(load_angle_deg, 0.0), 90.0) / 90


def _least_apart(row: tuple[float, ...]) -> float:
    gaps = [later - earlier for earlier, later in pairwise(row)]
    return max(min(gaps, default=0.0), 1e-6)
