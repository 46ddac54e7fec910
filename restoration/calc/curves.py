"""A curve along the hull through control points: smooth, and never past its neighbours.

Monotone piecewise-cubic interpolation (F. N. Fritsch and J. Butland, SIAM Journal on Scientific
and Statistical Computing 5, 1984): between two control points the curve stays between their
heights, so that a moved point bends the line near it and throws no wave along the hull.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from restoration.calc.checks import finite

Point = tuple[float, float]

_ROUNDING_MM = 1e-6
"""The last of ten equal spaces may end a rounding beyond the hull; it is still on it."""


@dataclass(frozen=True)
class Curve:
    """Control points (along the hull, height or half breadth), mm, from forward to aft.

    name is how a person knows the curve: "sheer", "keel profile". Raises ValueError for fewer
    than two points, a figure that is no number, or points that double back.
    """

    name: str
    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ValueError(f"The {self.name} needs two points or more.")
        for along, value in self.points:
            finite(along, f"place of a point of the {self.name}")
            finite(value, f"height or breadth of a point of the {self.name}")
        for (before, _), (after, _) in pairwise(self.points):
            if after <= before:
                raise ValueError(
                    f"The {self.name} doubles back: {after:g} mm comes after {before:g} mm. "
                    "Each point must lie further aft than the one before."
                )

    @property
    def start_mm(self) -> float:
        return self.points[0][0]

    @property
    def end_mm(self) -> float:
        return self.points[-1][0]

    def at(self, along_mm: float) -> float:
        """Height or half breadth at a place along the hull, mm. Raises ValueError off the curve."""
        along = finite(along_mm, f"place along the {self.name}")
        if not self.start_mm - _ROUNDING_MM <= along <= self.end_mm + _ROUNDING_MM:
            raise ValueError(
                f"The {self.name} runs from {self.start_mm:g} to {self.end_mm:g} mm; "
                f"{along:g} mm is off it."
            )
        return _hermite(self.points, min(max(along, self.start_mm), self.end_mm))

    def polyline(self, parts: int = 12) -> tuple[Point, ...]:
        """Points to draw it by: every control point, and `parts` steps between each two."""
        if parts < 1:
            raise ValueError("A curve is drawn in one part or more between its points.")
        drawn = [
            (a + (b - a) * step / parts, _hermite(self.points, a + (b - a) * step / parts))
            for (a, _), (b, _) in pairwise(self.points)
            for step in range(parts)
        ]
        return (*drawn, self.points[-1])


def moved(curve: Curve, index: int, to: Point) -> Curve:
    """The curve with one control point moved. The end points keep their place along the hull.

    Raises ValueError for a point that is not there, or one moved past its neighbour.
    """
    return all_moved(curve, {index: to})


def all_moved(curve: Curve, moves: Mapping[int, Point]) -> Curve:
    """The curve with several control points moved at once, by their numbers; else as `moved`."""
    points = list(curve.points)
    for index, to in moves.items():
        if not 0 <= index < len(points):
            raise ValueError(f"The {curve.name} has no point number {index}.")
        at_an_end = index in (0, len(points) - 1)
        points[index] = (points[index][0], to[1]) if at_an_end else to
    return Curve(curve.name, tuple(points))


def _hermite(points: tuple[Point, ...], along: float) -> float:
    """The cubic between the two control points round `along` that has their slopes."""
    at = min(max(bisect_right(points, along, key=lambda point: point[0]), 1), len(points) - 1)
    (a, start), (b, end) = points[at - 1], points[at]
    slopes = _slopes(points)
    length = b - a
    t = (along - a) / length
    return (
        start * (1 + 2 * t) * (1 - t) ** 2
        + end * t * t * (3 - 2 * t)
        + slopes[at - 1] * length * t * (1 - t) ** 2
        - slopes[at] * length * t * t * (1 - t)
    )


@cache
def _slopes(points: tuple[Point, ...]) -> tuple[float, ...]:
    chords = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(points)]
    lengths = [b[0] - a[0] for a, b in pairwise(points)]
    inner = [_middle(chords[i : i + 2], lengths[i : i + 2]) for i in range(len(chords) - 1)]
    first = _end(chords[:2], lengths[:2])
    last = _end(chords[-2:][::-1], lengths[-2:][::-1])
    return (first, *inner, last)


def _middle(chords: Sequence[float], lengths: Sequence[float]) -> float:
    """Weighted harmonic mean of the slopes either side; level at a crest or a hollow."""
    if chords[0] * chords[1] <= 0:
        return 0.0
    near, far = 2 * lengths[1] + lengths[0], lengths[1] + 2 * lengths[0]
    return (near + far) / (near / chords[0] + far / chords[1])


def _end(chords: Sequence[float], lengths: Sequence[float]) -> float:
    """Three-point slope at an end, held so that the curve does not overshoot there."""
    if len(chords) == 1:
        return chords[0]
    (near, next_), (here, there) = chords, lengths
    slope = ((2 * here + there) * near - here * next_) / (here + there)
    if slope * near <= 0:
        return 0.0
    if near * next_ <= 0 and abs(slope) > 3 * abs(near):
        return 3 * near
    return slope
