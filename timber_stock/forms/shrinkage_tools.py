"""Small sums about movement: one size between two moistures, and planks laid side by side."""

from dataclasses import dataclass

from django import forms

from timber_stock.models import figures_of
from timber_stock.web.fields import LengthField
from timber_stock.wood import shrinkage
from timber_stock.wood.heaviness import held_moisture
from timber_stock.wood.species import Figure
from timber_stock.wood.species import Species as Wood

from .asking import AskingForm, UsualChoice
from .choices import WoodField

DIRECTIONS = {
    "tangential": "along the rings",
    "radial": "across the rings",
    "angle": "at an angle to them",
}
LINEAR_SOURCE = (
    "D (1 − S₂/100)/(1 − S₁/100), with S = S₀ (30 − M)/30 of the green size below 30 % moisture "
    "and nought above (Wood Handbook ch. 4, FPL-GTR-282 Eq. 4-9; Eq. 13-3 in this form)."
)
ANGLE_SOURCE = (
    "At an angle a to straight rings S = 1 − √[((1 − t) cos a)² + ((1 − r) sin a)²], t and r the "
    "tangential and radial shrinkage (derived)."
)
COEFFICIENT_SOURCE = (
    "By the coefficient, D C (M₂ − M₁), made for 6 to 14 % (Wood Handbook 2010, Eq. 13-2)."
)
# The handbook's own limits for the coefficient form.
DRIEST, WETTEST = 6, 14


class MovementForm(AskingForm):
    """What both sums ask: the wood, the direction and the two moistures."""

    wood = WoodField()
    direction = UsualChoice(
        choices=DIRECTIONS,
        initial="tangential",
        help_text="a flat-sawn board is wide along the rings, a quarter-sawn one across them",
    )
    ring_angle = forms.FloatField(
        label="Angle to the rings, degrees",
        required=False,
        help_text="0 along them, 90 across; only for a direction at an angle",
    )
    moisture_from = forms.FloatField(
        label="Moisture from, %", initial=30, help_text="30 or more is green"
    )
    moisture_to = forms.FloatField(label="Moisture to, %", initial=15)

    FAULTS = {
        "Moisture at the start": "moisture_from",
        "Moisture at the end": "moisture_to",
        "angle": "ring_angle",
        "size": "size_mm",
        "wide": "width_mm",
    }

    def moistures(self, wood: Wood, asked: dict) -> tuple[float, float]:
        return (
            held_moisture(wood, asked["moisture_from"], "Moisture at the start"),
            held_moisture(wood, asked["moisture_to"], "Moisture at the end"),
        )


def shrunk_percent(wood: Wood, asked: dict, moisture: float) -> float:
    """Shrinkage from green to this moisture in the direction asked, percent."""
    way = asked["direction"]
    if way != "angle":
        return shrinkage.shrinkage_percent(wood.require(f"{way}_percent"), moisture)
    if asked["ring_angle"] is None:
        raise ValueError("Give the angle to the rings, 0 to 90 degrees.")
    radial, tangential = (
        shrinkage.shrinkage_percent(wood.require(f"{name}_percent"), moisture)
        for name in ("radial", "tangential")
    )
    return shrinkage.shrinkage_at_angle_percent(radial, tangential, asked["ring_angle"])


def figures_used(wood: Wood, asked: dict) -> list[Figure]:
    ways = ("radial", "tangential") if asked["direction"] == "angle" else (asked["direction"],)
    return [figure for way in ways if (figure := wood.figure(f"{way}_percent"))]


@dataclass(frozen=True)
class SizeAnswer:
    before_mm: float
    after_mm: float
    by_coefficient_mm: float | None
    figures: list[Figure]
    sources: list[str]

    @property
    def change_mm(self) -> float:
        return self.after_mm - self.before_mm

    @property
    def percent(self) -> float:
        return 100 * self.change_mm / self.before_mm


class SizeForm(MovementForm):
    size_mm = LengthField(label="Size now")

    field_order = ["wood", "size_mm"]

    def reckon(self, asked):
        wood = figures_of(asked["wood"])
        start, end = self.moistures(wood, asked)
        before = _above_nought(asked["size_mm"], "The size")
        share = [1 - shrunk_percent(wood, asked, m) / 100 for m in (start, end)]
        by_coefficient = _by_coefficient(wood, asked, before, start, end)
        sources = [LINEAR_SOURCE]
        sources += [ANGLE_SOURCE] * (asked["direction"] == "angle")
        sources += [COEFFICIENT_SOURCE] * (by_coefficient is not None)
        return SizeAnswer(
            before, before * share[1] / share[0], by_coefficient, figures_used(wood, asked), sources
        )


def _by_coefficient(wood: Wood, asked, size_mm, start, end) -> float | None:
    """The handbook's other form, where both moistures are within what it is made for."""
    way = asked["direction"]
    known = None if way == "angle" else wood.number(f"{way}_coefficient")
    if known is None or not all(DRIEST <= m <= WETTEST for m in (start, end)):
        return None
    return shrinkage.change_by_coefficient_mm(size_mm, known, start, end)


@dataclass(frozen=True)
class PlanksAnswer:
    movement: shrinkage.SeamMovement
    planks: int
    figures: list[Figure]
    sources: list[str]


class PlanksForm(MovementForm):
    width_mm = LengthField(label="Width of a plank")
    planks = forms.IntegerField(label="How many planks", min_value=1, max_value=500, initial=1)
    seam_mm = LengthField(label="Seam between two", help_text="as it is at the first moisture")

    field_order = ["wood", "width_mm", "planks", "seam_mm"]

    def reckon(self, asked):
        wood = figures_of(asked["wood"])
        start, end = self.moistures(wood, asked)
        moved = shrinkage.seam_movement(
            _above_nought(asked["width_mm"], "How wide a plank is"),
            asked["planks"],
            asked["seam_mm"],
            shrunk_percent(wood, asked, 0.0),
            start,
            end,
        )
        sources = [LINEAR_SOURCE] + [ANGLE_SOURCE] * (asked["direction"] == "angle")
        return PlanksAnswer(moved, asked["planks"], figures_used(wood, asked), sources)


def _above_nought(size_mm: float, what: str) -> float:
    if size_mm <= 0:
        raise ValueError(f"{what} must be more than nothing.")
    return size_mm
