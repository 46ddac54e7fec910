"""Promising lengths of boards to replacements, cutting them, fitting them, taking promises back."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from restoration import timber
from restoration.actions.retightening import propose_visits
from restoration.models import Allotment, ReplacementSpec, User
from timber_stock.web.days import day_said
from timber_stock.web.fields import format_for

PROMISED = (
    "Part of {board} between {start} and {end} is promised already. Choose a length that is free."
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
            _check_stands(spec)
            _check_can_be_promised(board, allotment)
            allotment.full_clean()
            allotment.save()
            write_holder(board_id)
    except IntegrityError as error:  # the database's own word, should two ever pass the check
        raise ValidationError(_promised(allotment)) from error
    return allotment


@transaction.atomic
def record_cut(*, allotment: Allotment, on: date, by: str) -> Allotment:
    allotment = _locked(allotment)
    if allotment.cut_on:
        raise ValidationError(f"This piece was cut on {day_said(allotment.cut_on)} already.")
    allotment.cut_on, allotment.cut_by = on, by
    return _save(allotment)


@transaction.atomic
def record_fitted(*, allotment: Allotment, on: date, by: str) -> Allotment:
    allotment = _locked(allotment)
    if not allotment.cut_on:
        raise ValidationError("Record the cutting first: a piece is cut before it is fitted.")
    if allotment.fitted_on:
        raise ValidationError(f"This piece was fitted on {day_said(allotment.fitted_on)} already.")
    allotment.fitted_on, allotment.fitted_by = on, by
    allotment = _save(allotment)
    propose_visits(allotment)
    return allotment


@transaction.atomic
def withdraw_allotment(*, allotment: Allotment, on: date, reason: str) -> Allotment:
    allotment = _locked(allotment)
    if allotment.cut_on:
        raise ValidationError("This piece has been cut: it cannot be withdrawn any more.")
    if not reason.strip():
        raise ValidationError("Say why the allotment is withdrawn.")
    allotment.withdrawn_on, allotment.withdrawn_reason = on, reason.strip()
    return _save(allotment)


@transaction.atomic
def relabel_boards(*, members) -> None:
    """When a mark or a vessel's code has changed: the boards kept for these members say so."""
    kept = Allotment.objects.standing().filter(spec__finding__member__in=members)
    for board_id in sorted(set(kept.values_list("board_id", flat=True))):
        write_holder(board_id)


def _locked(allotment: Allotment) -> Allotment:
    timber.lock_board(allotment.board_id)
    # Held too, so that nobody changes what is asked for while a piece is being cut to it.
    ReplacementSpec.objects.select_for_update().get(pk=allotment.spec_id)
    allotment = Allotment.objects.select_for_update().get(pk=allotment.pk)
    if allotment.withdrawn_on:
        raise ValidationError("This allotment was withdrawn.")
    return allotment


def _save(allotment: Allotment) -> Allotment:
    allotment.full_clean()
    allotment.save()
    write_holder(allotment.board_id)
    return allotment


def _check_stands(spec: ReplacementSpec) -> None:
    if ReplacementSpec.objects.select_for_update().get(pk=spec.pk).withdrawn_on:
        raise ValidationError("This specification was withdrawn: nothing can be allotted to it.")


def _check_can_be_promised(board, allotment: Allotment) -> None:
    from_mm, to_mm = allotment.from_mm, allotment.to_mm
    if not board.is_in_stock():
        raise ValidationError(f"{board.tag} is {board.get_state_display()}: it cannot be promised.")
    if to_mm > board.length_mm + 0.5:
        units = allotment.allotted_by.units
        long, end = format_for(board.length_mm, units), format_for(to_mm, units)
        raise ValidationError(f"{board.tag} is {long} long: it has no length to {end}.")
    overlap = Allotment.objects.standing().filter(
        board_id=board.pk, from_mm__lt=to_mm, to_mm__gt=from_mm
    )
    if overlap.exists():
        raise ValidationError(_promised(allotment))


def _promised(allotment: Allotment) -> str:
    """Told the way that whoever promised it reads lengths."""
    units = allotment.allotted_by.units
    start, end = (format_for(mm, units) for mm in (allotment.from_mm, allotment.to_mm))
    return PROMISED.format(board=allotment.board, start=start, end=end)


def write_holder(board_id: int) -> None:
    """Tell the stock, in plain words, whom a board is kept for, and what was cut out of it."""
    standing = Allotment.objects.standing().filter(board_id=board_id)
    waiting = standing.filter(cut_on=None).values_list(
        "spec__finding__member__vessel__code", "spec__finding__member__mark"
    )
    label = ", ".join(sorted({f"{code}-{mark}" for code, mark in waiting}))
    cut = standing.filter(cut_on__isnull=False)
    timber.set_holder(
        board_id=board_id, held_for=label, cut_away_mm=sum(a.length_mm() for a in cut)
    )
