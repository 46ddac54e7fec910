"""The pieces to lay out on a face: their outline, how far they may turn from the grain, their hand.

A piece's own frame: millimetres, x along its grain, the middle of its bounding box at nought.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import Polygon
from shapely.affinity import rotate

from restoration.calc.pattern import Pattern, checked, outline_polygon

Point = tuple[float, float]

STEEPEST_GRAIN_DEG = 45.0
MOST_COPIES = 60
WIDEST_GAP_MM = 100.0
HANDS = {
    "either": "either face up",
    "drawn": "as drawn",
    "mirrored": "mirrored, for the other side",
}


@dataclass(frozen=True)
class Piece:
    """One piece to be cut. `hand` is a key of HANDS; `worth` counts as the area where it is None.

    `turn_deg` is how far its grain line may lie from the chalk line, to either side. End for end
    it may always be turned, for grain runs both ways.
    """

    key: str
    label: str
    outline_mm: tuple[Point, ...]
    sided_mm: float
    turn_deg: float = 5.0
    hand: str = "either"
    worth: float | None = None
    sapwood_allowed: bool = False

    def area_mm2(self) -> float:
        return float(Polygon(self.outline_mm).area)

    def counts(self) -> float:
        return self.area_mm2() if self.worth is None else self.worth

    def mirrorings(self) -> tuple[bool, ...]:
        return {"either": (False, True), "drawn": (False,), "mirrored": (True,)}[self.hand]


def rectangle(key: str, label: str, *, long_mm: float, wide_mm: float, sided_mm: float) -> Piece:
    """A straight piece, its grain along its length."""
    half, side = long_mm / 2, wide_mm / 2
    corners = ((-half, -side), (half, -side), (half, side), (-half, side))
    return Piece(key, label, corners, sided_mm, hand="drawn")


def from_pattern(key: str, label: str, pattern: Pattern) -> Piece:
    """The outline of a pattern turned so that its grain runs along x.

    A pattern with bevels is cut as drawn: turned over, its bevels would stand the wrong way
    unless they are marked afresh.
    """
    shape = rotate(outline_polygon(checked(pattern)), -pattern.grain_deg, origin=(0, 0))
    hand = "drawn" if pattern.bevels else "either"
    return Piece(key, label, centred(_ring(shape)), pattern.sided_mm, hand=hand)


def copies(piece: Piece, quantity: int, *, other_side: int = 0) -> tuple[Piece, ...]:
    """Each of several alike as a piece of its own, those for the other side mirrored."""
    over = "either" if piece.hand == "either" else "mirrored"
    hands = [piece.hand] * quantity + [over] * other_side
    return tuple(
        replace(
            piece,
            key=piece.key if number == 1 else f"{piece.key}.{number}",
            label=piece.label if len(hands) == 1 else f"{piece.label} ({number})",
            hand=hand,
        )
        for number, hand in enumerate(hands, 1)
    )


def centred(outline: Sequence[Point]) -> tuple[Point, ...]:
    """The outline with the middle of its bounding box at nought."""
    across = [x for x, _ in outline]
    up = [y for _, y in outline]
    x0, y0 = (min(across) + max(across)) / 2, (min(up) + max(up)) / 2
    return tuple((x - x0, y - y0) for x, y in outline)


def checked_pieces(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces, or ValueError with a sentence: none or too many, two of one key, an outline that
    encloses nothing or crosses itself, a grain angle not from 0 to 45 degrees."""
    if not pieces:
        raise ValueError("Choose at least one piece to lay out.")
    if len(pieces) > MOST_COPIES:
        raise ValueError(f"{MOST_COPIES} pieces can be laid out at once: leave some for later.")
    if len({piece.key for piece in pieces}) < len(pieces):
        raise ValueError("Two of the pieces have the same key.")
    for piece in pieces:
        _check(piece)
    return tuple(pieces)


def check_grain_deg(degrees: float) -> float:
    """The angle, or ValueError when it is not from 0 to 45 degrees."""
    if not (math.isfinite(degrees) and 0 <= degrees <= STEEPEST_GRAIN_DEG):
        raise ValueError(
            f"The grain may lie from 0 to {STEEPEST_GRAIN_DEG:g} degrees off the piece: beyond "
            "that it is cross grain."
        )
    return degrees


def check_gap_mm(gap_mm: float) -> float:
    """The gap, or ValueError when it is not from nothing to WIDEST_GAP_MM."""
    if not (math.isfinite(gap_mm) and 0 <= gap_mm <= WIDEST_GAP_MM):
        raise ValueError(f"The gap between pieces is nothing to {WIDEST_GAP_MM:g} mm.")
    return gap_mm


def _check(piece: Piece) -> None:
    figures = [piece.sided_mm, *(n for point in piece.outline_mm for n in point)]
    if not all(math.isfinite(n) for n in figures) or piece.sided_mm <= 0:
        raise ValueError(f"{piece.label}: its siding and every figure must be plain numbers.")
    if len(piece.outline_mm) < 3:
        raise ValueError(f"{piece.label}: an outline needs three corners or more.")
    shape = Polygon(piece.outline_mm)
    if not shape.is_valid or shape.area < 100:
        raise ValueError(f"{piece.label}: its outline encloses next to nothing or crosses itself.")
    if piece.hand not in HANDS:
        raise ValueError(f"{piece.hand!r} is no hand of a piece: {', '.join(HANDS)}.")
    if not math.isfinite(piece.counts()) or piece.counts() < 0:
        raise ValueError(f"{piece.label}: what it is worth must be nothing or more.")
    check_grain_deg(piece.turn_deg)


def _ring(shape: Polygon) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])
