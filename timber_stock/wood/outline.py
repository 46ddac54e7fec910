"""The outline of a section: a closed run of corners, and where a point lies against it.

Inside the wood modules a point is a complex number, x + iy in millimetres: turning, dividing
angles and measuring lengths are then single operations on a whole array.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from timber_stock.wood.checked import finite, positive

Point = tuple[float, float]
Outline = Sequence[Point]
Corners = NDArray[np.complex128]

FARTHEST_MM = 1e9
"""No coordinate of a section or a pith is taken beyond this; a larger one is a slip of the pen."""

ON_EDGE = 1e-9
"""A point nearer an edge than this share of the section's size counts as lying on it."""


@dataclass(frozen=True)
class Place:
    """Where a point lies against an outline: inside, on the edge, or outside, and how near."""

    inside: bool
    on_edge: bool
    edge: int
    nearest: complex
    distance_mm: float


def as_complex(point_mm: Point, what: str) -> complex:
    """Read an (x, y) pair in millimetres as x + iy, or raise ValueError naming `what`."""
    try:
        x, y = point_mm
    except (TypeError, ValueError):
        raise ValueError(f"{what} must be a pair of numbers (x, y), not {point_mm!r}.") from None
    x, y = finite(x, f"{what} (x)"), finite(y, f"{what} (y)")
    if max(abs(x), abs(y)) > FARTHEST_MM:
        raise ValueError(f"{what} lies more than {FARTHEST_MM:g} mm away: that is a slip.")
    return complex(x, y)


def as_points(corners: Corners) -> tuple[Point, ...]:
    """Complex corners back as plain (x, y) pairs."""
    return tuple(zip(corners.real.tolist(), corners.imag.tolist(), strict=True))


def cross(a: Corners | complex, b: Corners | complex) -> NDArray[np.float64]:
    """Twice the signed area of the triangle 0, a, b; positive when b lies counter-clockwise."""
    return np.asarray(np.imag(np.conj(a) * b), dtype=np.float64)


def corners_of(outline_mm: Outline) -> Corners:
    """Read an outline: (x, y) pairs in mm, in order round the section, either way about.

    A corner given twice running, and a last corner that repeats the first, count once. Raises
    ValueError for fewer than three corners, numbers that are not finite, no area, or an outline
    that crosses, touches or doubles back on itself.
    """
    points = [as_complex(p, f"Corner {i + 1} of the outline") for i, p in enumerate(outline_mm)]
    corners = _without_repeats(np.array(points, dtype=np.complex128))
    if len(corners) < 3:
        raise ValueError("The outline needs at least three different corners to enclose wood.")
    _refuse_folding(corners)
    _refuse_crossing(corners)
    if abs(signed_area_mm2(corners)) < ON_EDGE * _size(corners) ** 2:
        raise ValueError("The outline encloses no area: its corners lie on one line.")
    return corners


def _size(corners: Corners) -> float:
    return float(max(np.ptp(corners.real), np.ptp(corners.imag)))


def _without_repeats(corners: Corners) -> Corners:
    if len(corners) < 2:
        return corners
    return corners[np.abs(corners - np.roll(corners, -1)) > ON_EDGE * _size(corners)]


def _refuse_folding(corners: Corners) -> None:
    edges = np.roll(corners, -1) - corners
    following = np.roll(edges, -1)
    turn = np.angle(following * np.conj(edges))
    if np.any(np.abs(turn) > math.pi - 1e-9):
        raise ValueError("The outline doubles back on itself: an edge runs over the one before it.")


def _refuse_crossing(corners: Corners) -> None:
    """No two edges that are not neighbours may meet: else inside and outside have no meaning."""
    a, b = corners, np.roll(corners, -1)
    for i in range(len(corners) - 2):
        last = len(corners) - 1 if i == 0 else len(corners)
        c, d = a[i + 2 : last], b[i + 2 : last]
        met = _meet(a[i], b[i], c, d)
        if met.any():
            j = i + 2 + int(np.argmax(met))
            raise ValueError(
                f"The outline crosses or touches itself: the edge after corner {i + 1} meets the "
                f"edge after corner {j + 1}. Give the corners in order round the section."
            )


def _meet(a: complex, b: complex, c: Corners, d: Corners) -> NDArray[np.bool_]:
    """Which of the segments c-d have a point in common with the segment a-b."""
    across_ab = cross(b - a, c - a) * cross(b - a, d - a) <= 0
    across_cd = cross(d - c, a - c) * cross(d - c, b - c) <= 0
    overlap = np.ones(len(c), dtype=np.bool_)
    for part in (np.real, np.imag):
        low, high = np.minimum(part(c), part(d)), np.maximum(part(c), part(d))
        overlap &= (high >= min(part(a), part(b))) & (low <= max(part(a), part(b)))
    return np.asarray(across_ab & across_cd & overlap, dtype=np.bool_)


def signed_area_mm2(corners: Corners) -> float:
    """Area in mm2; positive when the corners run counter-clockwise."""
    local = corners - corners[0]
    return float(cross(local, np.roll(local, -1)).sum() / 2)


def centroid(corners: Corners) -> complex:
    """The point the section would balance on."""
    local = corners - corners[0]
    following = np.roll(local, -1)
    weight = cross(local, following)
    return complex(corners[0] + ((local + following) * weight).sum() / (3 * weight.sum()))


def place_of(corners: Corners, point: complex) -> Place:
    """Whether the point is inside, on or outside the outline, and the nearest point of the edge.

    Of edges equally near, the first in order is named, so that the answer turns with the log.
    """
    a, edge = corners - point, np.roll(corners, -1) - corners
    share = np.clip(-np.real(a * np.conj(edge)) / np.abs(edge) ** 2, 0.0, 1.0)
    foot = a + share * edge
    distance = np.abs(foot)
    least = float(distance.min())
    slack = ON_EDGE * _size(corners)
    nearest = int(np.argmax(distance <= least + slack))
    on_edge = least <= slack
    inside = not on_edge and abs(float(turns_between(a, np.roll(a, -1)).sum())) > math.pi
    return Place(inside, on_edge, nearest, complex(point + foot[nearest]), least)


def turns_between(start: Corners, end: Corners) -> NDArray[np.float64]:
    """Angle in radians, seen from the origin, swept in going straight from each start to its end.

    The cross product is taken with the step, not the end, so that a far origin costs no accuracy.
    A step that begins or ends at the origin itself sweeps nothing; the sign of nought must not say
    otherwise.
    """
    swept = np.arctan2(cross(start, end - start), np.real(end * np.conj(start)))
    return np.where((start == 0) | (end == 0), 0.0, swept)


def rectangle_mm(
    low_corner_mm: Point, width_mm: float, height_mm: float, turned_deg: float = 0.0
) -> tuple[Point, ...]:
    """A rectangle by its low corner and sides, turned counter-clockwise about that corner."""
    corner = as_complex(low_corner_mm, "The corner of the rectangle")
    width = positive(width_mm, "The width of the rectangle in mm")
    height = positive(height_mm, "The height of the rectangle in mm")
    turn = np.exp(1j * math.radians(finite(turned_deg, "The turn of the rectangle")))
    sides = np.array([0, width, width + 1j * height, 1j * height])
    return as_points(corner + sides * turn)
