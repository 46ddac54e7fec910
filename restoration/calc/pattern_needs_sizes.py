"""The smallest squared piece and the smallest flitch that a pattern comes out of."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Blank:
    """A rectangle round a pattern. `turned_deg` is the way its length runs, from the pattern's x
    counter-clockwise, above -90 and up to 90. `corners_mm` run counter-clockwise."""

    length_mm: float
    width_mm: float
    turned_deg: float
    corners_mm: tuple[Point, Point, Point, Point]

    @property
    def area_mm2(self) -> float:
        return self.length_mm * self.width_mm


def blank_along(points_mm: Sequence[Point], direction_deg: float) -> Blank:
    """The smallest rectangle whose length runs that way, even where it is longer across."""
    runs_deg = folded_deg(direction_deg)
    turn = math.radians(runs_deg)
    ux, uy = math.cos(turn), math.sin(turn)
    along = [x * ux + y * uy for x, y in points_mm]
    across = [y * ux - x * uy for x, y in points_mm]
    left, right, low, high = min(along), max(along), min(across), max(across)
    corners = [
        (s * ux - t * uy, s * uy + t * ux)
        for s, t in ((left, low), (right, low), (right, high), (left, high))
    ]
    return Blank(
        right - left,
        high - low,
        runs_deg,
        (corners[0], corners[1], corners[2], corners[3]),
    )


def smallest_rectangle(points_mm: Sequence[Point]) -> Blank:
    """The rectangle of least area round a pattern, at any angle, its length the longer side.

    One of its sides lies on a side of the convex hull (Freeman and Shapira 1975, from memory), so
    trying each is enough.
    """
    sides, lengths, widths = _on_each_side(points_mm)
    return _blank_on(sides, lengths * widths, widths)


def smallest_flitch(points_mm: Sequence[Point]) -> Blank:
    """The narrowest pair of parallel edges round a pattern, its length along them.

    One of the two lies on a side of the convex hull (as above).
    """
    sides, lengths, widths = _on_each_side(points_mm)
    return _blank_on(sides, widths, lengths)


def folded_deg(angle_deg: float) -> float:
    """The same line's direction above -90 and up to 90 degrees."""
    folded = math.fmod(angle_deg, 180.0)
    if folded > 90:
        return folded - 180
    return folded + 180 if folded <= -90 else folded


def hull(points_mm: Sequence[Point]) -> list[Point]:
    """The convex hull, counter-clockwise from its leftmost point (monotone chain)."""
    ordered = sorted(set(points_mm))
    return _chain(ordered)[:-1] + _chain(ordered[::-1])[:-1]


def _on_each_side(points_mm: Sequence[Point]) -> tuple[list[Point], Floats, Floats]:
    """The convex hull, and for each side of it the longer and shorter side of its rectangle."""
    corners = hull(points_mm)
    if len(corners) < 3:
        raise ValueError("An outline that encloses nothing comes out of no timber.")
    places = np.array(corners)
    spans = np.roll(places, -1, axis=0) - places
    turns = np.arctan2(spans[:, 1], spans[:, 0])
    on = [places[_furthest(turns, turns + quarter * math.pi / 2)] for quarter in range(4)]
    ways = spans / np.hypot(spans[:, 0], spans[:, 1])[:, None]
    along = np.sum((on[0] - on[2]) * ways, axis=1)
    across = np.sum((on[1] - on[3]) * np.column_stack((-ways[:, 1], ways[:, 0])), axis=1)
    return corners, np.maximum(along, across), np.minimum(along, across)


def _furthest(turns: Floats, towards: Floats) -> NDArray[np.intp]:
    """The corner of the hull that reaches furthest in each direction (radians): the one before
    whose side, of those that turn ever further left, the hull has not yet turned square to it."""
    turned = np.mod(turns - turns[0], 2 * math.pi)
    square = np.mod(towards + math.pi / 2 - turns[0], 2 * math.pi)
    found: NDArray[np.intp] = np.searchsorted(turned, square) % len(turns)
    return found


def _blank_on(corners: list[Point], least: Floats, then: Floats) -> Blank:
    """The rectangle on the side whose figure is least; where several are the same to a millionth
    of a millimetre, the one whose second figure is, and of those the first."""
    at = int(np.lexsort((np.round(then, 6), np.round(least, 6)))[0])
    (x, y), (u, v) = corners[at], corners[(at + 1) % len(corners)]
    blank = blank_along(corners, math.degrees(math.atan2(v - y, u - x)))
    if blank.length_mm < blank.width_mm:
        return blank_along(corners, blank.turned_deg + 90)
    return blank


def _chain(points: Sequence[Point]) -> list[Point]:
    chain: list[Point] = []
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain


def _turn(one: Point, two: Point, three: Point) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])
