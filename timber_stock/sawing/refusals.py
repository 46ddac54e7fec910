"""Why a wanted timber was not placed, said with numbers.

Each reason is found by trial: the same search is asked whether the timber could be had alone if one
limit were eased, and the least easing that serves is sought by halving.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from timber_stock.sawing.engine import new_search
from timber_stock.sawing.layout import Bolt, Layout, counts
from timber_stock.sawing.request import Request, Rings, Wanted

HALVINGS = 6
ALONE_STEPS = 3.0
ROLLS = (0.0, 22.5, 45.0, 67.5)
SHORTEST = 0.25  # of the wanted length; less is another timber

Eased = Callable[[Wanted, float], Wanted]


@dataclass(frozen=True)
class Refused:
    id: str
    count: int
    why: str


@dataclass(frozen=True)
class _Easing:
    """One limit eased by 0 up to `most`, and how to say so."""

    most: float
    eased: Eased
    words: str


def refusals(request: Request, layout: Layout, until: float | None = None) -> list[Refused]:
    """A reason for every line not wholly placed; past the clock time `until`, the shortest ones."""
    found = []
    for line, placed in enumerate(counts(request, layout)):
        timber = request.wanted[line]
        if placed < timber.quantity:
            why = _why(request, layout, line, placed, until)
            found.append(Refused(timber.id, timber.quantity - placed, why))
    return found


def fits_alone(request: Request, timber: Wanted) -> bool:
    """Whether a short search finds any lawful place for one such timber in the whole log."""
    if timber.length_mm > request.log.length_mm:
        return False
    only = replace(request, wanted=(replace(timber, quantity=1, worth=max(timber.worth, 1e-6)),))
    search = new_search(only)
    for seed, roll in enumerate(ROLLS):
        search.begin((Bolt(0.0, request.log.length_mm, roll),), seed)
        if search.run(ALONE_STEPS, 0.0, 1e-9) > 0:
            return True
    return False


def _why(request: Request, layout: Layout, line: int, placed: int, until: float | None) -> str:
    timber, log = request.wanted[line], request.log
    if timber.length_mm > log.length_mm:
        return (
            f"It is {timber.length_mm:g} mm long and the log {log.length_mm:g} mm: "
            f"{timber.length_mm - log.length_mm:g} mm too long."
        )
    if _late(until):
        return "There was no time left to find out why."
    if placed or fits_alone(request, timber):
        return _crowded_out(request, layout, line, placed, until)
    return _impossible(request, timber, until)


def _late(until: float | None) -> bool:
    return until is not None and time.monotonic() > until


def _crowded_out(
    request: Request, layout: Layout, line: int, placed: int, until: float | None
) -> str:
    timber = request.wanted[line]
    start = (
        f"{placed} of {timber.quantity} are placed and no room was found for another"
        if placed
        else "It could be had from this log alone, but no room was found beside the timbers placed"
    )
    short = None if _late(until) else _length_left(request, layout, timber)
    if short is not None:
        return f"{start}; the same section would fit in what is left at {short / 1000:.2f} m long."
    return f"{start}, which together are worth more."


def _length_left(request: Request, layout: Layout, timber: Wanted) -> float | None:
    """The greatest length of the same section that fits in what is left of the layout."""
    pinned = tuple(
        replace(b, roll_settled=True, timbers=tuple(replace(t, pinned=True) for t in b.timbers))
        for b in layout
    )
    before = len(request.wanted)

    def fits(length_mm: float) -> bool:
        extra = replace(
            timber, id="?", length_mm=length_mm, quantity=1, worth=max(timber.worth, 1e-6)
        )
        placed = counts(request, layout)
        lines = [replace(t, quantity=n) for t, n in zip(request.wanted, placed, strict=True)]
        search = new_search(replace(request, wanted=(*lines, extra)))
        search.begin(pinned, 1)
        return any(t.line == before for bolt in search.best() for t in bolt.timbers)

    shortest, longest = timber.length_mm * SHORTEST, timber.length_mm
    if not fits(shortest):
        return None
    for _ in range(HALVINGS):
        middle = 0.5 * (shortest + longest)
        shortest, longest = (middle, longest) if fits(middle) else (shortest, middle)
    return shortest


def _impossible(request: Request, timber: Wanted, until: float | None) -> str:
    ways = []
    for easing in _easings(request, timber):
        if _late(until):
            break
        least = _least_easing(request, timber, easing)
        if least is not None:
            ways.append(easing.words.format(least=least, left=timber.length_mm - least))
    bigger = None if _late(until) else _larger_log(request, timber)
    if bigger is not None:
        ways.append(f"in a log about {bigger:.0f} mm more in diameter")
    start = "No lawful place was found for it anywhere in this log, at any roll"
    return f"{start}; it would fit {', or '.join(ways)}." if ways else f"{start}."


def _least_easing(request: Request, timber: Wanted, easing: _Easing) -> float | None:
    if not fits_alone(request, easing.eased(timber, easing.most)):
        return None
    low, high = 0.0, easing.most
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        if fits_alone(request, easing.eased(timber, middle)):
            high = middle
        else:
            low = middle
    return high


def _easings(request: Request, timber: Wanted) -> Iterator[_Easing]:
    clear, rings = timber.heart_clearance_mm, timber.rings
    if clear:
        yield _Easing(
            clear,
            lambda t, by: replace(t, heart_clearance_mm=(t.heart_clearance_mm or 0.0) - by),
            "with {least:.0f} mm less clear of the heart",
        )
    if rings.mean_min_deg is not None or rings.worst_min_deg is not None:
        yield _Easing(90.0, _lower_rings, "with {least:.0f} degrees less ring angle")
    if rings.mean_max_deg is not None or rings.worst_max_deg is not None:
        yield _Easing(90.0, _higher_rings, "with {least:.0f} degrees more ring angle")
    if not timber.sapwood_allowed and request.log.sapwood_mm > 0:
        yield _Easing(0.0, lambda t, _: replace(t, sapwood_allowed=True), "with sapwood allowed")
    if timber.knot_free and request.log.knots:
        yield _Easing(0.0, lambda t, _: replace(t, knot_free=()), "with knots allowed")
    yield _Easing(
        timber.length_mm * (1 - SHORTEST),
        lambda t, by: replace(t, length_mm=t.length_mm - by),
        "at {left:.0f} mm long",
    )
    yield _Easing(
        timber.width_mm - timber.thickness_mm,
        lambda t, by: replace(t, width_mm=t.width_mm - by),
        "if {least:.0f} mm narrower",
    )


def _lower_rings(timber: Wanted, by: float) -> Wanted:
    mean, worst = timber.rings.mean_min_deg, timber.rings.worst_min_deg
    rings = replace(
        timber.rings,
        mean_min_deg=None if mean is None else max(0.0, mean - by),
        worst_min_deg=None if worst is None else max(0.0, worst - by),
    )
    return replace(timber, rings=rings)


def _higher_rings(timber: Wanted, by: float) -> Wanted:
    mean, worst = timber.rings.mean_max_deg, timber.rings.worst_max_deg
    rings: Rings = replace(
        timber.rings,
        mean_max_deg=None if mean is None else min(90.0, mean + by),
        worst_max_deg=None if worst is None else min(90.0, worst + by),
    )
    return replace(timber, rings=rings)


def _larger_log(request: Request, timber: Wanted) -> float | None:
    """How much more diameter, at both ends, would give the timber a place."""
    log = request.log

    def grown(by: float) -> Request:
        butt, top = ((d[0] + by, d[1] + by) for d in (log.butt_diameter_mm, log.top_diameter_mm))
        return replace(request, log=replace(log, butt_diameter_mm=butt, top_diameter_mm=top))

    low, high = 0.0, 0.5 * (log.butt_diameter_mm[0] + log.butt_diameter_mm[1])
    if not fits_alone(grown(high), timber):
        return None
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if fits_alone(grown(middle), timber) else (middle, high)
    return high
