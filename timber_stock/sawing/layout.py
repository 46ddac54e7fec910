"""A layout: which timbers lie where, in which bolts of the log."""

from __future__ import annotations

from dataclasses import dataclass

from timber_stock.sawing.request import Request, Wanted

INFINITE = float("inf")
Span = tuple[float, float]


@dataclass(frozen=True)
class Placed:
    """One timber in its place: low corner in the saw frame, mm, and how it is turned."""

    line: int  # index in the cutting list
    x_mm: float
    y_mm: float
    from_mm: float
    wide_x: bool
    flipped: bool = False
    pinned: bool = False

    def sizes(self, wanted: Wanted) -> tuple[float, float, float]:
        if self.wide_x:
            return wanted.width_mm, wanted.thickness_mm, wanted.length_mm
        return wanted.thickness_mm, wanted.width_mm, wanted.length_mm


@dataclass(frozen=True)
class Bolt:
    """A length sawn at one roll; `faces` are x low, x high, y low, y high where it is sawn already.

    A whole log has no faces; what is left of a log half sawn is a number of bolts with faces.
    """

    from_mm: float
    to_mm: float
    roll_deg: float
    timbers: tuple[Placed, ...] = ()
    faces: tuple[float, float, float, float] = (-INFINITE, INFINITE, -INFINITE, INFINITE)
    roll_settled: bool = False

    @property
    def keeps_roll(self) -> bool:
        """Settled, or with a pinned timber in it: a pin is set for the rings as they run there."""
        return self.roll_settled or any(timber.pinned for timber in self.timbers)


Layout = tuple[Bolt, ...]


@dataclass(frozen=True)
class Box:
    """The space a placed timber fills: x, y and z spans, mm."""

    spans: tuple[Span, Span, Span]
    index: int  # of the timber in its bolt


def boxes(request: Request, bolt: Bolt) -> list[Box]:
    """The timbers of a bolt as boxes in its frame, each with its place in the bolt."""
    found = []
    for index, timber in enumerate(bolt.timbers):
        sizes = timber.sizes(request.wanted[timber.line])
        lows = (timber.x_mm, timber.y_mm, timber.from_mm)
        spans = tuple((low, low + size) for low, size in zip(lows, sizes, strict=True))
        found.append(Box((spans[0], spans[1], spans[2]), index))
    return found


def worth_mm3(request: Request, layout: Layout) -> float:
    """Worth of all that is placed: volume times the worth of its line, cubic mm."""
    return sum(request.wanted[t.line].worth_mm3 for bolt in layout for t in bolt.timbers)


def counts(request: Request, layout: Layout) -> list[int]:
    """How many of each line of the cutting list are placed."""
    placed = [0] * len(request.wanted)
    for bolt in layout:
        for timber in bolt.timbers:
            placed[timber.line] += 1
    return placed
