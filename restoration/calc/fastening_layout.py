"""The holes of a joint on the face of its timbers, and what stands too near to what."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite, whole_number
from restoration.calc.fastening_face import SIDES, Face, Hole
from restoration.calc.fastening_rows import apart_from_next, rows_along
from restoration.calc.fastening_spacing import (
    ACROSS,
    ALONG,
    EDGE,
    END,
    Placing,
    Wanted,
    en_distances,
    nds_distances,
)
from restoration.calc.fastening_timbers import Timber

MOST_HOLES = 120


@dataclass(frozen=True)
class Distance:
    """One distance of one hole in one timber, beside what two publications want."""

    hole: int
    timber: str
    what: str
    other: str
    diameter_mm: float
    actual_mm: float
    nds: Wanted
    en: Wanted
    between_mm: float = math.inf
    """From side to side where both sides are ends, or both edges: then half of it is the most."""

    @property
    def is_full(self) -> bool:
        return self._covers(self.nds.full_mm) and self._covers(self.en.full_mm)

    @property
    def is_too_near(self) -> bool:
        """Below the least of the NDS, under which nothing may be counted."""
        return not self._covers(self.nds.least_mm)

    @property
    def share(self) -> float:
        """Share of the load the NDS lets count: the ratio to the full distance, 0 below the least.

        It is never carried further: below the least distance nothing is known.
        """
        return 0.0 if self.is_too_near else min(1.0, self.actual_mm / self.nds.full_mm)

    @property
    def short_mm(self) -> float:
        """How much further it would have to be, for the stricter of the two."""
        return max(0.0, max(self.nds.full_mm, self.en.full_mm) - self.actual_mm)

    @property
    def to_do(self) -> str:
        """What would mend it, in a sentence with mm; "" where nothing is short."""
        if self.is_full:
            return ""
        if 2 * max(self.nds.full_mm, self.en.full_mm) > self.between_mm + 0.1:
            return self._too_narrow()
        move = f"Move it {self.short_mm:.1f} mm further from {self.other}"
        if self._covers(self.nds.full_mm):
            return f"{move} for EN 1995-1-1; the NDS is satisfied."
        if not self.nds.by_size:
            return f"{move}, or set the rows closer together (by the NDS)."
        thinner = self.diameter_mm * self.actual_mm / self.nds.full_mm
        return f"{move}, or take one of {thinner:.1f} mm or thinner (by the NDS)."

    def _too_narrow(self) -> str:
        """Where no move can satisfy both, for the other side stands too near as well."""
        if 2 * self.nds.full_mm > self.between_mm + 0.1:
            thinner = self.diameter_mm * self.between_mm / 2 / self.nds.full_mm
            return (
                f"The timber, {self.between_mm:.1f} mm from side to side, is too small for it: "
                f"take one of {thinner:.1f} mm or thinner, in the middle (by the NDS)."
            )
        most = f"nowhere on {self.between_mm:.1f} mm is far enough for EN 1995-1-1"
        if self._covers(self.nds.full_mm):
            return f"The NDS is satisfied; {most}."
        short = self.nds.full_mm - self.actual_mm
        return f"Move it {short:.1f} mm further from {self.other} for the NDS; {most}."

    def _covers(self, wanted_mm: float) -> bool:
        return self.actual_mm >= wanted_mm - 0.05  # a twentieth is finer than a bit can be set


def check_hole(face: Face, hole: Hole) -> Hole:
    """The same hole, or ValueError when it is not wholly on the face of the timber."""
    radius = above_zero(hole.diameter_mm, "diameter") / 2
    finite(hole.x_mm, "distance along the face")
    finite(hole.y_mm, "distance across the face")
    for side, away in face.away_mm(hole).items():
        if away < radius - 1e-6:
            where = {
                "start": "before the start of the face",
                "finish": "beyond the far end of the face",
                "left": "beyond the left edge of the face",
                "right": "beyond the right edge of the face",
            }[side]
            outside = radius - away
            size = face.length_mm if side in ("start", "finish") else face.width_mm
            raise ValueError(
                f"The hole at {hole.x_mm:g} mm along and {hole.y_mm:g} mm across would come out of "
                f"the timber: {outside:.1f} mm of it lies {where}, which is {size:g} mm "
                f"{'long' if side in ('start', 'finish') else 'wide'}. Nothing is changed."
            )
    return hole


def check_holes(face: Face, holes: Sequence[Hole]) -> None:
    """ValueError for a hole off the timber, two that run into each other, or too many of them."""
    if len(holes) > MOST_HOLES:
        raise ValueError(f"A layout has {MOST_HOLES} holes at most: lay out a part of the joint.")
    for place, hole in enumerate(holes):
        check_hole(face, hole)
        for other in holes[:place]:
            apart = math.hypot(hole.x_mm - other.x_mm, hole.y_mm - other.y_mm)
            if apart < (hole.diameter_mm + other.diameter_mm) / 2:
                raise ValueError(
                    f"The hole at {hole.x_mm:g} mm along and {hole.y_mm:g} mm across runs into "
                    f"the one at {other.x_mm:g} mm and {other.y_mm:g} mm. Nothing is changed."
                )


def rows_of_holes(
    first_mm: tuple[float, float],
    along: int,
    along_apart_mm: float,
    rows: int = 1,
    rows_apart_mm: float = 0.0,
    staggered: bool = False,
) -> tuple[tuple[float, float], ...]:
    """Places of holes in rows along the face, the first at `first_mm`; (x, y) in mm.

    staggered: every second row begins half a spacing further on. Raises ValueError for counts
    under one and for spacings that are not above nought where there is more than one.
    """
    numbers = whole_number(along, "number in a row"), whole_number(rows, "number of rows")
    if min(numbers) < 1 or numbers[0] * numbers[1] > MOST_HOLES:
        raise ValueError(f"Lay out between 1 and {MOST_HOLES} holes.")
    if numbers[0] > 1:
        above_zero(along_apart_mm, "distance between holes in a row")
    if numbers[1] > 1:
        above_zero(rows_apart_mm, "distance between rows")
    x, y = (finite(each, "place of the first hole") for each in first_mm)
    return tuple(
        (
            x + n * along_apart_mm + (row % 2) * staggered * along_apart_mm / 2,
            y + row * rows_apart_mm,
        )
        for row in range(numbers[1])
        for n in range(numbers[0])
    )


def distances(
    face: Face, timbers: Sequence[Timber], holes: Sequence[Hole], load_deg: float
) -> tuple[Distance, ...]:
    """Every end, edge and nearest-neighbour distance of every hole in both timbers.

    load_deg: direction of the load on the face, from its length. Two neighbours are far enough
    apart when they are so either along the grain or across it; the worse neighbour of a hole is
    told. Raises ValueError as `check_holes`.
    """
    check_holes(face, holes)
    found = []
    for timber in timbers:
        rows = rows_along(holes, timber.grain_deg)
        for hole in holes:
            apart = apart_from_next(hole, rows, timber.grain_deg)
            found += _to_sides(face, timber, hole, load_deg, apart)
            found += _to_neighbour(timber, hole, holes, load_deg)
    return tuple(sorted(found, key=lambda each: each.hole))


def _placing(timber: Timber, hole: Hole, load_deg: float, rows_apart_mm: float = 0.0) -> Placing:
    hardwood = timber.wood.hardwood if timber.wood else False
    angle = timber.load_angle_deg(load_deg)
    return Placing(hole.kind, hole.diameter_mm, hardwood, angle, hole.bearing_mm, rows_apart_mm)


def _to_sides(
    face: Face, timber: Timber, hole: Hole, load_deg: float, rows_apart_mm: float
) -> list[Distance]:
    placing = _placing(timber, hole, load_deg, rows_apart_mm)
    nds, en = nds_distances(placing), en_distances(placing)
    nearest: dict[str, tuple[float, str]] = {}
    for side, away in face.away_mm(hole).items():
        what = END if timber.is_end(side) else EDGE
        if side not in timber.runs_on and (what not in nearest or away < nearest[what][0]):
            nearest[what] = (away, side)
    return [
        Distance(
            hole.number,
            timber.name,
            what,
            _named(what, side),
            hole.diameter_mm,
            away,
            nds[what],
            en[what],
            _between_mm(face, timber, side),
        )
        for what, (away, side) in nearest.items()
    ]


def _between_mm(face: Face, timber: Timber, side: str) -> float:
    """From this side of a timber to the one over against it; endless where it runs on past that."""
    over_against = dict(zip(SIDES, ("finish", "start", "right", "left"), strict=True))[side]
    if over_against in timber.runs_on:
        return math.inf
    return face.length_mm if side in ("start", "finish") else face.width_mm


def _named(what: str, side: str) -> str:
    side = {"finish": "far", "start": "near"}.get(side, side)
    return f"the {side} {what}"


def _to_neighbour(
    timber: Timber, hole: Hole, holes: Sequence[Hole], load_deg: float
) -> list[Distance]:
    """The neighbour that stands nearest for its size, along the grain or across it."""
    pairs = [_pair(timber, hole, other, load_deg) for other in holes if other is not hole]
    return [min(pairs, key=_ratio)] if pairs else []


def _ratio(pair: Distance) -> float:
    return min(pair.actual_mm / pair.nds.full_mm, pair.actual_mm / pair.en.full_mm)


def _pair(timber: Timber, hole: Hole, other: Hole, load_deg: float) -> Distance:
    larger = max(hole, other, key=lambda each: each.diameter_mm)
    placing = _placing(timber, larger, load_deg)
    nds, en = nds_distances(placing), en_distances(placing)
    grain = math.radians(timber.grain_deg)
    dx, dy = other.x_mm - hole.x_mm, other.y_mm - hole.y_mm
    parts = {
        ALONG: abs(dx * math.cos(grain) + dy * math.sin(grain)),
        ACROSS: abs(-dx * math.sin(grain) + dy * math.cos(grain)),
    }
    both = [
        Distance(
            hole.number,
            timber.name,
            what,
            f"hole {other.number}",
            larger.diameter_mm,
            apart,
            nds[what],
            en[what],
        )
        for what, apart in parts.items()
    ]
    return max(both, key=_ratio)
