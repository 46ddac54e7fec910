"""Timbers for a cutting list, drawn from what replacements ask for."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.calc.rings_asked import mean_limits_deg
from restoration.calc.sawn_green import (
    MOULDED,
    SIDED,
    UNDERSIZE_PERCENT,
    Allowances,
    SawnSide,
    Wanted,
    accepted_directions,
    sawn_side,
    usual_face,
)
from restoration.models import ReplacementSpec, WantedTimber, Yard
from restoration.timber import CuttingItem, CuttingList, figures_of, service_moistures
from timber_stock.wood.ring_limits import AUTHORITIES
from timber_stock.wood.shrinkage import shrinkage_percent


@dataclass(frozen=True)
class Drawing:
    """What is settled for all timbers drawn together."""

    heart_clearance_mm: float
    to_trim_mm: float  # added to the finished length, in all
    usual_moisture_percent: float  # where a replacement says no place in the boat
    step_mm: float  # the mark of the rule that sizes are rounded up to


@dataclass(frozen=True)
class GreenSize:
    """What to saw for one replacement, or why that cannot be said."""

    spec: ReplacementSpec
    sided: SawnSide | None = None
    moulded: SawnSide | None = None
    moisture_percent: float = 0.0
    why_not: str = ""


def green_size(spec: ReplacementSpec, yard: Yard, drawing: Drawing, places: dict) -> GreenSize:
    """By the shrinkage of its wood, the yard's planing allowance and the saw's variation."""
    moisture = service_moisture_percent(spec, drawing, places)
    try:
        wood = figures_of(spec.wood)
        shrinkages = tuple(
            shrinkage_percent(wood.require(name), moisture)
            for name in ("radial_percent", "tangential_percent")
        )
        sides = [_side(spec, side, shrinkages, yard, drawing) for side in (SIDED, MOULDED)]
    except ValueError as error:
        return GreenSize(spec, why_not=str(error))
    return GreenSize(spec, *sides, moisture_percent=moisture)


def service_moisture_percent(spec: ReplacementSpec, drawing: Drawing, places: dict) -> float:
    if spec.place_in_boat in places:
        return float(places[spec.place_in_boat].expected_percent)
    return spec.moisture_percent or drawing.usual_moisture_percent


def _side(spec, side, shrinkages, yard, drawing) -> SawnSide:
    face = spec.rings_face or usual_face(spec.sided_mm, spec.moulded_mm)
    directions = accepted_directions(spec.rings, not spec.clear_of_heart)
    wanted = Wanted(spec.sided_mm, spec.moulded_mm, directions, face)
    allowances = Allowances(yard.planing_allowance_mm, yard.sawing_variation_mm, UNDERSIZE_PERCENT)
    limits = AUTHORITIES[yard.ring_limits]
    return sawn_side(wanted, side, shrinkages, limits, allowances, drawing.step_mm)


@transaction.atomic
def draw_timbers(
    *, cutting_list: CuttingList, specs: Iterable[ReplacementSpec], drawing: Drawing
) -> list[CuttingItem]:
    """One line for each replacement, linked to it; all of them, or none with the reasons.

    Where part of its timber is found, the line is as long as what is still wanted.
    """
    yard, places = Yard.current(), service_moistures()
    chosen = ReplacementSpec.objects.with_stage().filter(pk__in=[spec.pk for spec in specs])
    chosen = chosen.for_list().prefetch_related("wood__own_figures").along_the_hull()
    sizes = [green_size(spec, yard, drawing, places) for spec in chosen]
    if refused := [f"{_mark(size.spec)}: {size.why_not}" for size in sizes if size.why_not]:
        raise ValidationError(refused)
    if not sizes:
        raise ValidationError("Choose at least one replacement.")
    taken = {label.lower() for label in cutting_list.items.values_list("label", flat=True)}
    return [_drawn(cutting_list, size, yard, drawing, taken) for size in sizes]


def _drawn(cutting_list, size, yard, drawing, taken) -> CuttingItem:
    spec = size.spec
    least, most = mean_limits_deg(
        spec.rings, spec.rings_face, size.sided.ask_mm, size.moulded.ask_mm,
        AUTHORITIES[yard.ring_limits],
    )  # fmt: skip
    thickness, width = sorted([size.sided.ask_mm, size.moulded.ask_mm])
    member = spec.finding.member
    item = CuttingItem(
        cutting_list=cutting_list,
        label=_free_label(_mark(spec), taken),
        for_whom=f"{member.vessel.name}, {member.term()} {member.mark}"[:200],
        thickness_mm=thickness,
        width_mm=width,
        length_mm=spec.still_wanted_mm() + drawing.to_trim_mm,
        heart_clearance_mm=drawing.heart_clearance_mm if spec.clear_of_heart else None,
        mean_min_deg=least,
        mean_max_deg=most,
        sapwood_allowed=spec.sapwood_allowed,
    )
    item.full_clean()
    item.save()
    WantedTimber.objects.create(spec=spec, item=item)
    return item


@transaction.atomic
def take_off(*, wanted: WantedTimber) -> None:
    """The line and its link to the replacement, which waits for timber again."""
    item = wanted.item
    wanted.delete()
    item.delete()


def _mark(spec: ReplacementSpec) -> str:
    member = spec.finding.member
    return f"{member.vessel.code}-{member.mark}"


def _free_label(label: str, taken: set[str]) -> str:
    free, number = label, 2
    while free.lower() in taken:
        free, number = f"{label}.{number}", number + 1
    taken.add(free.lower())
    return free
