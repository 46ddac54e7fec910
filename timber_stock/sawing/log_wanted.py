"""The least log to ask a mill for: in closed form for one timber, by search for a whole list.

A log wanted is round, straight and of one diameter, that of its small end under bark: taper gives
more. Its heart runs straight, off the middle by the same all along.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from dataclasses import dataclass

from timber_stock.sawing.layout import counts
from timber_stock.sawing.request import Log, Request, Rings, Saw, Wanted
from timber_stock.sawing.search import Allowance, search

CLOSED_FORM = (
    "D = 2 √((a/2)² + (b + c)²): the far corners of a timber a wide along the face nearest the "
    "heart, b deep away from it and c clear of it; computed, and checked against worked figures."
)
LARGEST_MM = 3000.0
RESOLUTION_MM = 5.0
TRIAL_STEPS = 60.0


@dataclass(frozen=True)
class Sought:
    """How large a log must be for a whole list.

    Below `least_mm` none can hold it; `diameter_mm` is one that a search filled, and the truth
    lies between. None: no log was filled before the time or the largest size tried was reached.
    """

    heart_offset_mm: float
    least_mm: float
    diameter_mm: float | None
    trials: int
    cut_short: bool = False


def beside_heart_mm(
    along_mm: float, deep_mm: float, clearance_mm: float, heart_offset_mm: float = 0.0
) -> float:
    """Least diameter of usable wood for one timber wholly to one side of the heart, mm.

    2 max(hypot(a/2, b + c - e), hypot(a/2, c - e)): along_mm a, the side that lies along the face
    nearest the heart; deep_mm b, the side away from it; clearance_mm c, 0 or more;
    heart_offset_mm e, 0 or more, the timber on the wide side. Once e is past c + b/2 the timber
    sits about the middle of the log and nothing less than its diagonal holds it. ValueError
    beyond. For e = 0 this is D = 2 sqrt((a/2)^2 + (b + c)^2). Source: elementary geometry.
    """
    _sizes(along_mm, deep_mm)
    for name, value in (("clearance", clearance_mm), ("heart's offset", heart_offset_mm)):
        if not (math.isfinite(value) and value >= 0):
            raise ValueError(f"The {name} is {value:g} mm; it must be nothing or more.")
    e = min(heart_offset_mm, clearance_mm + deep_mm / 2)
    far = max(abs(deep_mm + clearance_mm - e), abs(clearance_mm - e))
    return 2 * math.hypot(along_mm / 2, far)


def boxed_heart_mm(width_mm: float, thickness_mm: float) -> float:
    """Least diameter of usable wood where the heart may lie in the timber: its diagonal, mm."""
    _sizes(width_mm, thickness_mm)
    return math.hypot(width_mm, thickness_mm)


def least_for_timber_mm(timber: Wanted, sapwood_mm: float = 0.0, offset_mm: float = 0.0) -> float:
    """Least diameter under bark for one such timber, lying whichever way needs less, mm.

    Twice the sapwood is added unless it may be in the timber. Ring limits are not in it: with them
    a log may have to be larger, so the figure is then a lower bound only.
    """
    a, b, clearance = timber.width_mm, timber.thickness_mm, timber.heart_clearance_mm
    if clearance is None:
        usable = boxed_heart_mm(a, b)
    else:
        usable = min(
            beside_heart_mm(a, b, clearance, offset_mm), beside_heart_mm(b, a, clearance, offset_mm)
        )
    return usable + (0.0 if timber.sapwood_allowed else 2 * sapwood_mm)


def closed_form_decides(timber: Wanted) -> bool:
    """Whether the closed form is the whole answer for one such timber alone."""
    return timber.rings == Rings()


def least_for_list_mm(
    wanted: Sequence[Wanted], length_mm: float, sapwood_mm: float = 0.0, offset_mm: float = 0.0
) -> float:
    """A diameter below which no log can hold the list: each timber alone, and all by volume."""
    alone = max(least_for_timber_mm(timber, sapwood_mm, offset_mm) for timber in wanted)
    volume = sum(timber.volume_mm3 * timber.quantity for timber in wanted)
    return max(alone, 2 * math.sqrt(volume / (math.pi * length_mm)))


def round_log(diameter_mm: float, length_mm: float, sapwood_mm: float, offset_mm: float) -> Log:
    """A log to ask for: round, of one diameter, its heart off the middle all along."""
    across, pith = (diameter_mm, diameter_mm), (offset_mm, 0.0)
    return Log(length_mm, across, across, pith, pith, sapwood_mm)


def seek_diameter(
    wanted: Sequence[Wanted],
    saw: Saw,
    *,
    length_mm: float,
    sapwood_mm: float = 0.0,
    heart_offset_mm: float = 0.0,
    steps: float = TRIAL_STEPS,
    until: float | None = None,
) -> Sought:
    """The least diameter, to 5 mm, that a search of so many steps fills with the whole list.

    A log that holds a list for certain may be missed by a short search, never the other way about:
    what is found can be sawn. `until` is a time of `time.monotonic()` at which to leave off.
    """
    if not wanted:
        raise ValueError("There is nothing on the list to ask a log for.")
    longest = max(timber.length_mm for timber in wanted)
    if longest > length_mm:
        raise ValueError(
            f"The longest timber is {longest:g} mm and the log only {length_mm:g} mm: ask for a "
            "longer log."
        )
    least = least_for_list_mm(wanted, length_mm, sapwood_mm, heart_offset_mm)
    least = max(least, 2 * heart_offset_mm + 1)
    seeker = _Seeker(wanted, saw, length_mm, sapwood_mm, heart_offset_mm, steps, until)
    return seeker.seek(least)


class _Seeker:
    def __init__(
        self,
        wanted: Sequence[Wanted],
        saw: Saw,
        length_mm: float,
        sapwood_mm: float,
        offset_mm: float,
        steps: float,
        until: float | None,
    ) -> None:
        self.wanted, self.saw = tuple(wanted), saw
        self.length_mm, self.sapwood_mm, self.offset_mm = length_mm, sapwood_mm, offset_mm
        self.steps, self.until, self.trials = steps, until, 0

    def seek(self, least: float) -> Sought:
        low, high, step = least, least, 0.1 * least
        while not self._holds(high):
            if self._late() or high >= LARGEST_MM:
                return self._found(least, None)
            low, high, step = high, min(high + step, LARGEST_MM), step * 1.5
        while high - low > RESOLUTION_MM and not self._late():
            middle = (low + high) / 2
            low, high = (low, middle) if self._holds(middle) else (middle, high)
        return self._found(least, high)

    def _found(self, least: float, diameter: float | None) -> Sought:
        return Sought(self.offset_mm, least, diameter, self.trials, self._late())

    def _late(self) -> bool:
        return self.until is not None and time.monotonic() > self.until

    def _holds(self, diameter_mm: float) -> bool:
        self.trials += 1
        log = round_log(diameter_mm, self.length_mm, self.sapwood_mm, self.offset_mm)
        request = Request(log, self.saw, self.wanted)
        found = search(request, Allowance(steps=self.steps), stop=self._late)
        return counts(request, found.layout) == [timber.quantity for timber in self.wanted]


def _sizes(*sizes_mm: float) -> None:
    if not all(math.isfinite(size) and size > 0 for size in sizes_mm):
        raise ValueError("A timber's sides must be more than nothing.")
