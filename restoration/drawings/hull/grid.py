"""The hull's curves looked up quickly, and the strips and bars that members are drawn as."""

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from restoration.calc import lines as calc
from restoration.calc.curves import Point
from restoration.calc.lines import Lines

Outline = tuple[Point, ...]
Height = Callable[[float], float]
STEPS = 72


@dataclass(frozen=True)
class Grid:
    """Heights and half breadths at many places along the hull; between them a straight line."""

    places: tuple[float, ...]
    sheers: tuple[float, ...]
    keels: tuple[float, ...]
    rabbets: tuple[float, ...]
    decks: tuple[float, ...]

    @property
    def start(self) -> float:
        return self.places[0]

    @property
    def end(self) -> float:
        return self.places[-1]

    @property
    def length(self) -> float:
        return self.end - self.start

    def sheer(self, at: float) -> float:
        return _between(self.places, self.sheers, at)

    def keel(self, at: float) -> float:
        return _between(self.places, self.keels, at)

    def rabbet(self, at: float) -> float:
        return _between(self.places, self.rabbets, at)

    def deck(self, at: float) -> float:
        return _between(self.places, self.decks, at)

    def span(self, start: float, end: float) -> list[float]:
        """The places of the grid within a stretch, its ends among them."""
        low, high = bisect_left(self.places, start), bisect_left(self.places, end)
        inner = [at for at in self.places[low:high] if start < at < end]
        return [start, *inner, end]


@lru_cache(maxsize=32)
def grid_of(lines: Lines) -> Grid:
    """The curves of a hull read off at even steps and at every control point."""
    start, length = lines.sheer.start_mm, lines.length_mm
    even = (start + length * step / STEPS for step in range(STEPS + 1))
    corners = (at for curve in (lines.sheer, lines.profile) for at, _ in curve.points)
    places = tuple(sorted({*even, *corners}))
    return Grid(
        places,
        tuple(calc.sheer_height(lines, at) for at in places),
        tuple(calc.keel_height(lines, at) for at in places),
        tuple(calc.rabbet_height(lines, at) for at in places),
        tuple(calc.deck_half_breadth(lines, at) for at in places),
    )


def _between(places: Sequence[float], values: Sequence[float], at: float) -> float:
    high = min(max(bisect_left(places, at), 1), len(places) - 1)
    low = high - 1
    part = (at - places[low]) / (places[high] - places[low])
    part = min(max(part, 0.0), 1.0)
    return values[low] + (values[high] - values[low]) * part


def band(places: Sequence[float], low: Height, high: Height) -> Outline:
    """Between two edges along the hull."""
    return (
        *((at, low(at)) for at in places),
        *((at, high(at)) for at in reversed(places)),
    )


def bar(at: float, width: float, low: float, high: float) -> Outline:
    """A member that stands across the hull, seen on its side."""
    left, right = at - width / 2, at + width / 2
    return ((left, low), (right, low), (right, high), (left, high))


def strip(path: Sequence[Point], near: float, far: float) -> Outline:
    """Along an edge, from `near` to `far` inside it: as a stem lies on the outer edge of a bow.

    Inside is to the left of the path as one goes along it.
    """
    normals = [_normal(path, number) for number in range(len(path))]

    def inside(distance: float) -> Iterable[Point]:
        for (x, y), (across, up) in zip(path, normals, strict=True):
            yield x + across * distance, y + up * distance

    return (*inside(near), *reversed(tuple(inside(far))))


def _normal(path: Sequence[Point], number: int) -> Point:
    (x0, y0), (x1, y1) = path[max(number - 1, 0)], path[min(number + 1, len(path) - 1)]
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    return -(y1 - y0) / length, (x1 - x0) / length
