"""The true shape of a member as its pattern gives it: outline, inner lines, bolt holes, bevels.

Frame of every pattern, however it was taken: millimetres; x runs along the member, y across it in
the plane of the pattern. The wood's grain runs along x unless `grain_deg` turns it
(counter-clockwise). The third dimension is the siding, `sided_mm`, square to the pattern.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import Point as At
from shapely import Polygon
from shapely.validation import explain_validity

Point = tuple[float, float]

LINE_KINDS = {
    "rabbet": "rabbet line",
    "inner_rabbet": "inner rabbet line",
    "bearding": "bearding line",
    "centre": "centreline",
    "waterline": "waterline",
    "scarf": "scarf",
    "other": "other line",
}
FEWEST_CORNERS = 3
MOST_POINTS = 20_000
LONGEST_MM = 30_000.0
"""No pattern of one timber is longer: a figure beyond it is in the wrong units."""
STEEPEST_BEVEL_DEG = 75.0
LEAST_AREA_MM2 = 100.0
BEVEL_BEYOND_MM = 1.0
"""So far beyond an end a bevel may stand: it was meant for the end itself."""


@dataclass(frozen=True)
class PatternLine:
    """A line drawn inside the outline. `kind` is a key of LINE_KINDS."""

    kind: str
    points_mm: tuple[Point, ...]


@dataclass(frozen=True)
class BoltHole:
    """A hole square to the pattern, through its whole siding."""

    x_mm: float
    y_mm: float
    diameter_mm: float


@dataclass(frozen=True)
class Bevel:
    """The bevel of the outer edge at a station: degrees from square, standing (open) positive."""

    x_mm: float
    degrees: float


@dataclass(frozen=True)
class Pattern:
    """A whole pattern. `outline_mm` runs round once, is not closed by a repeated first corner."""

    outline_mm: tuple[Point, ...]
    sided_mm: float
    lines: tuple[PatternLine, ...] = ()
    holes: tuple[BoltHole, ...] = ()
    bevels: tuple[Bevel, ...] = ()
    grain_deg: float = 0.0


def checked(pattern: Pattern) -> Pattern:
    """The same pattern, or ValueError saying what to mend.

    Refused: figures that are not finite, fewer than three corners, an outline that crosses
    itself (the sentence says where) or encloses nothing, a pattern longer than LONGEST_MM, more
    than MOST_POINTS points, an unknown kind of line, a hole that is not wholly inside the
    outline, a bevel beyond STEEPEST_BEVEL_DEG or beyond the ends of the timber.
    """
    _check_figures(pattern)
    shape = _checked_outline(pattern.outline_mm)
    for number, hole in enumerate(pattern.holes, 1):
        _check_hole(shape, hole, number)
    _check_bevels(shape, pattern.bevels)
    for line in pattern.lines:
        if line.kind not in LINE_KINDS:
            raise ValueError(f"{line.kind!r} is not a kind of line: {', '.join(LINE_KINDS)}.")
        if len(line.points_mm) < 2:
            raise ValueError(f"A {LINE_KINDS[line.kind]} needs two points or more.")
    return pattern


def outline_polygon(pattern: Pattern) -> Polygon:
    """The outline as a shapely polygon."""
    return Polygon(pattern.outline_mm)


def to_data(pattern: Pattern) -> dict[str, object]:
    """The pattern as plain lists and numbers, to be kept as JSON."""
    return {
        "outline_mm": [list(point) for point in pattern.outline_mm],
        "sided_mm": pattern.sided_mm,
        "lines": [
            {"kind": line.kind, "points_mm": [list(p) for p in line.points_mm]}
            for line in pattern.lines
        ],
        "holes": [[hole.x_mm, hole.y_mm, hole.diameter_mm] for hole in pattern.holes],
        "bevels": [[bevel.x_mm, bevel.degrees] for bevel in pattern.bevels],
        "grain_deg": pattern.grain_deg,
    }


def from_data(data: dict[str, object]) -> Pattern:
    """A pattern kept by `to_data`; ValueError when it is no such thing."""
    try:
        return Pattern(
            outline_mm=_points(data["outline_mm"]),
            sided_mm=_number(data["sided_mm"]),
            lines=tuple(
                PatternLine(str(line["kind"]), _points(line["points_mm"]))
                for line in _items(data.get("lines", []))
            ),
            holes=tuple(BoltHole(*map(_number, h)) for h in _items(data.get("holes", []))),
            bevels=tuple(Bevel(*map(_number, b)) for b in _items(data.get("bevels", []))),
            grain_deg=_number(data.get("grain_deg", 0.0)),
        )
    except (KeyError, TypeError, AttributeError, ValueError) as error:
        raise ValueError("What was sent is not a pattern: draw it again.") from error


def _items(value: object) -> list:  # type: ignore[type-arg]
    if not isinstance(value, list):
        raise TypeError
    return value


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError
    return float(value)


def _points(value: object) -> tuple[Point, ...]:
    return tuple((_number(x), _number(y)) for x, y in _items(value))


def _check_figures(pattern: Pattern) -> None:
    figures = [pattern.sided_mm, pattern.grain_deg]
    figures += [n for hole in pattern.holes for n in (hole.x_mm, hole.y_mm, hole.diameter_mm)]
    figures += [n for bevel in pattern.bevels for n in (bevel.x_mm, bevel.degrees)]
    points = [*pattern.outline_mm, *(p for line in pattern.lines for p in line.points_mm)]
    if len(points) > MOST_POINTS:
        raise ValueError(f"A pattern has {MOST_POINTS:,} points at most: leave some out.")
    if not all(math.isfinite(n) for n in figures + [n for point in points for n in point]):
        raise ValueError("Every figure of a pattern must be a plain number.")
    if pattern.sided_mm <= 0:
        raise ValueError("The siding must be more than nothing.")
    if any(abs(bevel.degrees) > STEEPEST_BEVEL_DEG for bevel in pattern.bevels):
        raise ValueError(f"A bevel is {STEEPEST_BEVEL_DEG:g} degrees from square at most.")


def _checked_outline(outline_mm: tuple[Point, ...]) -> Polygon:
    if len(outline_mm) < FEWEST_CORNERS:
        raise ValueError("An outline needs three corners or more.")
    shape = Polygon(outline_mm)
    if not shape.is_valid:
        raise ValueError(_crossing(shape))
    if shape.area < LEAST_AREA_MM2:
        raise ValueError("The outline encloses next to nothing: look at its figures and units.")
    left, low, right, high = shape.bounds
    if max(right - left, high - low) > LONGEST_MM:
        raise ValueError(
            f"The pattern is more than {LONGEST_MM / 1000:g} m long: are its units millimetres?"
        )
    return shape


def _crossing(shape: Polygon) -> str:
    reason = explain_validity(shape)
    if not shape.convex_hull.area:
        return "The outline lies in one line and encloses nothing: look at its figures."
    near = ""
    if "[" in reason:
        x, y = (float(n) for n in reason[reason.find("[") + 1 : -1].split())
        near = f", near {place_words(x, y)}"
    return f"The outline crosses itself{near}: put its corners in order round it."


def place_words(x_mm: float, y_mm: float) -> str:
    """A place on a pattern in a sentence; a page may tell the two lengths in other units."""
    across = f"{abs(y_mm):.0f} mm {'across' if y_mm >= 0 else 'below the zero line'}"
    before = "" if x_mm >= 0 else " before zero"
    return f"{abs(x_mm):.0f} mm along{before}, {across}"


def _check_bevels(shape: Polygon, bevels: tuple[Bevel, ...]) -> None:
    left, _, right, _ = shape.bounds
    for bevel in bevels:
        if not left - BEVEL_BEYOND_MM <= bevel.x_mm <= right + BEVEL_BEYOND_MM:
            where = f"{abs(bevel.x_mm):.0f} mm{' before zero' if bevel.x_mm < 0 else ''}"
            raise ValueError(
                f"The bevel of {bevel.degrees:g} degrees at {where} lies beyond the ends of the "
                "timber: look at its place along, or mend the outline."
            )


def _check_hole(shape: Polygon, hole: BoltHole, number: int) -> None:
    from_edge = _distance_inside(shape, hole)
    if hole.diameter_mm <= 0:
        raise ValueError(f"Bolt hole {number} needs a diameter of more than nothing.")
    if from_edge < hole.diameter_mm / 2:
        raise ValueError(
            f"Bolt hole {number} at {place_words(hole.x_mm, hole.y_mm)} does not lie wholly "
            "inside the timber: move it, or mend the outline."
        )


def _distance_inside(shape: Polygon, hole: BoltHole) -> float:
    """How far the hole's centre is from the nearest edge; below nought when it is outside."""
    centre = At(hole.x_mm, hole.y_mm)
    distance = float(shape.exterior.distance(centre))
    return distance if shape.contains(centre) else -distance
