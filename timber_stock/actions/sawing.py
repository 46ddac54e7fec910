"""At the saw: a log or a board goes in, boards come out, and the books balance."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction

from timber_stock.models import Board, Log, Sawing
from timber_stock.models.board import State
from timber_stock.web.days import day_said

from .pieces import (
    Balance,
    Piece,
    board_balance,
    check_enough,
    check_fits_board,
    check_fits_log,
    log_balance,
)
from .tag_book import hold_tag_book


@transaction.atomic
def saw_log(
    *,
    log: Log,
    pieces: Sequence[Piece],
    sawn_on: date,
    sawn_by: str,
    kerf_mm: float,
    finishes_log: bool = False,
    cost: Decimal | None = None,
    note: str = "",
) -> Sawing:
    """Take boards out of a log; what is left of it stays a log until it is said to be finished."""
    hold_tag_book()
    log = Log.objects.select_for_update().get(pk=log.pk)
    if log.is_sawn_up:
        raise ValidationError(f"{log.tag} is sawn up: nothing is left of it to saw.")
    _check_after(log.felled_on, sawn_on, f"{log.tag} was felled")
    _check_asked(pieces, kerf_mm)
    for piece in pieces:
        check_fits_log(piece, log)
    balance = log_balance(log, pieces, kerf_mm, finishes_log=finishes_log)
    check_enough(log.tag, balance)
    about = {"sawn_on": sawn_on, "sawn_by": sawn_by, "kerf_mm": kerf_mm, "note": note}
    sawing = Sawing(source_log=log, cost=cost, **about)
    _save_sawing(sawing, balance)
    log.taken_mm3 = min(log.solid_mm3, log.taken_mm3 + balance.in_mm3)
    log.is_sawn_up = finishes_log
    log.save(update_fields=["taken_mm3", "is_sawn_up"])
    _make_boards(sawing, pieces, species_id=log.species_id, log=log)
    return sawing


@transaction.atomic
def resaw_board(
    *,
    board: Board,
    pieces: Sequence[Piece],
    sawn_on: date,
    sawn_by: str,
    kerf_mm: float,
    cost: Decimal | None = None,
    note: str = "",
) -> Sawing:
    """Turn one board into smaller ones. The board itself is then no longer in stock."""
    hold_tag_book()
    board = Board.objects.select_for_update().get(pk=board.pk)
    _check_can_be_resawn(board)
    if board.sawing:
        _check_after(board.sawing.sawn_on, sawn_on, f"{board.tag} was itself sawn")
    _check_asked(pieces, kerf_mm)
    for piece in pieces:
        check_fits_board(piece, board)
    balance = board_balance(board, pieces, kerf_mm)
    check_enough(board.tag, balance)
    about = {"sawn_on": sawn_on, "sawn_by": sawn_by, "kerf_mm": kerf_mm, "note": note}
    sawing = Sawing(source_board=board, cost=cost, **about)
    _save_sawing(sawing, balance)
    board.state = State.RESAWN
    board.save(update_fields=["state"])
    _make_boards(sawing, pieces, species_id=board.species_id, log=board.log)
    return sawing


def _check_can_be_resawn(board: Board) -> None:
    if not board.is_in_stock():
        raise ValidationError(
            f"{board.tag} is {board.get_state_display()}: it cannot be sawn again."
        )
    if board.held_for:
        raise ValidationError(
            f"{board.tag} is held for {board.held_for}. Withdraw that allotment first."
        )


def _check_asked(pieces: Sequence[Piece], kerf_mm: float) -> None:
    if not pieces:
        raise ValidationError("Enter at least one piece that came off the saw.")
    if not kerf_mm >= 0:
        raise ValidationError("The kerf cannot be less than nothing.")


def _check_after(before: date | None, sawn_on: date, what: str) -> None:
    if before and sawn_on < before:
        raise ValidationError(
            f"{what} on {day_said(before)}: it cannot have gone through the saw before that."
        )


def _save_sawing(sawing: Sawing, balance: Balance) -> None:
    sawing.in_mm3 = balance.in_mm3
    sawing.out_mm3 = balance.out_mm3
    sawing.kerf_mm3 = balance.kerf_mm3
    sawing.full_clean()
    sawing.save()


def _make_boards(
    sawing: Sawing, pieces: Sequence[Piece], *, species_id: int, log: Log | None
) -> None:
    for piece in pieces:
        board = Board(sawing=sawing, log=log, species_id=species_id, **vars(piece))
        try:
            board.full_clean()
        except ValidationError as error:
            raise ValidationError([f"{piece.tag}: {m}" for m in error.messages]) from error
        board.save()
