"""What a kept pattern needs from the wood, with what it weighs in the wood it is meant for."""

from dataclasses import dataclass

from restoration.calc.pattern_needs import Needs, needs_of
from restoration.calc.pattern_needs_bolts import HeartLine, heart_along
from restoration.models import Pattern, ReplacementSpec
from restoration.timber import Species, figures_of
from timber_stock.wood.heaviness import (
    DRY_PERCENT,
    green_moisture,
    green_volume_density_kg_m3,
    present_density_kg_m3,
)


@dataclass(frozen=True)
class Weight:
    """One state of the timber: its moisture in words, and kilograms or why there are none."""

    state: str
    moisture: str
    kg: float | None
    why_not: str = ""


@dataclass(frozen=True)
class PatternNeeds:
    needs: Needs
    heart: HeartLine | None
    wood: Species | None
    spec: ReplacementSpec | None
    weights: tuple[Weight, ...]


def gather_needs(
    pattern: Pattern, wood: Species | None, heart_mm: tuple[float, float] | None
) -> PatternNeeds:
    """Everything of one pattern. ValueError where the heart does not lie in it."""
    shape = pattern.shape()
    heart = heart_along(shape, shape.grain_deg, heart_mm) if heart_mm else None
    needs = needs_of(shape, heart)
    spec = open_spec(pattern)
    chosen = wood or (spec.wood if spec else None) or pattern.member.wood
    weights = _weights(chosen, needs.volume_mm3) if chosen else ()
    return PatternNeeds(needs, heart, chosen, spec, weights)


def open_spec(pattern: Pattern) -> ReplacementSpec | None:
    """The newest specification of this member that stands."""
    specs = ReplacementSpec.objects.open().filter(finding__member=pattern.member_id)
    return specs.select_related("wood").order_by("-pk").first()


def _weights(wood: Species, volume_mm3: float) -> tuple[Weight, ...]:
    """The timber as it is cut out green, and as it is when it was cut out dry."""
    figures = figures_of(wood)
    green = green_moisture(figures)
    found = []
    for state, words, percent, density in (
        ("cut green", green.words, green.percent, green_volume_density_kg_m3),
        ("cut dry", f"{DRY_PERCENT:g} %", DRY_PERCENT, present_density_kg_m3),
    ):
        try:
            kg = volume_mm3 * 1e-9 * density(figures, percent)
            found.append(Weight(state, words, kg))
        except ValueError as error:
            found.append(Weight(state, words, None, str(error)))
    return tuple(found)
