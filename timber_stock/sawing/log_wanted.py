"""The log to ask a mill for: the least diameter and length that serve a cutting list.

Diameters are of sound wood under the bark at the small end. One timber clear of the heart has a
closed form; a list is searched for, so its answer is a log that serves, proved by a plan, and a
smaller one may serve too. A real log is never the one drawn: ask for more, and look at its ends.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from timber_stock.sawing.layout import Layout
from timber_stock.sawing.reach import least_reach_mm
from timber_stock.sawing.request import Log, Request, Saw, Settings, Wanted
from timber_stock.sawing.search import Allowance, search

HALVINGS = 8
WIDEST_MM = 5000.0
NEAR_MM = 5.0
DEFAULT_STEPS = 300.0
PLAIN = Settings()


def clear_of_heart_mm(
    width_mm: float, depth_mm: float, clearance_mm: float, offset_mm: float = 0.0
) -> float:
    """Least diameter for one timber, its near face square to the radius: closed form, mm.

    D = 2 sqrt((a/2)^2 + (b + c - e)^2), a along the face nearest the pith, b away from it, c the
    clearance and e how far the pith lies from the middle, the timber on the wide side. Past
    e = c + b/2 no more offset helps, because the timber then lies across the middle:
    D = sqrt(a^2 + b^2), the log of a boxed heart. Derived: the far corners lie at
    sqrt((a/2)^2 + (b + c - e)^2) from the middle.
    """
    for name, value in (
        ("width", width_mm),
        ("depth", depth_mm),
        ("clearance", clearance_mm),
        ("offset of the heart", offset_mm),
    ):
        if not math.isfinite(value) or value < 0:
            raise ValueError(f"The {name} must be a length of 0 or more, not {value:g}.")
    far = max(depth_mm / 2, depth_mm + clearance_mm - offset_mm)
    return 2 * math.hypot(width_mm / 2, far)


def four_about_heart_mm(width_mm: float, depth_mm: float, clearance_mm: float) -> float:
    """Least diameter for four timbers, one in each quarter: 2 sqrt((a + c)^2 + (b + c)^2), mm.

    Here c is the clear gap from the heart's two lines to each near face. Derived.
    """
    return 2 * math.hypot(width_mm + clearance_mm, depth_mm + clearance_mm)


@dataclass(frozen=True)
class LogShape:
    """The log to suppose while its size is sought; lengths mm."""

    length_mm: float | None = None  # None: the longest timber wanted
    taper_mm_per_m: float = 0.0  # of diameter
    oval: float = 1.0  # the other diameter as a share of the first
    sapwood_mm: float = 0.0
    heart_offset_mm: float = 0.0  # from the middle, along X, from end to end

    def log(self, wanted: Sequence[Wanted], small_end_mm: float) -> Log:
        longest = max(t.length_mm for t in wanted)
        length = longest if self.length_mm is None else self.length_mm
        large = small_end_mm + self.taper_mm_per_m * length / 1000
        pith = (self.heart_offset_mm, 0.0)
        return Log(
            length_mm=length,
            butt_diameter_mm=(large, large * self.oval),
            top_diameter_mm=(small_end_mm, small_end_mm * self.oval),
            butt_pith_mm=pith,
            top_pith_mm=pith,
            sapwood_mm=self.sapwood_mm,
        )


@dataclass(frozen=True)
class LogWanted:
    """A small-end diameter that serves the whole list, with the plan that shows it."""

    diameter_mm: float
    never_below_mm: float  # no log thinner than this can serve; proved
    log: Log
    layout: Layout


def log_wanted(
    wanted: Sequence[Wanted],
    saw: Saw,
    shape: LogShape,
    *,
    steps: float = DEFAULT_STEPS,
    seed: int = 1,
    settings: Settings = PLAIN,
) -> LogWanted:
    """The least small-end diameter found whose plan places the whole list, by halving.

    ValueError when nothing is wanted, when a timber is longer than the log, or when even a log of
    five metres across would not do.
    """
    lines = [t for t in wanted if t.quantity]
    _check(lines, shape)
    low = never_below_mm(lines, shape)
    serve = _served(lines, saw, shape, low, steps, seed, settings)
    if serve is not None:
        return LogWanted(low, low, shape.log(lines, low), serve)
    high = low
    while serve is None:
        high *= 1.3
        if high > WIDEST_MM:
            raise ValueError("No log up to 5 m across was found to hold the whole list.")
        serve = _served(lines, saw, shape, high, steps, seed, settings)
    for _ in range(HALVINGS):
        if high - low < NEAR_MM:
            break
        middle = 0.5 * (low + high)
        found = _served(lines, saw, shape, middle, steps, seed, settings)
        if found is None:
            low = middle
        else:
            high, serve = middle, found
    return LogWanted(high, never_below_mm(lines, shape), shape.log(lines, high), serve)


def chart(
    wanted: Sequence[Wanted],
    saw: Saw,
    shape: LogShape,
    offsets_mm: Sequence[float],
    *,
    steps: float = DEFAULT_STEPS,
) -> list[tuple[float, float]]:
    """The diameter wanted for each offset of the heart, (offset, diameter) mm."""
    return [
        (
            offset,
            log_wanted(
                wanted, saw, replace(shape, heart_offset_mm=offset), steps=steps
            ).diameter_mm,
        )
        for offset in offsets_mm
    ]


def never_below_mm(wanted: Sequence[Wanted], shape: LogShape) -> float:
    """A diameter no smaller log can serve with: by area, by each timber's diagonal, by its reach.

    By reach: the furthest corner of a timber is at least `least_reach_mm` from the pith, and no
    wood is further than half the greatest diameter plus the offset. The wood it lies in is no wider
    than the log where a timber of its length ends, against the butt.
    """
    length = shape.length_mm or max(t.length_mm for t in wanted)
    volume = sum(t.volume_mm3 * t.quantity for t in wanted)
    wide = max(1.0, shape.oval)
    grown = shape.taper_mm_per_m * length / 1000
    least = math.sqrt(4 * volume / (math.pi * shape.oval * length)) - grown
    for timber in wanted:
        inset = 0.0 if timber.sapwood_allowed else shape.sapwood_mm
        taper = shape.taper_mm_per_m * (length - timber.length_mm) / 1000
        across = math.hypot(timber.width_mm, timber.thickness_mm) + 2 * inset
        reach = 2 * (least_reach_mm(timber) + inset - shape.heart_offset_mm)
        least = max(least, across / wide - taper, reach / wide - taper)
    return max(least, 2 * shape.heart_offset_mm / min(1.0, shape.oval) + 1.0)


def _served(
    lines: Sequence[Wanted],
    saw: Saw,
    shape: LogShape,
    diameter_mm: float,
    steps: float,
    seed: int,
    settings: Settings,
) -> Layout | None:
    """A layout of the whole list in a log of that size, when the search finds one."""
    # Each is worth its volume, so that the whole list and nothing less reaches the goal.
    even = tuple(replace(t, worth=1.0) for t in lines)
    request = Request(shape.log(lines, diameter_mm), saw, even, settings)
    everything = sum(t.worth_mm3 * t.quantity for t in even)
    found = search(request, Allowance(steps=steps), seed, goal_mm3=everything)
    count = sum(len(bolt.timbers) for bolt in found.layout)
    return found.layout if count == sum(t.quantity for t in lines) else None


def _check(lines: Sequence[Wanted], shape: LogShape) -> None:
    if not lines:
        raise ValueError("Nothing is wanted, so no log is.")
    longest = max(t.length_mm for t in lines)
    if shape.length_mm is not None and shape.length_mm < longest:
        raise ValueError(
            f"The log is to be {shape.length_mm:g} mm long and a timber {longest:g} mm; ask for a "
            "longer log."
        )
    for name, value, least in (
        ("taper", shape.taper_mm_per_m, 0.0),
        ("sapwood", shape.sapwood_mm, 0.0),
        ("offset of the heart", shape.heart_offset_mm, 0.0),
        ("oval", shape.oval, 0.3),
    ):
        if not math.isfinite(value) or value < least:
            raise ValueError(f"The {name} must be {least:g} or more, not {value:g}.")
