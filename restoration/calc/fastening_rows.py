"""Holes gathered into rows along a direction: the grain, or the load."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from restoration.calc.fastening_face import Hole


@dataclass(frozen=True)
class Row:
    """Where a row lies across its direction, and its holes along it in order, mm."""

    across_mm: float
    along_mm: tuple[float, ...]

    @property
    def gaps_mm(self) -> tuple[float, ...]:
        return tuple(later - earlier for earlier, later in pairwise(self.along_mm))

    def __len__(self) -> int:
        return len(self.along_mm)


def rows_along(holes: Sequence[Hole], direction_deg: float) -> tuple[Row, ...]:
    """The rows that run in a direction, from the face's length, counter-clockwise as it is drawn.

    Holes belong to one row when they lie within half a diameter of its first, across it.
    """
    rows: list[tuple[float, float, list[float]]] = []
    for hole in sorted(holes, key=lambda each: (each.x_mm, each.y_mm)):
        along, across = turned(hole, direction_deg)
        for place, width, row in rows:
            if abs(place - across) <= width / 2:
                row.append(along)
                break
        else:
            rows.append((across, hole.diameter_mm, [along]))
    return tuple(Row(across, tuple(sorted(row))) for across, _, row in rows)


def turned(hole: Hole, direction_deg: float) -> tuple[float, float]:
    """A hole's place along a direction and across it, mm."""
    angle = math.radians(direction_deg)
    along = hole.x_mm * math.cos(angle) + hole.y_mm * math.sin(angle)
    return along, -hole.x_mm * math.sin(angle) + hole.y_mm * math.cos(angle)


def apart_from_next(hole: Hole, rows: Sequence[Row], direction_deg: float) -> float:
    """How far the row a hole is in lies from the next one, mm; 0 where there is no other."""
    across = turned(hole, direction_deg)[1]
    own = min(rows, key=lambda row: abs(row.across_mm - across))
    others = [abs(row.across_mm - own.across_mm) for row in rows if row is not own]
    return min(others, default=0.0)
