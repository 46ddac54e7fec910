"""At which angles a piece is worth trying: the search turns it by these and no others."""

from __future__ import annotations

import math

import numpy as np

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Figures, off_grain_deg, turned
from restoration.calc.nesting_sheet import Sheet

SAME_DEG = 0.05
LEAST_SIDE_SHARE = 0.15
MOST_ANGLES = 9


def angles_of(piece: Piece, sheet: Sheet, *, mirrored: bool) -> tuple[float, ...]:
    """Angles within the piece's grain limit, the likeliest first, end for end left out.

    None at all; what makes its bounding rectangle least and narrowest; what lays one of its longer
    sides along the chalk line or along an edge of the face; the limits and half of them.
    """
    outline, limit = turned(np.array(piece.outline_mm), 0.0, mirrored), piece.turn_deg
    wanted = [0.0, *_least_boxes(outline, limit)]
    wanted += [edge - side for side in _side_angles(outline) for edge in _edge_angles(sheet)]
    wanted += [limit, -limit, limit / 2, -limit / 2]
    kept: list[float] = []
    for angle in (_from_the_grain(each) for each in wanted):
        if off_grain_deg(angle) <= limit and all(abs(angle - had) > SAME_DEG for had in kept):
            kept.append(angle)
    return tuple(kept[:MOST_ANGLES])


def _from_the_grain(angle_deg: float) -> float:
    """The same line of grain, -90 to 90."""
    return (angle_deg + 90.0) % 180.0 - 90.0


def _least_boxes(outline: Figures, limit: float) -> tuple[float, float]:
    """The angles of the least and of the narrowest bounding rectangle, in steps of a fortieth."""
    tried = np.linspace(-limit, limit, 41)
    sizes = np.array([np.ptp(turned(outline, float(a), False), axis=0) for a in tried])
    return float(tried[np.argmin(sizes.prod(axis=1))]), float(tried[np.argmin(sizes[:, 1])])


def _side_angles(outline: Figures) -> list[float]:
    sides = np.roll(outline, -1, axis=0) - outline
    long = np.hypot(sides[:, 0], sides[:, 1])
    least = LEAST_SIDE_SHARE * long.sum()
    kept = [n for n in np.argsort(-long, kind="stable")[:4] if long[n] >= least]
    return [math.degrees(math.atan2(sides[n, 1], sides[n, 0])) for n in kept]


def _edge_angles(sheet: Sheet) -> list[float]:
    first, last = sheet.stations[0], sheet.stations[-1]
    long = last.x_mm - first.x_mm
    left = math.degrees(math.atan2(last.left_mm - first.left_mm, long))
    right = math.degrees(math.atan2(first.right_mm - last.right_mm, long))
    return [0.0, left, right]
