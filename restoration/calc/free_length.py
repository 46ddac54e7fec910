"""What of a board's length is still free, and whether a board is big enough for a member."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite

# Lengths are typed to a 64th of an inch at the finest: a shortage below this is a rounding.
HAIR_MM = 0.4
# Lengths are shown to a sixteenth: one read back may be half of that away from what it means.
HALF_A_SIXTEENTH_MM = 0.8


@dataclass(frozen=True)
class Stretch:
    """A length along a board: from and to, in mm from its butt end."""

    from_mm: float
    to_mm: float

    def __post_init__(self) -> None:
        if finite(self.from_mm, "start") < 0 or finite(self.to_mm, "end") <= self.from_mm:
            raise ValueError("A length runs from a lower to a higher distance from the butt end.")

    @property
    def length_mm(self) -> float:
        return self.to_mm - self.from_mm


def free_stretches(length_mm: float, taken: Iterable[Stretch]) -> list[Stretch]:
    """What is left of a board of this length, in order, after all the stretches taken.

    Stretches may touch, overlap or run past the end; what is left is counted once. A sliver
    no longer than a hair (0.4 mm) is no length and is left out. All in mm; ValueError for a
    board without length.
    """
    above_zero(length_mm, "board's length")
    free, at = [], 0.0
    for stretch in sorted(taken, key=lambda s: s.from_mm):
        end = min(stretch.from_mm, length_mm)
        if end - at > HAIR_MM:
            free.append(Stretch(at, end))
        at = max(at, stretch.to_mm)
    if length_mm - at > HAIR_MM:
        free.append(Stretch(at, length_mm))
    return free


def first_that_fits(free: Sequence[Stretch], wanted_mm: float) -> Stretch | None:
    """The first so many mm of the first free stretch long enough; None where none is."""
    above_zero(wanted_mm, "length wanted")
    for stretch in free:
        if stretch.length_mm >= wanted_mm - HAIR_MM:
            return Stretch(stretch.from_mm, min(stretch.to_mm, stretch.from_mm + wanted_mm))
    return None


def to_the_edge(mm: float, free: Iterable[Stretch]) -> float:
    """The end of a free stretch that a length shown to a sixteenth means, else the length itself.

    So that "from 4 ft 3 3/16 in", read off the board as free, is not half a millimetre into
    the neighbour's piece. All in mm.
    """
    edges = [edge for stretch in free for edge in (stretch.from_mm, stretch.to_mm)]
    nearest = min(edges, key=lambda edge: abs(edge - finite(mm, "length")), default=mm)
    return nearest if abs(nearest - mm) <= HALF_A_SIXTEENTH_MM else mm
