"""Which lengths of a board a layout takes, where lengths are promised and nothing narrower."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place, covered

HAIR_MM = 0.4


@dataclass(frozen=True)
class Taken:
    """A length from the butt and the keys of the pieces that lie in it, side by side or alone."""

    from_mm: float
    to_mm: float
    keys: tuple[str, ...]


def lengths_taken(pieces: Sequence[Piece], places: Sequence[Place]) -> tuple[Taken, ...]:
    """The lengths in order from the butt; pieces that share any length of the board are together.

    Two that only touch, or reach past each other by less than a hair (0.4 mm), are apart.
    """
    by_key = {piece.key: piece for piece in pieces}
    spans = sorted(
        (bounds[0], bounds[2], place.key)
        for place in places
        for bounds in (covered(by_key[place.key], place).bounds,)
    )
    found: list[Taken] = []
    for start, end, key in spans:
        last = found[-1] if found else None
        if last and start < last.to_mm - HAIR_MM:
            found[-1] = Taken(last.from_mm, max(last.to_mm, end), (*last.keys, key))
        else:
            found.append(Taken(max(start, last.to_mm if last else 0.0), end, (key,)))
    return tuple(found)
