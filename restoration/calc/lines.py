"""The lines a hull sheet is drawn on: sheer, keel profile, rabbet, deck and waterline.

Axes, in mm: along the hull from her foremost point aft; heights from the waterline, up positive;
half breadths from the centreline. `hull_particulars` makes the curves from her particulars,
`offset_table` from offsets the yard has measured.

These are curves to hang members on, not lines to build or loft from.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite, whole_number
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


def move_points(lines: Lines, moves: Mapping[str, Mapping[int, Point]]) -> Lines:
    """The lines with control points moved, all at once, by curve (a name in CURVES) and number.

    The ends of a curve move in height or breadth only. Raises ValueError where a curve would
    double back, or the sheer would come to lie below the keel.
    """
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
    first = finite(first_mm, "place of station 0")
    return Stations(first, above_zero(spacing_mm, "station spacing"))
