"""Lines and curves that meet end to end, joined into one; those that close, as loops."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon

from restoration.calc.pattern import Point
from restoration.calc.pattern_dxf.flat import Run

MOST_AT_ONE_PLACE = 60


@dataclass(frozen=True)
class Loop:
    """A closed line, its first corner not repeated. `layer` is that of its first piece."""

    layer: str
    points_mm: tuple[Point, ...]

    @property
    def area_mm2(self) -> float:
        return float(Polygon(self.points_mm).area)

    @property
    def size_mm(self) -> tuple[float, float]:
        return size_of(self.points_mm)


@dataclass(frozen=True)
class OpenLine:
    layer: str
    points_mm: tuple[Point, ...]

    @property
    def gap_mm(self) -> float:
        """How far apart its ends lie."""
        return math.dist(self.points_mm[0], self.points_mm[-1])


def size_of(points: Sequence[Point]) -> tuple[float, float]:
    """Length along and across of the box round the points, in their own unit."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def chained(runs: Sequence[Run], gap_mm: float) -> tuple[list[Loop], list[OpenLine]]:
    """All runs joined wherever ends lie within `gap_mm`: (loops, open lines), largest loop first.

    Where more than two ends meet, the runs are joined in the order in which they were drawn.
    Raises ValueError where more than MOST_AT_ONE_PLACE do.
    """
    loops, opened = [], []
    for layer, points in _joined(runs, gap_mm):
        corners = _thinned(points, gap_mm)
        if len(corners) > 3 and math.dist(corners[0], corners[-1]) <= gap_mm:
            loops.append(Loop(layer, tuple(corners[:-1])))
        elif len(corners) > 1:
            opened.append(OpenLine(layer, tuple(corners)))
    return sorted(loops, key=lambda loop: -loop.area_mm2), opened


def _joined(runs: Sequence[Run], gap_mm: float) -> list[tuple[str, list[Point]]]:
    ends = _Ends(gap_mm)
    waiting = dict(enumerate(runs))
    found = [(run.layer, list(run.points_mm)) for run in runs if run.closed]
    for number, run in enumerate(runs):
        if run.closed:
            del waiting[number]
        else:
            ends.put(number, run)
    while waiting:
        number, run = next(iter(waiting.items()))
        del waiting[number]
        points = list(run.points_mm)
        _grow(points, waiting, ends)
        points.reverse()
        _grow(points, waiting, ends)
        found.append((run.layer, points[::-1]))
    return found


def _grow(points: list[Point], waiting: dict[int, Run], ends: "_Ends") -> None:
    """Add at the end whatever begins or ends there, until nothing does or it has closed."""
    while len(points) < 3 or math.dist(points[0], points[-1]) > ends.gap_mm:
        met = ends.at(points[-1], waiting)
        if met is None:
            return
        number, backwards = met
        more = waiting.pop(number).points_mm
        points += more[::-1] if backwards else more


class _Ends:
    """Finds the ends near a point: they lie in squares as wide as the gap that is closed."""

    def __init__(self, gap_mm: float):
        self.gap_mm = gap_mm
        self.squares: dict[tuple[int, int], list[tuple[int, bool, Point]]] = defaultdict(list)

    def put(self, number: int, run: Run) -> None:
        for backwards, point in ((False, run.points_mm[0]), (True, run.points_mm[-1])):
            square = self.squares[self._square(point)]
            square.append((number, backwards, point))
            if len(square) > MOST_AT_ONE_PLACE:
                raise ValueError(
                    f"More than {MOST_AT_ONE_PLACE} lines end at one place, near "
                    f"({point[0]:.0f}, {point[1]:.0f}): this is no outline. Save the pattern alone."
                )

    def at(self, point: Point, waiting: dict[int, Run]) -> tuple[int, bool] | None:
        """The nearest end of a run still waiting: its number, and whether it is the run's last."""
        left, low = self._square(point)
        near = [
            (math.dist(point, end), number, backwards)
            for column in (left - 1, left, left + 1)
            for row in (low - 1, low, low + 1)
            for number, backwards, end in self.squares.get((column, row), ())
            if number in waiting and math.dist(point, end) <= self.gap_mm
        ]
        return min(near)[1:] if near else None

    def _square(self, point: Point) -> tuple[int, int]:
        return math.floor(point[0] / self.gap_mm), math.floor(point[1] / self.gap_mm)


def _thinned(points: Sequence[Point], gap_mm: float) -> list[Point]:
    """Without the second of two points that are the same but for rounding, or a joined gap."""
    kept = [points[0]]
    for point in points[1:-1]:
        if math.dist(kept[-1], point) > min(gap_mm, 0.01):
            kept.append(point)
    return [*kept, points[-1]]
