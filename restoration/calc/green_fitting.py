"""A member fitted green: what it gives up along its bolts, and when to come back to the nuts.

The take-up is that of free shrinkage (`timber_stock.wood.take_up`), of this one member: what lies
under it on the same bolt adds its own. The figures say where to look and by when.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from restoration.calc.checks import above_zero
from restoration.calc.sawn_green import MOULDED, SIDED, Wanted
from timber_stock.wood.air_drying import TABLE_ROWS, DayRange, time_constant_days
from timber_stock.wood.heaviness import green_moisture
from timber_stock.wood.movement import Movement, movement
from timber_stock.wood.section_sheet import centred_mm, pith_for_direction_mm
from timber_stock.wood.service import ServiceMoisture
from timber_stock.wood.species import Species, all_species
from timber_stock.wood.take_up import Visit, bolt_take_up_mm, retightening

CAUTION = (
    "Slack bolts carry nothing. These figures say where to look and by when, for this one timber; "
    "the person with the spanner decides, and finds the rest. Keel bolts, and how tight any bolt "
    "is drawn, are for class rules and a competent surveyor."
)
THINNEST_MM, THICKEST_MM = 10.0, 400.0
LEAST_DRYING, MOST_DRYING = 31.0, 250.0
"""The drying times are for wood that is wet when it begins, within these percents."""


@dataclass(frozen=True)
class TakeUp:
    """What a bolt through one dimension of the member loses: expected, and at the driest."""

    through: str
    length_mm: float
    expected_mm: float
    most_mm: float


def take_up(
    wanted: Wanted,
    sawn_mm: tuple[float, float],
    wood: Species,
    service: ServiceMoisture,
    from_percent: float | None = None,
) -> tuple[TakeUp, TakeUp]:
    """Along a bolt through the sided and through the moulded dimension, mm.

    sawn_mm: sided and moulded as fitted; the finished sizes will do. from_percent: moisture at
    fitting; None is green. Of the ring directions accepted the one that shrinks most along the
    bolt is taken, so it is never promised too little. Raises ValueError for a wood whose shrinkage
    is not known.
    """
    expected, driest = (
        movement(wood, percent, from_percent)
        for percent in (service.expected_percent, service.least_percent)
    )
    sides = zip((SIDED, MOULDED), sawn_mm, strict=True)
    return tuple(  # type: ignore[return-value]
        TakeUp(
            side,
            length,
            _most_along(wanted, side, sawn_mm, expected),
            _most_along(wanted, side, sawn_mm, driest),
        )
        for side, length in sides
    )


def _most_along(wanted: Wanted, side: str, sawn_mm: tuple[float, float], moved: Movement) -> float:
    face, depth = sawn_mm if wanted.face == SIDED else sawn_mm[::-1]
    outline = centred_mm(face, depth)
    bolt = (
        ((-face / 2, 0.0), (face / 2, 0.0))
        if side == wanted.face
        else ((0.0, -depth / 2), (0.0, depth / 2))
    )
    shrinkages = max(0.0, moved.radial_percent), max(0.0, moved.tangential_percent)
    return max(
        bolt_take_up_mm(outline, pith_for_direction_mm(face, depth, each), *bolt, *shrinkages)
        for each in wanted.directions
    )


def within_table(thickness_mm: float) -> float:
    """The thickness nearest to this one that the drying times are given for, mm."""
    return min(THICKEST_MM, max(THINNEST_MM, above_zero(thickness_mm, "thickness")))


def drying_pace(wood: Species, thickness_mm: float) -> DayRange:
    """The time constant of drying, days: from the table's row of this wood, or from all its kind.

    Where the table has no row for the wood, the widest range of the hardwoods or softwoods in it
    is taken (standing A, assumed). thickness_mm: 10 to 400.
    """
    green = min(MOST_DRYING, max(LEAST_DRYING, green_moisture(wood).percent))
    if wood.key in TABLE_ROWS:
        return time_constant_days(wood.key, thickness_mm, green)
    alike = [key for key in TABLE_ROWS if all_species()[key].wood_group == wood.wood_group]
    found = [time_constant_days(key, thickness_mm, green) for key in alike]
    return DayRange(
        min(each.least_days for each in found),
        max(each.greatest_days for each in found),
        f"No drying time is known for {wood.common}: the widest range of the table's "
        f"{wood.wood_group}s is taken. {found[0].basis}",
        "A",
    )


def visits(
    fitted_on: date,
    most_mm: float,
    wood: Species,
    thickness_mm: float,
    service: ServiceMoisture,
    from_percent: float | None = None,
) -> tuple[Visit, ...]:
    """When to come back, and between what the take-up then lies, as it dries to the driest.

    Visits by common practice , then yearly. from_percent: moisture at
    fitting, None for green. No visits where nothing is to be taken up.
    """
    start = green_moisture(wood).percent if from_percent is None else from_percent
    settled = min(service.least_percent, start)
    return retightening(fitted_on, most_mm, start, settled, drying_pace(wood, thickness_mm))
