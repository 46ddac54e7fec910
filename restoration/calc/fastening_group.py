"""Several fastenings that carry together, by EN 1995-1-1: how many a row counts for."""

import math
from collections.abc import Sequence

from restoration.calc.checks import above_zero, whole_number
from restoration.calc.fastening_face import Hole
from restoration.calc.fastening_rows import Row, rows_along


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


def _least_apart(row: Row) -> float:
    return max(min(row.gaps_mm, default=0.0), 1e-6)
