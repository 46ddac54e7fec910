"""The true picture of a board: how large it is drawn, and where each part of it comes from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from restoration.calc.rectify import Floats, Mark, Plane, to_mm, to_px

LONGEST_PX = 2400
ROUND_MARKS = 0.3
"""How far beyond the marks the picture reaches, as a share of their longest side."""
CELL_PX = 24
"""Within a cell the picture is stretched evenly; so small, that is right to a tenth of a pixel."""
LEAST_AHEAD = 0.35
"""Where the board is seen smaller than this share of what it is at the marks, nothing is drawn."""

Box = tuple[int, int, int, int]
Corners = tuple[float, ...]


@dataclass(frozen=True)
class Sheet:
    """A true picture: its upper left corner on the board, and how much of it one pixel is."""

    left_mm: float
    top_mm: float
    mm_per_px: float
    width_px: int
    height_px: int

    @property
    def right_mm(self) -> float:
        return self.left_mm + self.width_px * self.mm_per_px


def sheet_of(plane: Plane, marks: Sequence[Mark]) -> Sheet:
    """The sheet round the marks that shows what the photograph shows, LONGEST_PX at most.

    It reaches ROUND_MARKS beyond the marks, but not where the photograph ends. A pixel is no
    finer than one of the photograph's at its finest.
    """
    places = np.array([(mark.x_mm, mark.y_mm) for mark in marks])
    low, high = places.min(axis=0), places.max(axis=0)
    more = ROUND_MARKS * float((high - low).max())
    low, high = _seen_part(plane, low - more, high + more)
    wide, tall = float(high[0] - low[0]), float(high[1] - low[1])
    per_px = max(max(wide, tall) / LONGEST_PX, _finest(plane, places))
    return Sheet(
        float(low[0]),
        float(high[1]),
        per_px,
        max(1, int(wide / per_px)),
        max(1, int(tall / per_px)),
    )


def cells(sheet: Sheet, plane: Plane) -> list[tuple[Box, Corners]]:
    """Each cell of the sheet (left, top, right, bottom) with its corners in the photograph.

    The corners run upper left, lower left, lower right, upper right, x then y, in pixels. A cell
    behind the board's vanishing line, or wholly off the photograph, is left out.
    """
    xs = _cuts(sheet.width_px)
    ys = _cuts(sheet.height_px)
    grid = np.array([(x, y) for y in ys for x in xs], dtype=np.float64)
    true = np.column_stack(
        (sheet.left_mm + grid[:, 0] * sheet.mm_per_px, sheet.top_mm - grid[:, 1] * sheet.mm_per_px)
    )
    seen = to_px(plane, true)
    ahead = _ahead(plane, true)
    across = len(xs)
    found = []
    for row in range(len(ys) - 1):
        for column in range(across - 1):
            first = row * across + column
            four = [first, first + across, first + across + 1, first + 1]
            if (ahead[four] > LEAST_AHEAD).all() and _touches(seen[four], plane):
                box = (int(xs[column]), int(ys[row]), int(xs[column + 1]), int(ys[row + 1]))
                found.append((box, tuple(float(n) for n in seen[four].ravel())))
    return found


def _cuts(length_px: int) -> list[int]:
    return [*range(0, length_px, CELL_PX), length_px]


def _ahead(plane: Plane, true: Floats) -> Floats:
    """How large the board is seen there, the origin of the fit's own scale being one."""
    matrix = plane.matrix()
    depth = true @ matrix[2, :2] + matrix[2, 2]
    middle = np.linalg.inv(matrix) @ np.array([0.0, 0.0, 1.0])
    at_middle = float(matrix[2, :2] @ (middle[:2] / middle[2]) + matrix[2, 2])
    return np.asarray(at_middle / np.where(np.abs(depth) < 1e-12, 1e-12, depth))


def _touches(corners: Floats, plane: Plane) -> bool:
    left, top = corners.min(axis=0)
    right, bottom = corners.max(axis=0)
    return bool(right > 0 and bottom > 0 and left < plane.width_px and top < plane.height_px)


def _seen_part(plane: Plane, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """The box cut down to what of it the photograph shows, found on a grid of 40 by 40."""
    xs, ys = np.linspace(low[0], high[0], 41), np.linspace(low[1], high[1], 41)
    grid = np.array([(x, y) for y in ys for x in xs])
    seen = to_px(plane, grid)
    inside = (seen >= 0).all(axis=1) & (seen <= (plane.width_px, plane.height_px)).all(axis=1)
    shown = grid[inside & (_ahead(plane, grid) > LEAST_AHEAD)]
    if len(shown) < 2:
        raise ValueError("Next to nothing of the board is on the photograph.")
    step = np.array([xs[1] - xs[0], ys[1] - ys[0]])
    return np.maximum(low, shown.min(axis=0) - step), np.minimum(high, shown.max(axis=0) + step)


def _finest(plane: Plane, places: Floats) -> float:
    """The millimetres of one pixel where the photograph is at its finest, among the marks."""
    seen = to_px(plane, places)
    steps = [to_mm(plane, seen + np.array(way)) - places for way in ([1.0, 0.0], [0.0, 1.0])]
    return float(min(np.hypot(step[:, 0], step[:, 1]).min() for step in steps))
