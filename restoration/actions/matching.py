"""Taking what was proposed for the whole yard: each length through the same door as any other."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.allotments import allot_board
from restoration.models import Allotment, ReplacementSpec, User

NOTE = "as proposed for the whole yard"


@transaction.atomic
def accept_proposed(
    *, spec_id: int, board_id: int, from_mm: float, to_mm: float, by: User, on: date
) -> Allotment:
    """Allot a proposed length, if the replacement still waits and still asks for no more."""
    specs = ReplacementSpec.objects.select_for_update(of=("self",))
    spec = specs.select_related("finding__member__vessel").filter(pk=spec_id).first()
    if spec is None:
        raise ValidationError("That replacement is not in the register any more.")
    member = spec.finding.member
    mark = f"{member.vessel.code}-{member.mark}"
    if spec.allotments.standing().exists():
        raise ValidationError(f"{mark} has its timber already.")
    if to_mm - from_mm < spec.length_mm - 0.5:
        raise ValidationError(f"{mark} asks for more than this length now: look again.")
    return allot_board(
        spec=spec, board_id=board_id, from_mm=from_mm, to_mm=to_mm, by=by, on=on, note=NOTE
    )
