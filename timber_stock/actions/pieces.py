"""The pieces that come off the saw, and the sum that must come out: in, out, kerf and waste."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from django.core.exceptions import ValidationError

from timber_stock.models import Board, Log
from timber_stock.models.board import State

# Sizes are told to a sixteenth; sums of their products differ by less than this for no reason.
ROUNDING = 1e-6
SLACK_MM = 0.5


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


class Sides(Protocol):
    @property
    def thickness_mm(self) -> float: ...
    @property
    def width_mm(self) -> float: ...
    @property
    def length_mm(self) -> float: ...


class Sized(Protocol):
    tag: str
    thickness_mm: float
    width_mm: float
    length_mm: float

    def volume_mm3(self) -> float: ...


@dataclass(frozen=True)
class Balance:
    """What goes in at the saw and what becomes of it."""

    in_mm3: float
    out_mm3: float
    kerf_mm3: float

    def used_mm3(self) -> float:
        return self.out_mm3 + self.kerf_mm3

    def waste_mm3(self) -> float:
        """Slabs, edgings and ends: what went in and is neither board nor sawdust."""
        return max(0.0, self.in_mm3 - self.used_mm3())

    def is_too_much(self) -> bool:
        return self.used_mm3() > self.in_mm3 * (1 + ROUNDING)


def kerf_volume_mm3(pieces: Iterable[Sides], kerf_mm: float) -> float:
    """Sawdust out of a log, counted as one cut along the wide face of each piece."""
    return sum(kerf_mm * max(p.thickness_mm, p.width_mm) * p.length_mm for p in pieces)


def log_balance(
    log: Log, pieces: Sequence[Sized], kerf_mm: float, *, finishes_log: bool = False
) -> Balance:
    """Until a sawing finishes the log its slabs count as log still, so they are no waste yet."""
    out, dust = sum(p.volume_mm3() for p in pieces), kerf_volume_mm3(pieces, kerf_mm)
    left = log.unsawn_mm3()
    return Balance(left if finishes_log else min(left, out + dust), out, dust)


def board_balance(board: Board, pieces: Sequence[Sized], kerf_mm: float) -> Balance:
    """The sawdust is reckoned by the face each piece was cut along, and never fills more than
    what is left over: only what no way of sawing could spare is too much."""
    out = sum(p.volume_mm3() for p in pieces)
    reckoned = kerf_mm * sum(sum(cut_faces_mm2(p, board)[:1]) for p in pieces)
    dust = max(least_kerf_mm3(board, pieces, kerf_mm), min(reckoned, board.left_mm3() - out))
    return Balance(board.left_mm3(), out, dust)


def cut_faces_mm2(piece: Sides, board: Board) -> list[float]:
    """The faces the saw may have run along: of a piece thinner than the board its wide face, of
    a narrower one its edge, of a shorter one its end; none of a piece as big as the board."""
    small, middle, large = sorted([piece.thickness_mm, piece.width_mm, piece.length_mm])
    across = [(small, middle * large), (middle, small * large), (large, small * middle)]
    whole = sorted([board.thickness_mm, board.width_mm, board.left_mm()])
    return [face for (side, face), all_of_it in zip(across, whole, strict=True)
            if side < all_of_it - SLACK_MM]  # fmt: skip


def least_kerf_mm3(board: Board, pieces: Iterable[Sides], kerf_mm: float) -> float:
    """To part a board into n pieces takes n - 1 cuts, each at least the least face of a piece."""
    faces = sorted(min(cut_faces_mm2(p, board), default=0.0) for p in pieces)
    return kerf_mm * sum(faces[:-1])


def check_enough(tag: str, balance: Balance) -> None:
    if balance.is_too_much():
        raise ValidationError(
            f"More would come out of {tag} than is in it: {balance.out_mm3 / 1e9:.3f} m³ of "
            f"boards and {balance.kerf_mm3 / 1e9:.3f} m³ of kerf from "
            f"{balance.in_mm3 / 1e9:.3f} m³. Check the sizes."
        )


def check_fits_log(piece: Sized, log: Log) -> None:
    diagonal = (piece.thickness_mm**2 + piece.width_mm**2) ** 0.5
    if piece.length_mm > log.length_mm + SLACK_MM:
        raise ValidationError(f"{piece.tag} would be longer than the log {log.tag}.")
    if diagonal > max(*log.across("butt"), *log.across("top")) + SLACK_MM:
        raise ValidationError(f"{piece.tag} is too big to come out of the log {log.tag}.")


def check_fits_board(piece: Sized, board: Board) -> None:
    inside = sorted([piece.thickness_mm, piece.width_mm, piece.length_mm])
    outside = sorted([board.thickness_mm, board.width_mm, board.left_mm()])
    if any(a > b + SLACK_MM for a, b in zip(inside, outside, strict=True)):
        raise ValidationError(f"{piece.tag} is too big to come out of {board.tag}.")
