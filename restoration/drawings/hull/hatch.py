"""Hatching as lines of its own, so that every format draws it alike and a printer gets lines.

Families of parallel lines in mm of paper: across and down of the direction they are counted in,
and from line to line. They lie on one lattice for the whole sheet.
"""

from collections.abc import Sequence
from math import floor, sqrt

from restoration.calc.curves import Point
from restoration.drawings.hull.paper import Hatch

Family = tuple[float, float, float]

_HALF = sqrt(0.5)
UPRIGHT: Family = (1.0, 0.0, 1.6)
RISING: Family = (_HALF, _HALF, 1.2)
FALLING: Family = (_HALF, -_HALF, 1.2)
LEVEL: Family = (0.0, 1.0, 1.4)
FAMILIES: dict[str, tuple[Family, ...]] = {
    "1": (UPRIGHT,), "2": (RISING,), "3": (RISING, FALLING), "NE": (LEVEL,),
    "better": (UPRIGHT,), "found": (RISING,), "worse": (RISING, FALLING), "right": (LEVEL,),
    "out": (RISING, FALLING), "back": (LEVEL,), "later": (UPRIGHT,),
    "unseen": (LEVEL,), "dropped": (LEVEL,),
}  # fmt: skip


def hatching(outline: Sequence[Point], state: str) -> tuple[Hatch, ...]:
    """The lines inside a closed outline; none for a state that has no hatch."""
    segments = [
        segment for family in FAMILIES.get(state, ()) for segment in _lines(outline, family)
    ]
    return (Hatch(tuple(segments), state),) if segments else ()


def _lines(outline: Sequence[Point], family: Family) -> list[tuple[Point, Point]]:
    """Each line of the family is cut where edges cross it: inside lies between odd and even."""
    across, down, step = family
    cuts: dict[int, list[float]] = {}
    for number, (x0, y0) in enumerate(outline):
        x1, y1 = outline[(number + 1) % len(outline)]
        c0, c1 = x0 * across + y0 * down, x1 * across + y1 * down
        a0, a1 = y0 * across - x0 * down, y1 * across - x1 * down
        for line in range(floor(min(c0, c1) / step) + 1, floor(max(c0, c1) / step) + 1):
            part = (line * step - c0) / (c1 - c0)
            cuts.setdefault(line, []).append(a0 + (a1 - a0) * part)
    found = []
    for line, places in cuts.items():
        places.sort()
        x, y = line * step * across, line * step * down
        for start, end in zip(places[::2], places[1::2], strict=False):
            one = (x - start * down, y + start * across)
            found.append((one, (x - end * down, y + end * across)))
    return found
