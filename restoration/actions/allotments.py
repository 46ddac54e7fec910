"""Promising lengths of boards to replacements, cutting them, fitting them, taking promises back."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from restoration import timber
from restoration.models import Allotment, ReplacementSpec, User

PROMISED = (
    "Part of {board} between {start:.0f} and {end:.0f} mm is promised already. "
    "Choose a length that is free."
)


def allot_board(
    *,
    spec: ReplacementSpec,
    board_id: int,
    from_mm: float,
    to_mm: float,
    by: User,
    on: date,
    note: str = "",
) -> Allotment:
    """Promise a length of a board to a replacement; the same length is never promised twice."""
    allotment = Allotment(
        spec=spec,
        board_id=board_id,
        from_mm=from_mm,
        to_mm=to_mm,
        allotted_by=by,
        allotted_on=on,
        note=note,
    )
    try:
        with transaction.atomic():
            board = timber.lock_board(board_id)
            _check_can_be_promised(board, spec, from_mm, to_mm)
            allotment.full_clean()
            allotment.save()
            _write_holder(board_id)
    except IntegrityError as error:  # the database's own word, should two ever pass the check
        raise ValidationError(_promised(allotment)) from error
    return allotment


@transaction.atomic
def record_cut(*, allotment: Allotment, on: date, by: str) -> Allotment:
    allotment = _locked(allotment)
    if allotment.cut_on:
        raise ValidationError(f"This piece was cut on {allotment.cut_on:%d %B %Y} already.")
    allotment.cut_on, allotment.cut_by = on, by
    return _save(allotment)


@transaction.atomic
def record_fitted(*, allotment: Allotment, on: date, by: str) -> Allotment:
    allotment = _locked(allotment)
    if not allotment.cut_on:
        raise ValidationError("Record the cutting first: a piece is cut before it is fitted.")
    if allotment.fitted_on:
        raise ValidationError(f"This piece was fitted on {allotment.fitted_on:%d %B %Y} already.")
    allotment.fitted_on, allotment.fitted_by = on, by
    return _save(allotment)


@transaction.atomic
def withdraw_allotment(*, allotment: Allotment, on: date, reason: str) -> Allotment:
    allotment = _locked(allotment)
    if allotment.cut_on:
        raise ValidationError("This piece has been cut: it cannot be withdrawn any more.")
    if not reason.strip():
        raise ValidationError("Say why the allotment is withdrawn.")
    allotment.withdrawn_on, allotment.withdrawn_reason = on, reason
    return _save(allotment)


def _locked(allotment: Allotment) -> Allotment:
    timber.lock_board(allotment.board_id)
    allotment = Allotment.objects.select_for_update().get(pk=allotment.pk)
    if allotment.withdrawn_on:
        raise ValidationError("This allotment was withdrawn.")
    return allotment


def _save(allotment: Allotment) -> Allotment:
    allotment.full_clean()
    allotment.save()
    _write_holder(allotment.board_id)
    return allotment


def _check_can_be_promised(board, spec, from_mm: float, to_mm: float) -> None:
    if spec.withdrawn_on:
        raise ValidationError("This specification was withdrawn.")
    if not board.is_in_stock():
        raise ValidationError(f"{board.tag} is {board.get_state_display()}: it cannot be promised.")
    if to_mm > board.length_mm + 0.5:
        raise ValidationError(
            f"{board.tag} is {board.length_mm:.0f} mm long: it has no length to {to_mm:.0f} mm."
        )
    overlap = Allotment.objects.standing().filter(
        board_id=board.pk, from_mm__lt=to_mm, to_mm__gt=from_mm
    )
    if overlap.exists():
        raise ValidationError(PROMISED.format(board=board.tag, start=from_mm, end=to_mm))


def _promised(allotment: Allotment) -> str:
    return PROMISED.format(board=allotment.board, start=allotment.from_mm, end=allotment.to_mm)


def _write_holder(board_id: int) -> None:
    """The plain label on the board that tells the stock whom it is kept for."""
    standing = Allotment.objects.standing().filter(board_id=board_id)
    names = standing.values_list(
        "spec__finding__member__vessel__code", "spec__finding__member__mark"
    )
    label = ", ".join(sorted({f"{code}-{mark}" for code, mark in names}))
    timber.set_holder(board_id=board_id, held_for=label)
