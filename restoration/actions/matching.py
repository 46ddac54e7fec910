"""Taking what was proposed for the whole yard: each length through the same door as any other."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.allotments import allot_board
from restoration.calc.timber_found import ROUNDING_MM
from restoration.models import Allotment, ReplacementSpec, User
from restoration.models.replacement import LACKING, Stage

NOTE = "as proposed for the whole yard"


@transaction.atomic
def accept_proposed(
    *,
    spec_id: int,
    board_id: int,
    from_mm: float,
    to_mm: float,
    found_mm: float = 0.0,
    by: User,
    on: date,
) -> Allotment:
    """Allot a proposed length, if the replacement lacks what it lacked and asks for no more.

    found_mm: how much of it was found when this was proposed.
    """
    spec = _locked(spec_id)
    _check_still_wants(spec, to_mm - from_mm, found_mm)
    return allot_board(
        spec=spec, board_id=board_id, from_mm=from_mm, to_mm=to_mm, by=by, on=on, note=NOTE
    )


def _locked(spec_id: int) -> ReplacementSpec:
    """Locked first and read afterwards: what another has just allotted to it is seen."""
    if not ReplacementSpec.objects.select_for_update().filter(pk=spec_id).first():
        raise ValidationError("That replacement is not in the register any more.")
    return ReplacementSpec.objects.with_stage().for_list().get(pk=spec_id)


def _check_still_wants(spec: ReplacementSpec, long_mm: float, found_mm: float) -> None:
    member = spec.finding.member
    mark = f"{member.vessel.code}-{member.mark}"
    if spec.stage not in (*LACKING, Stage.WITHDRAWN):  # withdrawn: refused where it is allotted
        raise ValidationError(f"{mark} has its timber already.")
    if abs((spec.found_mm or 0.0) - found_mm) > ROUNDING_MM:
        raise ValidationError(f"What is found of {mark} has changed meanwhile: look again.")
    if long_mm < spec.still_wanted_mm() - ROUNDING_MM:
        raise ValidationError(f"{mark} asks for more than this length now: look again.")
