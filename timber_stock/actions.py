"""Every write to the stock that touches more than one row."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from .models import Board, Log, Sawing
from .models.board import State


@dataclass(frozen=True)
class Piece:
    """One piece as it came off the saw."""

    tag: str
    thickness_mm: float
    width_mm: float
    length_mm: float
    heart: str = "unknown"
    rings: str = "unknown"
    has_sapwood: bool = False
    place: str = ""
    state: str = State.GREEN

    def volume_mm3(self) -> float:
        return self.thickness_mm * self.width_mm * self.length_mm


def kerf_volume_mm3(pieces: Sequence[Piece], kerf_mm: float) -> float:
    """Sawdust, counted as one cut along the wide face of each piece: the least there can be."""
    return sum(kerf_mm * max(p.thickness_mm, p.width_mm) * p.length_mm for p in pieces)


@transaction.atomic
def saw_log(
    *,
    log: Log,
    pieces: Sequence[Piece],
    sawn_on: date,
    sawn_by: str,
    kerf_mm: float,
    finishes_log: bool = False,
    note: str = "",
) -> Sawing:
    """Take boards out of a log; what is left of it stays a log until it is said to be finished."""
    log = Log.objects.select_for_update().get(pk=log.pk)
    if log.is_sawn_up:
        raise ValidationError(f"{log.tag} is sawn up: nothing is left of it to saw.")
    for piece in pieces:
        _check_fits_log(piece, log)
    out, dust = _amounts(pieces, kerf_mm)
    went_in = log.unsawn_mm3() if finishes_log else out + dust
    if out + dust > log.unsawn_mm3() * 1.000001:
        raise ValidationError(_too_much(log.tag, out, dust, log.unsawn_mm3()))
    sawing = Sawing(source_log=log, sawn_on=sawn_on, sawn_by=sawn_by, kerf_mm=kerf_mm, note=note)
    _save_sawing(sawing, went_in, out, dust)
    log.taken_mm3 = min(log.solid_mm3, log.taken_mm3 + went_in)
    log.is_sawn_up = finishes_log
    log.save(update_fields=["taken_mm3", "is_sawn_up", "solid_mm3"])
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
    note: str = "",
) -> Sawing:
    """Turn one board into smaller ones. The board itself is then no longer in stock."""
    board = Board.objects.select_for_update().get(pk=board.pk)
    if not board.is_in_stock():
        raise ValidationError(
            f"{board.tag} is {board.get_state_display()}: it cannot be sawn again."
        )
    if board.held_for:
        raise ValidationError(
            f"{board.tag} is held for {board.held_for}. Withdraw that allotment first."
        )
    for piece in pieces:
        _check_fits_board(piece, board)
    out, dust = _amounts(pieces, kerf_mm)
    if out + dust > board.volume_mm3() * 1.000001:
        raise ValidationError(_too_much(board.tag, out, dust, board.volume_mm3()))
    sawing = Sawing(
        source_board=board, sawn_on=sawn_on, sawn_by=sawn_by, kerf_mm=kerf_mm, note=note
    )
    _save_sawing(sawing, board.volume_mm3(), out, dust)
    board.state = State.RESAWN
    board.save(update_fields=["state"])
    _make_boards(sawing, pieces, species_id=board.species_id, log=board.log)
    return sawing


@transaction.atomic
def set_holder(*, board_id: int, held_for: str) -> None:
    """Write on a board whom it is kept for; the label is all that the stock knows of it."""
    Board.objects.filter(pk=board_id).update(held_for=held_for[:300])


def _amounts(pieces: Sequence[Piece], kerf_mm: float) -> tuple[float, float]:
    if not pieces:
        raise ValidationError("Enter at least one piece that came off the saw.")
    if not kerf_mm >= 0:
        raise ValidationError("The kerf cannot be less than nothing.")
    return sum(p.volume_mm3() for p in pieces), kerf_volume_mm3(pieces, kerf_mm)


def _too_much(tag: str, out_mm3: float, dust_mm3: float, held_mm3: float) -> str:
    return (
        f"More would come out of {tag} than is in it: {out_mm3 / 1e9:.3f} m³ of boards and "
        f"{dust_mm3 / 1e9:.3f} m³ of kerf from {held_mm3 / 1e9:.3f} m³. Check the sizes."
    )


def _check_fits_log(piece: Piece, log: Log) -> None:
    diagonal = (piece.thickness_mm**2 + piece.width_mm**2) ** 0.5
    if piece.length_mm > log.length_mm + 0.5:
        raise ValidationError(f"{piece.tag} would be longer than the log {log.tag}.")
    if diagonal > max(log.butt_diameter_mm, log.top_diameter_mm) + 0.5:
        raise ValidationError(f"{piece.tag} is too big to come out of the log {log.tag}.")


def _check_fits_board(piece: Piece, board: Board) -> None:
    inside = sorted([piece.thickness_mm, piece.width_mm, piece.length_mm])
    outside = sorted([board.thickness_mm, board.width_mm, board.length_mm])
    if any(a > b + 0.5 for a, b in zip(inside, outside, strict=True)):
        raise ValidationError(f"{piece.tag} is too big to come out of {board.tag}.")


def _save_sawing(sawing: Sawing, went_in: float, out: float, dust: float) -> None:
    sawing.in_mm3, sawing.out_mm3, sawing.kerf_mm3 = went_in, out, dust
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
