"""Which fastenings to draw: by lot, spread over the stations, and repeatable from a seed.

A lot is a hash of the seed and the fastening's mark, so the same seed and the same list give the
same drawing on any machine and in whatever order the list is written down, and the printed seed
lets anyone draw it again. A larger sample from the same seed keeps all that the smaller one chose.

The sample is shared out over the stations by odd divisors (Sainte-Lague), textbook apportionment:
no station is asked for more than it holds, and each gets about its share. With none bad, a sample
so spread is no less severe on the group than an unspread one of the same size, up to the rounding
to whole fastenings, so the bound in `sampling` may be used for the whole group. Groups that
differ in metal, age or place are sampled and bounded apart.
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from restoration.calc.checks import whole_number


@dataclass(frozen=True)
class Fastening:
    """One fastening that may be drawn: its mark in the yard's numbering, and its station."""

    mark: str
    station: str


def draw(fastenings: Sequence[Fastening], count: int, seed: str) -> tuple[Fastening, ...]:
    """Choose `count` fastenings by lot, shared out over their stations.

    seed: any text that is printed with the result. The answer is in the order of the list given.
    Raises ValueError for a mark that occurs twice, an empty seed, or too large a sample.
    """
    count = whole_number(count, "number to draw")
    if not seed:
        raise ValueError("A drawing by lot needs a seed, so that it can be repeated.")
    if not 0 <= count <= len(fastenings):
        raise ValueError(f"{count} cannot be drawn from a group of {len(fastenings)}.")
    _refuse_twins(fastenings)
    chosen = set(_in_order_of_drawing(fastenings, seed)[:count])
    return tuple(fastening for fastening in fastenings if fastening.mark in chosen)


def _refuse_twins(fastenings: Iterable[Fastening]) -> None:
    seen: set[str] = set()
    for fastening in fastenings:
        if fastening.mark in seen:
            raise ValueError(f"The mark {fastening.mark} is on the list twice.")
        seen.add(fastening.mark)


def _in_order_of_drawing(fastenings: Sequence[Fastening], seed: str) -> list[str]:
    """Every mark, first drawn first: the s-th lot of a station of n comes up at (2s + 1) / n."""
    stations: dict[str, list[str]] = defaultdict(list)
    for fastening in fastenings:
        stations[fastening.station].append(fastening.mark)
    turns = [
        (Fraction(2 * place + 1, len(marks)), _lot(seed, mark), mark)
        for marks in stations.values()
        for place, mark in enumerate(sorted(marks, key=lambda mark: _lot(seed, mark)))
    ]
    return [mark for _, _, mark in sorted(turns)]


def _lot(seed: str, mark: str) -> bytes:
    # The length keeps seed "a" with mark "b:c" apart from seed "a:b" with mark "c".
    return hashlib.sha256(f"{len(seed)}:{seed}:{mark}".encode()).digest()
