"""Free lengths of boards weighed against replacements, all against all at once.

What rules a length out (wood, section, length) is kept apart from what differs from what was
asked (heart, sapwood, rings, seasoning, green size), which is for the wright to weigh.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import IntFlag

import numpy as np

from restoration.calc.free_length import HAIR_MM
from restoration.calc.matching_columns import (
    Bools,
    Floats,
    Needs,
    Numbers,
    Offers,
    columns_of_needs,
    columns_of_offers,
    picked,
)
from restoration.calc.matching_data import Need, Offer
from restoration.calc.matching_heart import HeartBeside, heart_beside
from timber_stock.wood.ring_limits import RingLimits

CLEARANCE_MM = 25.4
"""Room for the wander of the pith and the youngest rings; an inch is the yard's usual (ours)."""
DRY_ENOUGH_POINTS = 2.0
"""A reading this much above what was asked still passes for it: a meter's own doubt (ours)."""
OUT_OF_SQUARE_DEG = 1.0
"""From here it is spoken of: 2 mm on a face of five inches (ours)."""
LEAST_USEFUL_MM = 300.0
"""An end shorter than this is counted as waste, a longer one as stock (ours)."""


class Why(IntFlag):
    """What speaks against a length for a replacement."""

    WOOD = 1
    SECTION = 2
    LENGTH = 4
    HEART = 8
    SAPWOOD = 16
    RINGS = 32
    SEASONING = 64
    GREEN_SIZE = 128
    OUT_OF_SQUARE = 256


RULES_OUT = Why.WOOD | Why.SECTION | Why.LENGTH
DIFFERS = Why.HEART | Why.SAPWOOD | Why.RINGS | Why.SEASONING | Why.GREEN_SIZE


@dataclass(frozen=True)
class Weighed:
    """One entry for each pair: which free length (`offer`), which replacement (`need`), and what.

    `why` is a sum of `Why`, `differences` how many of those differ from what was asked. `over_mm`
    is what the free length has more than the replacement; below nought it is short. `waste_mm3` is
    the wood of the length taken that is not in the finished member, with an end left over that is
    too short to use; `rip_mm3` the same without that end. `worth_mm3` is the volume taken, times
    what the wood has that was not asked for: of two alike wasteful the plainer goes first, and of
    two alike plain the cheaper, by `money`, what the volume taken is worth (NaN: nobody said).
    """

    offer: Numbers
    need: Numbers
    why: Numbers
    differences: Numbers
    over_mm: Floats
    waste_mm3: Floats
    rip_mm3: Floats
    worth_mm3: Floats
    money: Floats
    heart: HeartBeside

    def __len__(self) -> int:
        return len(self.offer)

    @property
    def serves(self) -> Bools:
        return np.asarray((self.why & int(RULES_OUT)) == 0)

    def ranked(self) -> Numbers:
        """Entries, the best first: by what rules out, what differs, least waste, then worth."""
        money = np.where(np.isnan(self.money), np.inf, self.money)
        last_first = (
            money, self.worth_mm3, np.round(self.waste_mm3), self.differences,
            _count(self.why, RULES_OUT),
        )  # fmt: skip
        return np.lexsort(last_first).astype(np.int64)


def weigh(
    offers: Sequence[Offer],
    needs: Sequence[Need],
    shrinkages: Mapping[int, tuple[float, float]],
    limits: RingLimits,
    *,
    only_serving: bool = False,
    anywhere: bool = False,
) -> Weighed:
    """Weigh every free length against every replacement.

    shrinkages: radial and tangential from green to ovendry, percent, by wood; of a wood that is
    not in it nothing is said of its square. limits: whose limits of ring direction. only_serving
    leaves out the pairs that are ruled out. anywhere: the piece may lie anywhere in the free
    length, not at its start, so the heart is taken where it comes nearest.
    """
    all_a, all_b = columns_of_offers(offers), columns_of_needs(needs, limits)
    ruled = _ruled_out(all_a, all_b, needs)
    chosen = ruled == 0 if only_serving else np.ones(ruled.shape, dtype=bool)
    offer, need = (at.astype(np.int64) for at in np.nonzero(chosen))
    a, b = picked(all_a, offer), picked(all_b, need)
    heart = heart_beside(a, b, shrinkages, anywhere=anywhere)
    why = ruled[chosen]
    for flag, holds in _differs(a, b, heart):
        why = why | np.where(holds, int(flag), 0)
    over = a.end - a.start - b.length
    taken = a.section * b.length
    end = np.where((over > 0) & (over < LEAST_USEFUL_MM), over, 0.0) * a.section
    return Weighed(
        offer, need, why, _count(why, DIFFERS), over,
        taken - b.volume + end, taken - b.volume, taken * (1.0 + _beyond(a, b)),
        taken * a.money, heart,
    )  # fmt: skip


def _ruled_out(a: Offers, b: Needs, needs: Sequence[Need]) -> Numbers:
    """A row for each free length, a column for each replacement: what rules it out, as flags."""
    found = np.zeros((len(a.wood), len(needs)), dtype=np.int64)
    for column, need in enumerate(needs):
        found[:, column] += np.where(np.isin(a.wood, need.woods), 0, int(Why.WOOD))
    low, high = a.low[:, None] + HAIR_MM, a.high[:, None] + HAIR_MM
    found += np.where((low < b.low) | (high < b.high), int(Why.SECTION), 0)
    length = (a.end - a.start)[:, None]
    found += np.where(length < b.length - HAIR_MM, int(Why.LENGTH), 0)
    return found


def _differs(a: Offers, b: Needs, heart: HeartBeside) -> Iterator[tuple[Why, Bools]]:
    with np.errstate(invalid="ignore"):
        yield Why.HEART, b.clear & ~_clear(a, heart)
        yield Why.SAPWOOD, a.sapwood & ~b.sapwood
        yield Why.RINGS, ~_rings_pass(a, b, heart)
        as_asked = _seasoned_as_asked(a, b)
        yield Why.SEASONING, ~as_asked
        small = (a.low < b.ask_low - HAIR_MM) | (a.high < b.ask_high - HAIR_MM)
        has_shrunk = (a.state == "ready") | (b.seasoned & as_asked)
        yield Why.GREEN_SIZE, small & ~has_shrunk
        yield Why.OUT_OF_SQUARE, heart.out_of_square_deg >= OUT_OF_SQUARE_DEG


def _clear(a: Offers, heart: HeartBeside) -> Bools:
    """Where the heart was measured that decides; else the word in the record."""
    told = ~np.isnan(heart.clearance_mm)
    return np.where(told, heart.clearance_mm >= CLEARANCE_MM - HAIR_MM, a.heart == "clear")


def _rings_pass(a: Offers, b: Needs, heart: HeartBeside) -> Bools:
    told = ~np.isnan(heart.ring_deg)
    within = (heart.ring_deg >= b.least_deg) & (heart.ring_deg <= b.most_deg)
    return np.asarray((b.rings == "any") | np.where(told, within, a.rings == b.rings))


def _seasoned_as_asked(a: Offers, b: Needs) -> Bools:
    """Seasoned wood is dry enough by its last reading, or by its state where none was taken."""
    read, dry_at = ~np.isnan(a.percent), b.moisture + DRY_ENOUGH_POINTS
    dry = np.where(read, a.percent <= dry_at, a.state == "ready")
    return np.where(b.seasoned, dry, a.state == "green")


def _beyond(a: Offers, b: Needs) -> Floats:
    """How many good things it has that were not asked for."""
    extras = (
        (a.heart == "clear") & ~b.clear,
        (a.rings == "quarter") & (b.rings == "any"),
        (a.state == "ready") & ~b.seasoned,
        ~a.sapwood & b.sapwood,
    )
    return np.asarray(np.sum(extras, axis=0), dtype=np.float64)


def _count(why: Numbers, flags: Why) -> Numbers:
    counted = np.zeros(why.shape, dtype=np.int64)
    for flag in flags:
        counted += (why & int(flag)) != 0
    return counted
