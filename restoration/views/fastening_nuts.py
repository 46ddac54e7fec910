"""How much the nuts of a layout must be taken up as its timbers dry."""

from dataclasses import dataclass

from restoration import timber
from restoration.calc.fastening_threads import pitch_mm
from restoration.models import FasteningPlan
from timber_stock.wood.movement import movement
from timber_stock.wood.take_up import nut_turns, stack_take_up_mm

BASIS = (
    "Free shrinkage along the bolt from green to the moisture of its place: least where the bolt "
    "runs square to the rings, most along them. A timber that is seasoned gives up less."
)


@dataclass(frozen=True)
class NutsToTakeUp:
    """What a bolt through both timbers may lose, mm, and the turns of each thread that is used."""

    place: str
    percent: float
    least_mm: float
    most_mm: float
    turns: tuple[tuple[str, float], ...]
    why_not: str = ""
    basis: str = BASIS


def nuts_of(plan: FasteningPlan) -> NutsToTakeUp | None:
    """None where no place in the boat is said or nothing dries in place."""
    service = timber.service_moistures().get(plan.place_in_boat)
    if service is None or plan.moisture == "dry":
        return None
    pieces = (
        (plan.head_wood or plan.head().wood, plan.head_thickness_mm * plan.planes),
        (plan.point_wood or plan.point().wood, plan.point_thickness_mm),
    )
    try:
        moved = [
            (movement(timber.figures_of(wood), service.least_percent), thick)
            for wood, thick in pieces
            if wood is not None
        ]
    except ValueError as error:
        return NutsToTakeUp(service.place, service.least_percent, 0, 0, (), str(error))
    least = stack_take_up_mm(max(0.0, m.radial_percent) / 100 * thick for m, thick in moved)
    most = stack_take_up_mm(max(0.0, m.tangential_percent) / 100 * thick for m, thick in moved)
    threads = dict.fromkeys(each.thread for each in plan.fastenings.all() if each.thread)
    turns = tuple((thread, nut_turns(most, pitch_mm(thread))) for thread in threads)
    return NutsToTakeUp(service.place, service.least_percent, least, most, turns)
