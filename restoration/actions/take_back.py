"""A cutting or a fitting that was recorded by mistake, taken back while nothing rests on it."""

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration import timber
from restoration.actions.allotments import write_holder
from restoration.models import Allotment, ReplacementSpec, RetightenTask
from timber_stock.web.days import day_said


@transaction.atomic
def take_back_lengths(*, spec: ReplacementSpec, stage: str) -> list[Allotment]:
    """Of the lengths of a replacement those that were sawn, or fitted, on the last such day."""
    field = {"sawn": "cut", "fitted": "fitted"}[stage]
    for board_id in sorted(set(spec.allotments.standing().values_list("board_id", flat=True))):
        timber.lock_board(board_id)
    lengths = list(spec.allotments.standing().select_for_update())
    days = [day for a in lengths if (day := getattr(a, f"{field}_on"))]
    last = [a for a in lengths if days and getattr(a, f"{field}_on") == max(days)]
    for length in last:
        _take_back(length, field)
    return last


def _take_back(length: Allotment, field: str) -> None:
    if field == "fitted":
        _no_visit_was_made(length)
        length.retightenings.open().delete()
    elif length.fitted_on:
        raise ValidationError("A length of it is fitted: its cutting stays as it is recorded.")
    setattr(length, f"{field}_on", None)
    setattr(length, f"{field}_by", "")
    length.full_clean()
    length.save()
    write_holder(length.board_id)


def _no_visit_was_made(length: Allotment) -> None:
    made = RetightenTask.objects.filter(allotment=length, done_on__isnull=False).first()
    if made:
        raise ValidationError(
            f"Its nuts were seen to on {day_said(made.done_on)}: the fitting stays "
            "as it is recorded."
        )
