"""The natural crook that would serve a bent timber better than straight grain.

Grain of a grown crook follows its bend. The bend is taken as the trade asks for it: a sweep (one
curve from end to end) or a knee (two straight arms with a turn between them). The way the middle
line runs is fitted by a line that is level, climbs evenly between two points and is level again,
so that the worst that is left is least. How the grain really turns in the throat of a knee, the
tree knows.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely

from restoration.calc.pattern_needs_midline import Floats, Midline
from restoration.calc.pattern_needs_runout import RunOut, run_out_of
from restoration.calc.pattern_needs_sizes import Point

LEAST_TURN_DEG = 4.0
"""Less than this from end to end is within what straight timber does: 1 in 28 at either end."""
KNEE_SHARE = 0.6
"""A turn within less than this share of the length is asked for as a knee."""
LEAST_KNEE_DEG = 25.0
TRIES = 24

Lengths = Callable[[float], str]


@dataclass(frozen=True)
class Crook:
    """What to ask for. `turn_deg` is the change of direction from one end to the other.

    `radius_mm` is that of the turn, `sweep_mm` the depth of the whole curve over its chord
    `chord_mm`, from end to end of the timber; `arms_mm` run from each end to where straight arms
    would meet. `width_mm` is the width of curved timber that the outline needs about the curve.
    `left` is the run-out that is left.
    """

    is_knee: bool
    turn_deg: float
    radius_mm: float
    chord_mm: float
    sweep_mm: float
    arms_mm: tuple[float, float]
    width_mm: float
    line_mm: tuple[Point, ...]
    left: RunOut

    @property
    def inside_deg(self) -> float:
        return 180.0 - abs(self.turn_deg)

    def words(self, length: Lengths) -> str:
        """What to ask the mill or the wood for."""
        if self.is_knee:
            one, two = self.arms_mm
            return (
                f"a grown knee of {self.inside_deg:.0f}°, arms {length(one)} and {length(two)} "
                f"from where they meet, at least {length(self.width_mm)} across"
            )
        return (
            f"a grown crook with {length(self.sweep_mm)} of sweep in {length(self.chord_mm)}, at "
            f"least {length(self.width_mm)} across"
        )


def natural_crook(line: Midline, outline_mm: tuple[Point, ...]) -> Crook | None:
    """The crook whose grain follows the line best; None where straight timber does as well."""
    runs = np.array(line.runs_deg)
    along = np.array(line.along_mm)
    level, turn, start, end = _fitted(along, runs)
    if abs(turn) < LEAST_TURN_DEG:
        return None
    share = np.clip((along - start) / (end - start), 0.0, 1.0)
    left = np.minimum(np.abs(runs - level - turn * share), 90.0)
    drawn = _drawn(line, _carried_on(line, level, turn, start, end))
    before, after = line.ends_mm
    return Crook(
        is_knee=end - start < KNEE_SHARE * line.length_mm and abs(turn) > LEAST_KNEE_DEG,
        turn_deg=turn,
        radius_mm=(end - start) / abs(math.radians(turn)),
        chord_mm=math.dist(drawn[0], drawn[-1]),
        sweep_mm=max(_off_chord(point, drawn[0], drawn[-1]) for point in drawn),
        arms_mm=_arms(before + start, line.length_mm - end + after, end - start, turn),
        width_mm=_width_about(drawn, outline_mm),
        line_mm=tuple(drawn),
        left=run_out_of(line, [float(a) for a in left]),
    )


def _fitted(along: Floats, runs: Floats) -> tuple[float, float, float, float]:
    """Level, turn, and where the turn starts and ends: least squares for each span, least worst."""
    length = along[-1]
    best, found = math.inf, (0.0, 0.0, 0.0, length)
    for i in range(TRIES):
        for j in range(i + 1, TRIES + 1):
            start, end = length * i / TRIES, length * j / TRIES
            share = np.clip((along - start) / (end - start), 0.0, 1.0)
            basis = np.column_stack((np.ones(len(along)), share))
            level, turn = np.linalg.lstsq(basis, runs, rcond=None)[0]
            worst = float(np.abs(runs - basis @ (level, turn)).max())
            if worst < best - 0.05:
                best, found = worst, (float(level), float(turn), start, end)
    return found


def _carried_on(
    line: Midline, level: float, turn: float, start: float, end: float
) -> tuple[Floats, Floats]:
    """Distances along the whole timber, its ends with it, and how the curve runs at each.

    A turn that reaches the end of what was judged is carried on evenly to the end of the timber.
    """
    before, after = line.ends_mm
    along = np.linspace(-before, line.length_mm + after, 101)
    share = (along - start) / (end - start)
    share = np.where((share < 0) & (start > 0), 0.0, share)
    share = np.where((share > 1) & (end < line.length_mm), 1.0, share)
    return along, np.asarray(level + turn * share)


def _drawn(line: Midline, curve: tuple[Floats, Floats]) -> list[Point]:
    """The curve itself, laid on the middle line so that both have their middle in one place."""
    along, runs = curve[0], np.radians(curve[1])
    steps, middle = np.diff(along), (runs[1:] + runs[:-1]) / 2
    points = np.zeros((len(along), 2))
    points[1:] = np.cumsum(
        np.column_stack((steps * np.cos(middle), steps * np.sin(middle))), axis=0
    )
    judged = (along >= 0) & (along <= line.length_mm)
    points += np.mean(line.points_mm, axis=0) - points[judged].mean(axis=0)
    return [(float(x), float(y)) for x, y in points]


def _arms(before: float, after: float, span: float, turn_deg: float) -> tuple[float, float]:
    """From each end to where the straight arms would meet."""
    half = abs(math.radians(turn_deg)) / 2
    beyond = span / (2 * half) * math.tan(half) if half < 1.4 else span / 2
    return before + beyond, after + beyond


def _width_about(curve: list[Point], outline_mm: tuple[Point, ...]) -> float:
    """Twice the furthest that the outline reaches from the curve, its ends carried straight on."""
    run = np.array(curve)
    first, last = run[0] - run[1], run[-1] - run[-2]
    far = 50.0 * len(run)
    run = np.vstack((run[0] + far * first, run, run[-1] + far * last))
    reach = shapely.distance(shapely.LineString(run), shapely.points(np.array(outline_mm)))
    return 2 * float(reach.max())


def _off_chord(point: Point, one: Point, two: Point) -> float:
    across = (two[0] - one[0]) * (point[1] - one[1]) - (two[1] - one[1]) * (point[0] - one[0])
    return abs(across) / max(math.dist(one, two), 1e-9)
