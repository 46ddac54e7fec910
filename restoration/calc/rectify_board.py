"""Where four marks lie, from the sides and diagonals of the four-cornered figure they make."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares

Point = tuple[float, float]
SIDES = (("lower", 0, 1), ("right", 1, 2), ("upper", 2, 3), ("left", 3, 0))
DIAGONALS = (("from the lower left", 0, 2), ("from the lower right", 1, 3))

AGREE_MM = 1.0
"""Six distances taken to half a millimetre leave less than this over: our own limit."""
CONTRADICT_MM = 10.0
"""More left over than this is no slip of the rule but a distance misread: our own limit."""


@dataclass(frozen=True)
class Corners:
    """Lower left, lower right, upper right, upper left, mm, from the first along the lower side.

    `misfit_mm` is the most that a distance as typed differs from one between these corners; None
    where the distances typed cannot contradict each other.
    """

    places_mm: tuple[Point, Point, Point, Point]
    misfit_mm: float | None
    words: str

    @property
    def contradicts(self) -> bool:
        """Whether the distances do not fit together as well as they can be measured."""
        return self.misfit_mm is not None and self.misfit_mm > AGREE_MM


def corners_of_board(
    sides_mm: Sequence[float], diagonals_mm: Sequence[float | None] = ()
) -> Corners:
    """The corners from lower, right, upper and left side and one or both diagonals, mm.

    With both diagonals six distances settle five figures, and the corners are their least-squares
    best. With none, opposite sides must be equal, and the corners are taken for square: a board
    is only as square as its diagonals are equal. ValueError where no such figure exists, or where
    six distances contradict each other by more than CONTRADICT_MM.
    """
    across = [*diagonals_mm, None, None][:2]
    if len(sides_mm) != 4:
        raise ValueError("Give all four sides: lower, right, upper and left.")
    for value in (*sides_mm, *(d for d in across if d is not None)):
        if not math.isfinite(value) or value <= 0:
            raise ValueError("Every side and diagonal must be a length of more than nothing.")
    if across == [None, None]:
        return _rectangle(sides_mm)
    first = _by_triangles(list(sides_mm), across)
    if None in across:
        return Corners(first, None, "One diagonal settles the corners and is checked by nothing.")
    return _best(first, [*sides_mm, *(d for d in across if d is not None)])


def _rectangle(sides_mm: Sequence[float]) -> Corners:
    lower, right, upper, left = sides_mm
    if abs(lower - upper) > 0.5 or abs(left - right) > 0.5:
        raise ValueError(
            "Four sides that are not equal in pairs leave the corners loose: measure a diagonal "
            "too, better both."
        )
    return Corners(
        ((0, 0), (lower, 0), (lower, right), (0, right)),
        None,
        "Taken for square in its corners, without a diagonal to prove it.",
    )


def _by_triangles(
    sides: Sequence[float], across: Sequence[float | None]
) -> tuple[Point, Point, Point, Point]:
    """From the diagonal that is given; with both, the first one begins."""
    lower, right, upper, left = sides
    if across[0] is not None:
        c = _third(lower, across[0], right, "lower side, right side and")
        d = _beyond(c, across[0], left, upper)
        return (0.0, 0.0), (lower, 0.0), c, d
    assert across[1] is not None
    # The same board seen mirrored has its other diagonal for its first.
    b, a, d, c = _by_triangles([lower, left, upper, right], [across[1], None])
    del a, b
    return (0.0, 0.0), (lower, 0.0), (lower - c[0], c[1]), (lower - d[0], d[1])


def _third(base: float, from_start: float, from_end: float, what: str) -> Point:
    """The corner at these distances from both ends of a base along x, above it."""
    x = (base**2 + from_start**2 - from_end**2) / (2 * base)
    above = from_start**2 - x**2
    if above <= (0.01 * from_start) ** 2:
        raise ValueError(
            f"The {what} the diagonal make no triangle ({base:g}, {from_end:g} and "
            f"{from_start:g} mm): measure them again."
        )
    return x, math.sqrt(above)


def _beyond(c: Point, diagonal: float, left: float, upper: float) -> Point:
    """The fourth corner, on the other side of the diagonal from the second."""
    along, off = _third(diagonal, left, upper, "left side, upper side and")
    ux, uy = c[0] / diagonal, c[1] / diagonal
    return along * ux - off * uy, along * uy + off * ux


def _best(first: tuple[Point, Point, Point, Point], typed: Sequence[float]) -> Corners:
    pairs = [(i, j) for _, i, j in (*SIDES, *DIAGONALS)]

    def corners(free: np.ndarray) -> list[Point]:
        return [(0.0, 0.0), (free[0], 0.0), (free[1], free[2]), (free[3], free[4])]

    def off(free: np.ndarray) -> np.ndarray:
        at = corners(free)
        return np.array(
            [math.dist(at[i], at[j]) - d for (i, j), d in zip(pairs, typed, strict=True)]
        )

    start = np.array([first[1][0], *first[2], *first[3]])
    found = least_squares(off, start, method="lm")
    places = [(float(x), float(y)) for x, y in corners(found.x)]
    misfit = float(np.abs(off(found.x)).max())
    if misfit > CONTRADICT_MM:
        raise ValueError(
            f"The sides and diagonals contradict each other by {misfit:.0f} mm at the least: one "
            "of the six is misread. Measure them again."
        )
    words = f"Sides and diagonals agree to {misfit:.1f} mm."
    if misfit > AGREE_MM:
        words = (
            f"The sides and diagonals contradict each other: taken together they leave "
            f"{misfit:.1f} mm over, and one of them alone may be out by several times that. "
            "Measure them again; until then points are less sure than is told here."
        )
    return Corners((places[0], places[1], places[2], places[3]), misfit, words)
