"""What a log cost, followed through the saw to the lengths that members took and what is left.

Each piece carries three things, which together are its cost:

- *timber*: what the wood in it cost, as it was bought;
- *waste*: what the wood cost that became sawdust, slabs, edgings and shavings on its way;
- *sawing*: its share of what the sawyers were paid.

At a saw the cost of what went in, and of that sawing, falls on the pieces that came out, by their
volume or by their worth. Along a board it falls by length on the lengths allotted and on the rest.
What is still in stock keeps its own share; of a board that is used up, the lengths taken carry the
rest. Rules of our own, stated on the page that shows the figures; the sums are exact to the cent.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from restoration.calc.money_spread import NOTHING, in_cents, part_of, spread

ROUNDING = 1e-6
REST = ""  # no length and no sawing is called so


@dataclass(frozen=True)
class Carried:
    """What a piece carries, in money: see the head of this module."""

    timber: Decimal = NOTHING
    waste: Decimal = NOTHING
    sawing: Decimal = NOTHING

    @property
    def total(self) -> Decimal:
        return self.timber + self.waste + self.sawing

    def __add__(self, other: "Carried") -> "Carried":
        return Carried(
            self.timber + other.timber, self.waste + other.waste, self.sawing + other.sawing
        )


@dataclass(frozen=True)
class Length:
    """A length of a board that went to a member: `taken_mm3` of wood, `finished_mm3` left of it."""

    key: str
    length_mm: float
    taken_mm3: float
    finished_mm3: float


@dataclass(frozen=True)
class Sawn:
    """One sawing: `in_mm3` went in, `cost` was paid for it, these pieces came out."""

    key: str
    in_mm3: float
    cost: Decimal
    pieces: tuple["Board", ...]


@dataclass(frozen=True)
class Board:
    """A board with the lengths taken from it; `rest` is what became of the remainder.

    `rest` is "stock", "used" (nothing is left to use), "gone" (sold or scrapped) or "sawn", which
    is told by `sawn`. `worth` is the price set on the whole board, if one was.
    """

    key: str
    volume_mm3: float
    length_mm: float
    worth: Decimal | None = None
    lengths: tuple[Length, ...] = ()
    rest: str = "stock"
    sawn: Sawn | None = None


@dataclass(frozen=True)
class Log:
    """A log: what was paid for it lying in the yard, and what was sawn of it."""

    key: str
    cost: Decimal
    unsawn_mm3: float
    sawings: tuple[Sawn, ...]


@dataclass(frozen=True)
class Entry:
    """Where a part of the cost came to rest: "length", "stock", "used", "gone" or "unsawn"."""

    key: str
    kind: str
    carried: Carried


def of_log(log: Log, *, by_worth: bool = False) -> list[Entry]:
    """Where all that was paid for the log and its sawing lies now.

    The log's own cost is spread over its sawings, by the volume each took, and over what is not
    sawn yet. The entries add up to the log's cost and that of every sawing, to the cent.
    """
    took = {sawn.key: sawn.in_mm3 for sawn in log.sawings}
    shares = spread(log.cost, took | {REST: max(log.unsawn_mm3, 0.0)})
    entries = []
    if log.unsawn_mm3 > 0:
        entries.append(Entry(log.key, "unsawn", Carried(shares[REST])))
    for sawn in log.sawings:
        entries += _through(sawn, Carried(shares[sawn.key]), by_worth)
    return entries


def of_board(board: Board, cost: Decimal, *, by_worth: bool = False) -> list[Entry]:
    """The same for a board that was bought sawn at this cost."""
    return list(_along(board, Carried(in_cents(cost)), by_worth))


def weights_of(pieces: Sequence[Board], by_worth: bool) -> tuple[dict[str, float], bool]:
    """What each piece is measured by, and whether that is its worth.

    By worth only where a price above nothing is set on every piece of the sawing; else by volume.
    """
    priced = [piece.worth for piece in pieces if piece.worth]
    if by_worth and len(priced) == len(pieces):
        return {piece.key: float(piece.worth or 0) for piece in pieces}, True
    return {piece.key: piece.volume_mm3 for piece in pieces}, False


def _through(sawn: Sawn, carried: Carried, by_worth: bool) -> Iterator[Entry]:
    """At the saw: what became sawdust and slabs turns from timber into waste."""
    out = math.fsum(piece.volume_mm3 for piece in sawn.pieces)
    if sawn.in_mm3 <= 0 or out > sawn.in_mm3 * (1 + ROUNDING):
        raise ValueError("More came off the saw than went in: the cost cannot be spread.")
    paid = carried + Carried(sawing=in_cents(sawn.cost))
    kept = _with_waste(paid, out / sawn.in_mm3)
    weights, _ = weights_of(sawn.pieces, by_worth)
    shares = shared(kept, weights)
    for piece in sawn.pieces:
        yield from _along(piece, shares[piece.key], by_worth)


def _along(board: Board, carried: Carried, by_worth: bool) -> Iterator[Entry]:
    """Along a board: by length to each length taken, and to the rest."""
    taken = {length.key: length.length_mm for length in board.lengths}
    rest_mm = max(0.0, board.length_mm - math.fsum(taken.values()))
    used_up = board.rest == "used" and taken
    if used_up:
        carried = _with_waste(carried, 1 - rest_mm / board.length_mm)
        rest_mm = 0.0
    shares = shared(carried, taken | {REST: rest_mm})
    for length in board.lengths:
        finished = min(1.0, length.finished_mm3 / length.taken_mm3)
        yield Entry(length.key, "length", _with_waste(shares[length.key], finished))
    if board.sawn is not None:
        yield from _through(board.sawn, shares[REST], by_worth)
    elif rest_mm > 0:
        yield Entry(board.key, board.rest, shares[REST])


def shared(carried: Carried, weights: Mapping[str, float]) -> dict[str, Carried]:
    """Each of the three shared out by the same weights."""
    timber, waste, sawing = (
        spread(amount, weights) for amount in (carried.timber, carried.waste, carried.sawing)
    )
    return {key: Carried(timber[key], waste[key], sawing[key]) for key in weights}


def _with_waste(carried: Carried, kept: float) -> Carried:
    """Of the timber only this share is left; the rest of it is carried as waste."""
    timber = part_of(carried.timber, min(1.0, max(0.0, kept)))
    return Carried(timber, carried.waste + carried.timber - timber, carried.sawing)
