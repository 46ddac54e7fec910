"""Distances gathered for reading: holes that stand alike are told in one line."""

from collections.abc import Iterable
from dataclasses import dataclass

from restoration.calc.fastening_layout import Distance


@dataclass(frozen=True)
class Alike:
    """Holes with one and the same distance; `first` is that of the first of them."""

    holes: tuple[int, ...]
    first: Distance

    @property
    def numbers(self) -> str:
        """1, 3 and 5."""
        *before, last = (str(number) for number in self.holes)
        return f"{', '.join(before)} and {last}" if before else last


def gathered(distances: Iterable[Distance]) -> tuple[Alike, ...]:
    """Alike distances together, those that are too near first, then the short ones, then the rest.

    Alike are distances in the same timber, of the same sort and from the same thing, that are and
    should be equally long to a tenth of a millimetre.
    """
    found: dict[tuple[object, ...], list[Distance]] = {}
    for each in distances:
        sizes = (each.actual_mm, each.nds.full_mm, each.en.full_mm)
        place = (each.timber, each.what, each.other, *(round(size, 1) for size in sizes))
        found.setdefault(place, []).append(each)
    alike = [Alike(tuple(each.hole for each in held), held[0]) for held in found.values()]
    return tuple(sorted(alike, key=lambda each: (each.first.share, each.first.is_full)))
