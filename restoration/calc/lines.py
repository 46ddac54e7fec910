"""The lines a hull sheet is drawn on: sheer, keel profile, rabbet, deck and waterline.

Axes, in mm: along the hull from her foremost point aft; heights from the waterline, up positive;
half breadths from the centreline. `hull_particulars` makes the curves from her particulars,
`offset_table` from offsets the yard has measured.

These are curves to hang members on, not lines to build or loft from.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from restoration.calc.checks import above_zero, whole_number
from restoration.calc.curves import Curve, Point, all_moved

CAUTION = (
    "A diagram to scale along its length, not a lines plan: shapes between the given sizes are "
    "assumed. Do not loft, fair or measure timber from it."
)
CURVES = ("sheer", "profile", "rabbet", "deck", "waterline")


@dataclass(frozen=True)
class Lines:
    """The five curves. Heights: sheer, profile (lowest edge of stem, keel and stern), rabbet.
    Half breadths: deck, waterline. assumed: the particulars nobody gave, by name.

    Sheer, profile, rabbet and deck run the whole length of the hull; the waterline may be
    shorter. Raises ValueError where they do not, where the sheer is not above the profile, or
    where a half breadth is below 0.
    """

    sheer: Curve
    profile: Curve
    rabbet: Curve
    deck: Curve
    waterline: Curve
    assumed: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for curve in (self.profile, self.rabbet, self.deck):
            if (curve.start_mm, curve.end_mm) != (self.sheer.start_mm, self.sheer.end_mm):
                raise ValueError(f"The {curve.name} must run the same length as the sheer.")
        for along, height in self.profile.points:
            if self.sheer.at(along) <= height:
                raise ValueError(f"At {along:g} mm the sheer lies below the keel profile.")
        for along, height in self.sheer.points:
            if self.profile.at(along) >= height:
                raise ValueError(f"At {along:g} mm the sheer lies below the keel profile.")
        for curve in (self.deck, self.waterline):
            if min(breadth for _, breadth in curve.points) < 0:
                raise ValueError(f"A half breadth of the {curve.name} is below 0.")

    @property
    def length_mm(self) -> float:
        return self.sheer.end_mm - self.sheer.start_mm


def sheer_height(lines: Lines, along_mm: float) -> float:
    """Height of the deck edge above the waterline, mm. Raises ValueError off the hull."""
    return lines.sheer.at(along_mm)


def keel_height(lines: Lines, along_mm: float) -> float:
    """Height of the lowest edge of stem, keel or stern, mm; below 0 under water."""
    return lines.profile.at(along_mm)


def rabbet_height(lines: Lines, along_mm: float) -> float:
    """Height at which planking meets the backbone, mm; never below the lowest edge."""
    return min(
        max(lines.rabbet.at(along_mm), keel_height(lines, along_mm)),
        sheer_height(lines, along_mm),
    )


def deck_half_breadth(lines: Lines, along_mm: float) -> float:
    """Half breadth at the deck edge, mm."""
    return lines.deck.at(along_mm)


def waterline_half_breadth(lines: Lines, along_mm: float) -> float:
    """Half breadth at the waterline, mm; 0 beyond its ends and never more than at the deck."""
    deck = deck_half_breadth(lines, along_mm)
    if not lines.waterline.start_mm <= along_mm <= lines.waterline.end_mm:
        return 0.0
    return min(lines.waterline.at(along_mm), deck)


def half_breadth(lines: Lines, along_mm: float, height_mm: float) -> float:
    """Half breadth of the hull at a place and height, mm: 0 at and below the rabbet.

    From the rabbet it grows as the square root of the height, through the waterline, and from
    there straight to the deck edge: a section of our own choosing, to draw by. Above the sheer
    it is that of the deck edge.
    """
    foot, top = rabbet_height(lines, along_mm), sheer_height(lines, along_mm)
    deck = deck_half_breadth(lines, along_mm)
    waterline = waterline_half_breadth(lines, along_mm)
    if height_mm <= foot:
        return 0.0
    if height_mm >= top:
        return deck
    if foot < 0 and waterline > 0:
        if height_mm <= 0:
            return waterline * math.sqrt(1 - height_mm / foot)
        return waterline + (deck - waterline) * height_mm / top
    return deck * math.sqrt((height_mm - foot) / (top - foot))


def height_between(lines: Lines, along_mm: float, share: float) -> float:
    """Height a share (0 to 1) of the way from the rabbet to the sheer, mm: where a strake lies.

    Raises ValueError for a share outside 0 to 1.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"A share between rabbet and sheer lies in 0 to 1; {share:g} does not.")
    foot = rabbet_height(lines, along_mm)
    return foot + (sheer_height(lines, along_mm) - foot) * share


def profile_outline(lines: Lines) -> tuple[Point, ...]:
    """The hull seen from the side as a closed outline: along the sheer aft, back by the keel."""
    return (*lines.sheer.polyline(), *reversed(lines.profile.polyline()))


def half_plan_outline(lines: Lines) -> tuple[Point, ...]:
    """Half the deck seen from above: along the deck edge aft, back along the centreline."""
    return (*lines.deck.polyline(), (lines.deck.end_mm, 0.0), (lines.deck.start_mm, 0.0))


def backbone_band(
    lines: Lines, start_mm: float, end_mm: float, low: float, high: float, parts: int = 24
) -> tuple[Point, ...]:
    """A closed strip of the backbone seen from the side, as for a ballast keel or a deadwood.

    It runs from start_mm to end_mm along the hull, between two shares of the way from the lowest
    edge (0) to the rabbet (1). Raises ValueError for shares or places in the wrong order or off
    the hull.
    """
    if not 0 <= low < high <= 1:
        raise ValueError("A strip of the backbone lies between two shares from 0 to 1.")
    if start_mm >= end_mm:
        raise ValueError("A strip of the backbone runs from forward to aft.")
    places = [start_mm + (end_mm - start_mm) * step / parts for step in range(parts + 1)]
    edges = [(along, keel_height(lines, along), rabbet_height(lines, along)) for along in places]
    lower = [(along, foot + (top - foot) * low) for along, foot, top in edges]
    upper = [(along, foot + (top - foot) * high) for along, foot, top in edges]
    return (*lower, *reversed(upper))


def move_point(lines: Lines, curve: str, index: int, to: Point) -> Lines:
    """The lines with one control point of one curve (a name in CURVES) moved.

    The ends of a curve move in height or breadth only. Raises ValueError where the curve would
    double back, or the sheer would come to lie below the keel.
    """
    return move_points(lines, {curve: {index: to}})


def move_points(lines: Lines, moves: Mapping[str, Mapping[int, Point]]) -> Lines:
    """The lines with several control points moved at once, by curve and number; as `move_point`."""
    for curve in moves:
        if curve not in CURVES:
            raise ValueError(f"There is no curve named {curve!r}; they are {', '.join(CURVES)}.")
    new = {name: all_moved(getattr(lines, name), moves.get(name, {})) for name in CURVES}
    return Lines(**new, assumed=lines.assumed)


@dataclass(frozen=True)
class Stations:
    """Numbered stations, evenly spaced: where number 0 stands along the hull, and the spacing."""

    first_mm: float
    spacing_mm: float

    def position_mm(self, number: float) -> float:
        """Where a station stands along the hull; numbers between stations are allowed."""
        return self.first_mm + number * self.spacing_mm

    def number_at(self, along_mm: float) -> float:
        """The station number at a place along the hull."""
        return (along_mm - self.first_mm) / self.spacing_mm


def even_stations(lines: Lines, spaces: int = 10) -> Stations:
    """Stations that divide the length of the hull into `spaces` equal parts, 0 right forward."""
    if whole_number(spaces, "number of station spaces") < 1:
        raise ValueError("There must be one station space or more.")
    return Stations(lines.sheer.start_mm, lines.length_mm / spaces)


def spaced_stations(spacing_mm: float, first_mm: float = 0.0) -> Stations:
    """Stations at the yard's own spacing. Raises ValueError for a spacing not above 0."""
    return Stations(first_mm, above_zero(spacing_mm, "station spacing"))
