"""Entering a board bought sawn, correcting any board, and writing on it whom it is kept for."""

from collections.abc import Collection

from django.core.exceptions import ValidationError
from django.db import transaction

from timber_stock.models import Board, Log, Sawing
from timber_stock.models.board import State

from .logs import balance_books
from .pieces import (
    board_balance,
    check_enough,
    check_fits_board,
    check_fits_log,
    kerf_volume_mm3,
)
from .tag_book import hold_tag_book

SIZES = {"thickness_mm", "width_mm", "length_mm"}


@transaction.atomic
def enter_board(*, board: Board) -> Board:
    """Take a board that was bought sawn into the stock."""
    hold_tag_book()
    board.full_clean()
    board.save()
    return board


@transaction.atomic
def correct_board(*, board: Board, changed: Collection[str]) -> Board:
    """Write the `changed` fields of `board` and leave the rest as they are now.

    What was promised or resawn meanwhile by someone else stays so.
    """
    sizes_change = not SIZES.isdisjoint(changed)
    if sizes_change and board.sawing:
        _lock_source(board.sawing)
    stored = Board.objects.select_for_update().get(pk=board.pk)
    if "state" in changed:
        _check_state_may_become(stored, board.state)
    if sizes_change:
        _check_sizes_may_change(stored)
    for name in changed:
        setattr(stored, name, getattr(board, name))
    stored.full_clean()
    stored.save(update_fields=list(changed))
    if sizes_change and stored.sawing:
        _weigh_again(stored.sawing, stored)
    return stored


@transaction.atomic
def set_holder(*, board_id: int, held_for: str, cut_away_mm: float) -> None:
    """Write on a board whom it is kept for, and how much of its length has been cut out of it.

    The label and that length are all that the stock knows of it.
    """
    board = Board.objects.select_for_update().get(pk=board_id)
    board.held_for, board.cut_away_mm = held_for[:300], min(cut_away_mm, board.length_mm)
    board.save(update_fields=["held_for", "cut_away_mm"])


def _check_state_may_become(board: Board, state: str) -> None:
    if board.state == State.RESAWN:
        raise ValidationError({"state": f"{board.tag} was resawn: its pieces have states now."})
    if state == State.RESAWN:
        raise ValidationError({"state": "Record the resawing, with the pieces that came out."})
    if state == State.GONE and board.held_for:
        raise ValidationError(
            {"state": f"{board.tag} is held for {board.held_for}. Withdraw that allotment first."}
        )


def _check_sizes_may_change(board: Board) -> None:
    if board.state == State.RESAWN:
        raise ValidationError(
            f"{board.tag} was resawn: its sizes stay as they were when it went through the saw."
        )
    if board.held_for:
        raise ValidationError(
            f"{board.tag} is held for {board.held_for}: its sizes stay while a length of it is "
            "promised."
        )
    if board.cut_away_mm:
        raise ValidationError(
            f"A length has been cut out of {board.tag}: its sizes stay as they were then."
        )


def _lock_source(sawing: Sawing) -> None:
    """The source before the piece, always: two who do it in one order cannot block each other."""
    if sawing.source_log_id:
        Log.objects.select_for_update().get(pk=sawing.source_log_id)
    else:
        Board.objects.select_for_update().get(pk=sawing.source_board_id)


def _weigh_again(sawing: Sawing, board: Board) -> None:
    """After a piece changed its size, what came out still cannot exceed what went in."""
    pieces = list(sawing.pieces.all())
    sawing.out_mm3 = sum(piece.volume_mm3() for piece in pieces)
    if sawing.source_board:
        check_fits_board(board, sawing.source_board)
        balance = board_balance(sawing.source_board, pieces, sawing.kerf_mm)
        check_enough(sawing.source_board.tag, balance)
        sawing.kerf_mm3 = balance.kerf_mm3
        sawing.save(update_fields=["out_mm3", "kerf_mm3"])
        return
    log = sawing.source_log
    check_fits_log(board, log)
    sawing.kerf_mm3 = kerf_volume_mm3(pieces, sawing.kerf_mm)
    sawing.in_mm3 = sawing.out_mm3 + sawing.kerf_mm3
    sawing.save(update_fields=["in_mm3", "out_mm3", "kerf_mm3"])
    balance_books(log)
    log.save(update_fields=["taken_mm3"])
