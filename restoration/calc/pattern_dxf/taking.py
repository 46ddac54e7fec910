"""A pattern taken from a drawing, once a person has said what its units and layers are."""

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from shapely import MultiPoint, Polygon

from restoration.calc.pattern import (
    LINE_KINDS,
    LONGEST_MM,
    Bevel,
    BoltHole,
    Pattern,
    PatternLine,
    Point,
    checked,
    place_words,
)
from restoration.calc.pattern_dxf.chains import Loop, OpenLine, chained
from restoration.calc.pattern_dxf.flat import TOLERANCE_MM, Run
from restoration.calc.pattern_dxf.layers import BEVELS, GRAIN, HOLES, OUTLINE
from restoration.calc.pattern_dxf.reading import Drawing

Placing = Callable[[Point], Point]

GAP_MM = 0.1
WIDEST_GAP_MM = 25.0
FLAT_ENOUGH_MM = 0.5
"""A line that looks this much shorter from above than it is gives no true shape."""
ROUND_ENOUGH = 0.9
"""A hole fills so much of the circle round it: a square whose corners lie on one fills 0.64."""
_BEVEL = re.compile(r"bevel\s*([-+−]?\d+(?:[.,]\d+)?)", re.IGNORECASE)


class SeveralOutlines(ValueError):
    """More than one closed line could be the outline; they stand in `loops`, largest first."""

    def __init__(self, loops: Sequence[Loop]):
        self.loops = tuple(loops)
        super().__init__(
            f"{len(loops)} closed lines could be the outline: say which it is, or set the layers "
            "so that only one remains."
        )


@dataclass(frozen=True)
class Asked:
    """What the person says. `uses` gives each layer a key of USES; `outline` counts from 0.

    `grain_deg` is None where the grain is as a line on a grain layer shows it, else along x.
    """

    mm_per_unit: float
    sided_mm: float
    uses: Mapping[str, str]
    outline: int | None = None
    gap_mm: float = GAP_MM
    lay_along: bool = False
    grain_deg: float | None = None


@dataclass
class _Sorted:
    """The curves of a drawing by what they are for."""

    outline: list[Run] = field(default_factory=list)
    lines: dict[str, list[Run]] = field(default_factory=dict)
    holes: list[Run] = field(default_factory=list)
    grain: list[Run] = field(default_factory=list)


def pattern_from(drawing: Drawing, flat: Sequence[Run], asked: Asked) -> Pattern:
    """The pattern, checked, in the drawing's own place.

    `flat` are the drawing's runs in mm. Every circle on a layer that is used is a bolt hole. With
    `lay_along` it is turned so that its longest way lies along x and moved so that it begins at
    (0, 0); so it is moved, too, where the drawing lies further than LONGEST_MM from its zero.

    Raises SeveralOutlines, and ValueError where the outline does not close, a line does not lie
    flat, a hole is not round or not inside, or `checked` refuses.
    """
    if not 0 < asked.gap_mm <= WIDEST_GAP_MM:
        raise ValueError(f"Gaps are closed up to {WIDEST_GAP_MM:g} mm at most.")
    found = _sorted(flat, asked.uses)
    _refuse_what_slopes(found)
    outline = outline_of(found.outline, asked)
    to = _placing(outline, asked.lay_along)
    holes = [_hole(run) for run in found.holes]
    return checked(
        Pattern(
            outline_mm=tuple(map(to, outline)),
            sided_mm=asked.sided_mm,
            lines=tuple(_lines(found.lines, asked.gap_mm, to)),
            holes=tuple(BoltHole(*to((h.x_mm, h.y_mm)), h.diameter_mm) for h in holes),
            bevels=_bevels(drawing, asked, to),
            grain_deg=_grain(found.grain, to) if asked.grain_deg is None else asked.grain_deg,
        )
    )


def outline_of(runs: Sequence[Run], asked: Asked) -> tuple[Point, ...]:
    """The loop that is the outline: the one there is, or the one asked for by number.

    Raises ValueError where no loop closes, SeveralOutlines where it must be chosen.
    """
    loops, opened = chained(runs, asked.gap_mm)
    if not loops:
        raise ValueError(_not_closed(opened))
    if len(loops) > 1 and asked.outline is None:
        raise SeveralOutlines(loops)
    number = asked.outline or 0
    if not 0 <= number < len(loops):
        raise SeveralOutlines(loops)
    return loops[number].points_mm


def _sorted(flat: Sequence[Run], uses: Mapping[str, str]) -> _Sorted:
    found = _Sorted()
    for run in flat:
        use = uses.get(run.layer)
        if use == GRAIN:
            found.grain.append(run)
        elif use == HOLES or (run.centre_mm and (use == OUTLINE or use in LINE_KINDS)):
            found.holes.append(run)
        elif use == OUTLINE:
            found.outline.append(run)
        elif use in LINE_KINDS:
            found.lines.setdefault(str(use), []).append(run)
    return found


def _refuse_what_slopes(found: _Sorted) -> None:
    used = [*found.outline, *(run for runs in found.lines.values() for run in runs), *found.holes]
    worst = max(used, key=lambda run: run.shortened_mm, default=None)
    if worst is not None and worst.shortened_mm > FLAT_ENOUGH_MM:
        raise ValueError(
            f"A line on layer “{worst.layer}” does not lie flat: seen from above it is "
            f"{worst.shortened_mm:.1f} mm shorter than it is. Turn the pattern flat in the "
            "drawing, or leave the layer out."
        )


def _not_closed(opened: Sequence[OpenLine]) -> str:
    if not opened:
        return "No layer that holds a line is taken for the outline: say which one is."
    longest = max(opened, key=lambda line: _length(line.points_mm))
    (x, y), (u, v) = longest.points_mm[0], longest.points_mm[-1]
    return (
        f"The outline does not close: its longest part begins at {place_words(x, y)}, and ends "
        f"at {place_words(u, v)}; the ends lie {_gap_words(longest.gap_mm)} apart. Close it in "
        "the drawing, take another layer into the outline, or let wider gaps be closed."
    )


def _gap_words(gap_mm: float) -> str:
    """A small one spelt out, so that no page tells it in sixteenths of an inch."""
    return f"{gap_mm:.2f} millimetres" if gap_mm <= WIDEST_GAP_MM else f"{gap_mm:.0f} mm"


def _length(points: Sequence[Point]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(points))


def _lines(by_kind: Mapping[str, list[Run]], gap_mm: float, to: Placing) -> list[PatternLine]:
    found = []
    for kind, runs in by_kind.items():
        loops, opened = chained(runs, gap_mm)
        drawn = [(*loop.points_mm, loop.points_mm[0]) for loop in loops]
        drawn += [line.points_mm for line in opened]
        found += [PatternLine(kind, tuple(map(to, points))) for points in drawn]
    return found


def _hole(run: Run) -> BoltHole:
    if run.centre_mm:
        return BoltHole(*run.centre_mm, run.diameter_mm)
    count = max(len(run.points_mm) - 1, 1)
    points = run.points_mm[:count]
    x, y = (sum(point[axis] for point in points) / count for axis in (0, 1))
    radii = [math.dist((x, y), point) for point in points]
    filled = Polygon(points).area if count > 2 else 0.0
    uneven = max(radii) - min(radii) > max(4 * TOLERANCE_MM, 0.02 * max(radii))
    if not run.closed or uneven or filled < ROUND_ENOUGH * math.pi * max(radii) ** 2:
        raise ValueError(
            f"On layer “{run.layer}”, near {place_words(x, y)}, there is a line that is no "
            "full circle: a bolt hole is round. Give the layer another meaning, or leave it out."
        )
    return BoltHole(x, y, 2 * max(radii))


def _bevels(drawing: Drawing, asked: Asked, to: Placing) -> tuple[Bevel, ...]:
    found = []
    for thing in drawing.texts:
        if asked.uses.get(thing.layer) != BEVELS:
            continue
        said = _BEVEL.search(str(thing.entity.dxf.get("text", "")))
        if said:
            degrees = float(said[1].replace("−", "-").replace(",", "."))
            at = thing.entity.dxf.insert * asked.mm_per_unit
            found.append(Bevel(to((at.x, at.y))[0], degrees))
    return tuple(sorted(found, key=lambda bevel: bevel.x_mm))


def _grain(runs: Sequence[Run], to: Placing) -> float:
    """Of the first line on a grain layer, from −90 to 90 degrees."""
    if not runs:
        return 0.0
    (x, y), (u, v) = to(runs[0].points_mm[0]), to(runs[0].points_mm[-1])
    return math.degrees(math.remainder(math.atan2(v - y, u - x), math.pi))


def _placing(outline: Sequence[Point], lay_along: bool) -> Placing:
    """Where each point of the drawing comes to lie."""
    far = max(abs(n) for point in outline for n in point) > LONGEST_MM
    if not lay_along and not far:
        return lambda point: point
    turn = -_longest_way(outline) if lay_along else 0.0
    c, s = math.cos(turn), math.sin(turn)
    left = min(x * c - y * s for x, y in outline)
    low = min(x * s + y * c for x, y in outline)
    return lambda point: (
        point[0] * c - point[1] * s - left,
        point[0] * s + point[1] * c - low,
    )


def _longest_way(outline: Sequence[Point]) -> float:
    """The direction of the longer side of the smallest rectangle round it, radians."""
    rectangle = MultiPoint(outline).minimum_rotated_rectangle
    if not isinstance(rectangle, Polygon):
        return 0.0
    sides = pairwise(rectangle.exterior.coords)
    a, b = max(sides, key=lambda side: math.dist(*side))
    return math.remainder(math.atan2(b[1] - a[1], b[0] - a[0]), math.pi)
