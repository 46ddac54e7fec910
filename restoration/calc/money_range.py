"""How far off the yard's own estimates have been, and what that makes of the next one."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from restoration.calc.money_spread import CENT, NOTHING, in_cents

FEWEST_FOR_A_SPAN = 2
FEWEST_FOR_TENTHS = 10
ONE, TEN, THOUSAND = Decimal(1), Decimal(10), Decimal(1000)
RULE = (
    f"With {FEWEST_FOR_TENTHS} jobs or more the range leaves out the lowest and the highest tenth "
    "of what was spent to what was estimated, each found by a straight line between the two jobs "
    f"on either side of it, at the place (n + 1)/10; with {FEWEST_FOR_A_SPAN} to "
    f"{FEWEST_FOR_TENTHS - 1} jobs it is their whole span; with fewer there is none. "
    "The ends are rounded outward, to whole units of money and above 1,000 to tens: a few jobs "
    "bear no finer figure (common practice)."
)


@dataclass(frozen=True)
class Past:
    """Spent to estimated, of the jobs that are done: `count` of them, 1 where they were equal.

    `low` and `high` are None where the past is too short to say how far one may be off.
    """

    count: int
    low: float | None = None
    middle: float | None = None
    high: float | None = None

    @property
    def says(self) -> str:
        """What it rests on, in plain words."""
        if self.count == 0:
            return (
                "No job with an estimate is done yet, so nothing of this yard's own says how far "
                "off an estimate may be: no range is given."
            )
        if self.low is None or self.high is None:
            return (
                f"One job of this yard with an estimate is done: it took {percent(self.middle)} of "
                "what was estimated. One says nothing of how far the next may be off: no range "
                "is given."
            )
        how = "the middle eight tenths" if self.count >= FEWEST_FOR_TENTHS else "the whole span"
        few = "" if self.count >= FEWEST_FOR_TENTHS else " Few, so the next may well lie outside."
        return (
            f"{self.count} jobs of this yard with an estimate are done: they took "
            f"{percent(self.low)} to {percent(self.high)} of what was estimated ({how}), "
            f"{percent(self.middle)} in the middle.{few}"
        )


@dataclass(frozen=True)
class Range:
    low: Decimal
    high: Decimal


def percent(ratio: float | None) -> str:
    """A share as whole percent; a dash where there is none."""
    return "–" if ratio is None else f"{100 * ratio:.0f} %"


def from_the_past(ratios: Sequence[float]) -> Past:
    """What the jobs done say, each by what it took divided by what was estimated for it.

    The median, and the range by RULE. The tenths are at place (n + 1)/10 and 9(n + 1)/10 in the
    order of size, as `statistics.quantiles(method="exclusive")` has it (the sixth definition of
    Hyndman and Fan, Sample Quantiles in Statistical Packages, 1996; from memory). Raises
    ValueError for a ratio that is no number above nothing.
    """
    if not all(math.isfinite(ratio) and ratio > 0 for ratio in ratios):
        raise ValueError("What a job took is told by a part of its estimate, more than nothing.")
    if len(ratios) < FEWEST_FOR_A_SPAN:
        return Past(len(ratios), middle=ratios[0] if ratios else None)
    middle = statistics.median(ratios)
    if len(ratios) < FEWEST_FOR_TENTHS:
        return Past(len(ratios), min(ratios), middle, max(ratios))
    tenths = statistics.quantiles(ratios, n=10, method="exclusive")
    return Past(len(ratios), tenths[0], middle, tenths[-1])


def range_of(estimate: Decimal, past: Past, spent: Decimal = NOTHING) -> Range | None:
    """The estimate times the yard's range, and never less than is `spent` already.

    Rounded outward as `outward` has it; what is spent is known to the cent and stays so.
    None where the past gives none, and where more is spent than the past reaches: then it says
    nothing of where this will end.

    The range of a sum of jobs is taken as wide as that of each: nothing is won by their evening
    out, for what makes one job dear often makes its neighbours dear.
    """
    if past.low is None or past.high is None:
        return None
    sure = in_cents(estimate)
    low, high = ((sure * Decimal(ratio)).quantize(CENT) for ratio in (past.low, past.high))
    if spent > high:
        return None
    wide = outward(low, high)
    return Range(max(wide.low, spent), wide.high)


def outward(low: Decimal, high: Decimal) -> Range:
    """The range to what such a figure can bear: whole units of money, above 1000 whole tens.

    Always outward, so that what it held before it still holds.
    """
    return Range(_to_step(low, ROUND_FLOOR), _to_step(high, ROUND_CEILING))


def _to_step(amount: Decimal, way: str) -> Decimal:
    step = TEN if amount > THOUSAND else ONE
    return ((amount / step).to_integral_value(way) * step).quantize(CENT)
