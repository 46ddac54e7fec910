"""Judge a layout as it stands: every rule, for every timber, in a few milliseconds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from timber_stock.sawing import lawful
from timber_stock.sawing.guillotine import sawable
from timber_stock.sawing.layout import Bolt, Box, Layout, Placed, boxes, counts
from timber_stock.sawing.log_solid import RolledLog
from timber_stock.sawing.request import Request, Wanted

HAIR = 1e-6


@dataclass(frozen=True)
class TimberJudged:
    """One timber's figures and the room left under each rule that bears on it."""

    id: str
    heart_clearance_mm: float
    ring_mean_deg: float
    ring_least_deg: float
    ring_greatest_deg: float
    rooms: dict[str, float]

    @property
    def faults(self) -> tuple[str, ...]:
        return tuple(
            f"{FAULTS[rule]} by {-room:.1f} {lawful.RULES[rule]}"
            for rule, room in self.rooms.items()
            if room < -HAIR
        )


@dataclass(frozen=True)
class Judged:
    bolts: tuple[tuple[TimberJudged, ...], ...]
    faults: tuple[str, ...]  # of the layout as a whole

    @property
    def lawful(self) -> bool:
        return not self.faults and not any(t.faults for bolt in self.bolts for t in bolt)


FAULTS = {
    "length": "runs out of its bolt",
    "outline": "runs out of the wood",
    "sapwood": "runs into the sapwood",
    "heart": "comes too near the heart",
    "mean_min": "has too small a mean ring angle",
    "mean_max": "has too large a mean ring angle",
    "worst_min": "has too small a least ring angle",
    "worst_max": "has too large a greatest ring angle",
    "rot": "runs into rot",
    "knots": "meets a knot where it must be clear",
}


def judge_timber(request: Request, bolt: Bolt, placed: Placed) -> TimberJudged:
    """The room each rule leaves one timber in its bolt, mm; below 0 it breaks that rule."""
    timber = request.wanted[placed.line]
    rolled = RolledLog(request.log, bolt.roll_deg)
    at = lawful.places(placed.x_mm, placed.y_mm, placed.from_mm, placed.wide_x, placed.flipped)
    found = {
        rule: float(room)
        for rule, room in lawful.rooms(rolled, timber, at, request.settings).items()
    }
    found["length"] = min(found["length"], _room_in_bolt(bolt, placed, timber))
    least, greatest = lawful.ring_extremes_deg(rolled, timber, at)
    return TimberJudged(
        id=timber.id,
        heart_clearance_mm=float(lawful.heart_distance(rolled, timber, at)),
        ring_mean_deg=float(lawful.ring_mean_deg(rolled, timber, at)),
        ring_least_deg=float(least),
        ring_greatest_deg=float(greatest),
        rooms=found,
    )


def judge_layout(request: Request, layout: Layout) -> Judged:
    """Every timber's figures, and the faults of the layout: overlaps, order of cuts, counts."""
    judged = tuple(tuple(judge_timber(request, b, t) for t in b.timbers) for b in layout)
    faults = [fault for bolt in layout for fault in _bolt_faults(request, bolt)]
    faults += _bolts_apart(request, layout)
    for timber, count in zip(request.wanted, counts(request, layout), strict=True):
        if count > timber.quantity:
            faults.append(f"{count} of {timber.id} are placed and {timber.quantity} are wanted.")
    return Judged(judged, tuple(faults))


def only_lawful(request: Request, layout: Layout) -> Layout:
    """The layout without any timber that breaks a rule by itself."""
    return tuple(
        replace(
            bolt,
            timbers=tuple(t for t in bolt.timbers if not judge_timber(request, bolt, t).faults),
        )
        for bolt in layout
    )


def _room_in_bolt(bolt: Bolt, placed: Placed, timber: Wanted) -> float:
    size_x, size_y, length = placed.sizes(timber)
    x_low, x_high, y_low, y_high = bolt.faces
    return min(
        placed.from_mm - bolt.from_mm,
        bolt.to_mm - placed.from_mm - length,
        placed.x_mm - x_low,
        x_high - placed.x_mm - size_x,
        placed.y_mm - y_low,
        y_high - placed.y_mm - size_y,
    )


def _bolt_faults(request: Request, bolt: Bolt) -> list[str]:
    saw, found = request.saw, boxes(request, bolt)
    gaps = (saw.kerf_mm, saw.kerf_mm, saw.crosscut_kerf_mm)
    names = [request.wanted[t.line].id for t in bolt.timbers]
    close = [
        f"{names[a.index]} and {names[b.index]} lie closer than a kerf."
        for a, b in combinations(found, 2)
        if _touch(a, b, gaps)
    ]
    if close:
        return close
    if not sawable(found, gaps):
        return ["No order of straight cuts right through can free every timber."]
    return []


def lie_apart(found: list[Box], gaps: tuple[float, float, float]) -> bool:
    """Whether every two boxes have a kerf between them one way or another."""
    return not any(_touch(a, b, gaps) for a, b in combinations(found, 2))


def _touch(a: Box, b: Box, gaps: tuple[float, float, float]) -> bool:
    return all(
        p[0] < q[1] + gap - HAIR and q[0] < p[1] + gap - HAIR
        for p, q, gap in zip(a.spans, b.spans, gaps, strict=True)
    )


def _bolts_apart(request: Request, layout: Layout) -> list[str]:
    whole = sorted((b.from_mm, b.to_mm) for b in layout if not b.roll_settled)
    kerf = request.saw.crosscut_kerf_mm
    return [
        f"The bolts at {end:.1f} mm lie closer than the crosscut's kerf."
        for (_, end), (start, _) in pairwise(whole)
        if start - end < kerf - HAIR
    ]
