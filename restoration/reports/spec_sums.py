"""What to ask of the saw for a replacement, what its section will do, and what its nuts need."""

import math
from dataclasses import dataclass
from datetime import date

from restoration import timber
from restoration.calc.green_fitting import TakeUp, drying_pace, take_up, visits, within_table
from restoration.calc.sawn_green import (
    MOULDED,
    SIDED,
    UNDERSIZE_PERCENT,
    Allowances,
    SawnSide,
    Wanted,
    sawn_side,
)
from restoration.models import ReplacementSpec, Yard
from timber_stock.drawings.section_pictures import Drawn, drawn_alike
from timber_stock.measure import mm_from_inches
from timber_stock.wood.air_drying import DayRange
from timber_stock.wood.movement import Movement, movement
from timber_stock.wood.ring_limits import AUTHORITIES, RingLimits
from timber_stock.wood.service import ServiceMoisture
from timber_stock.wood.species import Species as Wood
from timber_stock.wood.take_up import Visit
from timber_stock.wood.ways import Way, ways_to_cut

NO_PLACE = (
    "Say where in the boat it serves: how dry it comes there decides how far it moves and what "
    "size to saw."
)


@dataclass(frozen=True)
class Assumed:
    """What the sums take: where it serves, what is added at the saw, whose ring limits."""

    place: str
    allowances: Allowances
    limits: str
    exaggeration: float
    units: str


@dataclass(frozen=True)
class GreenFit:
    """Fitted green: what each bolt loses, and the visits if it were fitted on a day."""

    take_up: tuple[TakeUp, TakeUp]
    pace: DayRange
    visits: tuple[Visit, ...]

    @property
    def last_on(self) -> date:
        return self.visits[-1].on


@dataclass(frozen=True)
class SpecSums:
    service: ServiceMoisture | None
    service_percent: float
    movement: Movement
    in_place: Movement
    wanted: Wanted
    limits: RingLimits
    sides: tuple[SawnSide, SawnSide]
    work_to_mm: tuple[float, float]  # as it goes in, at the next mark of a rule
    ways: list[tuple[Way, Drawn]]
    green: GreenFit | None

    @property
    def face_mm(self) -> float:
        return self.wanted.across_mm(self.wanted.face)


def reckon_spec(spec: ReplacementSpec, assumed: Assumed, today: date) -> SpecSums:
    """ValueError, with a sentence to show, where what is known does not say enough."""
    wood, limits = timber.figures_of(spec.wood), AUTHORITIES[assumed.limits]
    service, percent = _service(spec, assumed.place)
    wanted, moved = spec.wanted(), movement(wood, percent)
    sides = _sides(spec, wood, wanted, moved, assumed)
    in_place = movement(wood, percent, spec.moisture_percent)
    sizes = tuple(next_mark_mm(side.work_to_mm, assumed.units) for side in sides)
    ways = ways_to_cut(
        *sizes, wanted.directions, in_place, limits, upright_face=wanted.face == MOULDED
    )
    drawn = drawn_alike([way.sheet for way in ways], assumed.exaggeration, assumed.units, key="way")
    green = None
    if spec.seasoning == "green" and service:
        green = _green(wanted, (spec.sided_mm, spec.moulded_mm), wood, service, today)
    return SpecSums(
        service, percent, moved, in_place, wanted, limits, sides, sizes,
        list(zip(ways, drawn, strict=True)), green,
    )  # fmt: skip


def _sides(
    spec: ReplacementSpec,
    wood: Wood,
    wanted: Wanted,
    moved: Movement,
    assumed: Assumed,
) -> tuple[SawnSide, SawnSide]:
    dry = spec.moisture_percent
    before = movement(wood, dry) if dry is not None else None
    return tuple(
        sawn_side(
            wanted,
            side,
            (moved.radial_percent, moved.tangential_percent),
            AUTHORITIES[assumed.limits],
            assumed.allowances,
            step_mm=saw_mark_mm(assumed.units),
            planed_dry=before is not None,
            fitted_shrinkages=(before.radial_percent, before.tangential_percent)
            if before
            else (0.0, 0.0),
        )
        for side in (SIDED, MOULDED)
    )


def sizes_to_ask(spec: ReplacementSpec, yard: Yard, units: str) -> tuple[SawnSide, SawnSide] | None:
    """Sided and moulded with the yard's own allowances; None where too little is known."""
    allowances = Allowances(yard.planing_allowance_mm, yard.sawing_variation_mm, UNDERSIZE_PERCENT)
    assumed = Assumed(spec.place_in_boat, allowances, yard.ring_limits, 1.0, units)
    try:
        wood, percent = timber.figures_of(spec.wood), _service(spec, assumed.place)[1]
        return _sides(spec, wood, spec.wanted(), movement(wood, percent), assumed)
    except ValueError:
        return None


def _service(spec: ReplacementSpec, place: str) -> tuple[ServiceMoisture | None, float]:
    service = timber.service_moistures().get(place)
    if service is None and spec.moisture_percent is None:
        raise ValueError(NO_PLACE)
    return service, service.expected_percent if service else spec.moisture_percent


def next_mark_mm(mm: float, units: str) -> float:
    """Up to the next half millimetre or 1/32 of an inch: nothing worked to it comes small."""
    mark = 0.5 if units == "metric" else mm_from_inches(1 / 32)
    return math.ceil(mm / mark - 1e-6) * mark


def saw_mark_mm(units: str) -> float:
    """What a saw is set to: no finer than a sixteenth, or a millimetre."""
    return 1.0 if units == "metric" else mm_from_inches(1 / 16)


def _green(
    wanted: Wanted,
    sizes: tuple[float, float],
    wood: Wood,
    service: ServiceMoisture,
    today: date,
) -> GreenFit:
    along = take_up(wanted, sizes, wood, service)
    most = max(each.most_mm for each in along)
    thin = within_table(min(sizes))
    return GreenFit(along, drying_pace(wood, thin), visits(today, most, wood, thin, service))
