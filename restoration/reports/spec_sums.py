"""What to ask of the saw for a replacement, what its section will do, and what its nuts need."""

from dataclasses import dataclass
from datetime import date

from restoration import timber
from restoration.calc.green_fitting import TakeUp, drying_pace, take_up, visits, within_table
from restoration.calc.sawn_green import (
    MOULDED,
    SIDED,
    Allowances,
    SawnSide,
    Wanted,
    sawn_side,
)
from restoration.models import ReplacementSpec
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
    from_day: date
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
    ways: list[tuple[Way, Drawn]]
    green: GreenFit | None

    @property
    def face_mm(self) -> float:
        return self.wanted.across_mm(self.wanted.face)


def reckon_spec(spec: ReplacementSpec, assumed: Assumed, today: date) -> SpecSums:
    """ValueError, with a sentence to show, where what is known does not say enough."""
    wood, limits = timber.figures_of(spec.wood), AUTHORITIES[assumed.limits]
    service = timber.service_moistures().get(assumed.place)
    if service is None and spec.moisture_percent is None:
        raise ValueError(NO_PLACE)
    percent = service.expected_percent if service else spec.moisture_percent
    wanted, moved = spec.wanted(), movement(wood, percent)
    sides = _sides(spec, wood, wanted, moved, limits, assumed)
    in_place = movement(wood, percent, spec.moisture_percent)
    sizes = (sides[0].work_to_mm, sides[1].work_to_mm)
    ways = ways_to_cut(
        *sizes, wanted.directions, in_place, limits, upright_face=wanted.face == MOULDED
    )
    drawn = drawn_alike([way.sheet for way in ways], assumed.exaggeration, assumed.units, key="way")
    green = None
    if spec.seasoning == "green" and service:
        green = _green(wanted, (spec.sided_mm, spec.moulded_mm), wood, service, today)
    return SpecSums(
        service, percent, moved, in_place, wanted, limits, sides,
        list(zip(ways, drawn, strict=True)), green,
    )  # fmt: skip


def _sides(
    spec: ReplacementSpec,
    wood: Wood,
    wanted: Wanted,
    moved: Movement,
    limits: RingLimits,
    assumed: Assumed,
) -> tuple[SawnSide, SawnSide]:
    dry = spec.moisture_percent
    before = movement(wood, dry) if dry is not None else None
    return tuple(
        sawn_side(
            wanted,
            side,
            (moved.radial_percent, moved.tangential_percent),
            limits,
            assumed.allowances,
            step_mm=saw_mark_mm(assumed.units),
            planed_dry=before is not None,
            fitted_shrinkages=(before.radial_percent, before.tangential_percent)
            if before
            else (0.0, 0.0),
        )
        for side in (SIDED, MOULDED)
    )


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
    return GreenFit(along, drying_pace(wood, thin), today, visits(today, most, wood, thin, service))
