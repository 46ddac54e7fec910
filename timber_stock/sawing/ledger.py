"""Where a log's volume went, adding up to the whole, and what each piece of it cost.

Slabs, edgings and ends are what is left when all else is counted, so the sum is the log's volume
by construction; a sum that comes out over it is refused.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from timber_stock.sawing.request import Log

ROUNDING = 1e-6


@dataclass(frozen=True)
class Yield:
    """One reckoning of a log, cubic millimetres: what it holds and what becomes of it."""

    log_mm3: float
    timbers_mm3: float
    by_products_mm3: float
    sawdust_mm3: float
    trim_mm3: float
    unsawn_mm3: float = 0.0

    def __post_init__(self) -> None:
        parts = (
            self.timbers_mm3, self.by_products_mm3, self.sawdust_mm3, self.trim_mm3,
            self.unsawn_mm3,
        )  # fmt: skip
        if not all(math.isfinite(part) and part >= 0 for part in (self.log_mm3, *parts)):
            raise ValueError("Every part of a log's yield must be nothing or more.")
        if sum(parts) > self.log_mm3 * (1 + ROUNDING):
            raise ValueError(
                f"More is counted out of the log than it holds: {sum(parts) / 1e9:.3f} m³ from "
                f"{self.log_mm3 / 1e9:.3f} m³."
            )

    @property
    def slabs_mm3(self) -> float:
        """Slabs, edgings and ends."""
        counted = self.timbers_mm3 + self.by_products_mm3 + self.sawdust_mm3
        return max(0.0, self.log_mm3 - counted - self.trim_mm3 - self.unsawn_mm3)

    def share_percent(self, part_mm3: float) -> float:
        return 100.0 * part_mm3 / self.log_mm3 if self.log_mm3 else 0.0


def trim_mm3(log: Log, butt_trim_mm: float, top_trim_mm: float) -> float:
    """The wood in both trimmed ends: pi/4 times the integral of the two diameters, mm3.

    `log` is the whole log. Exact for diameters that run straight from butt to top. Trims nothing
    or more, together less than the length, else ValueError.
    """
    if not (butt_trim_mm >= 0 and top_trim_mm >= 0) or butt_trim_mm + top_trim_mm >= log.length_mm:
        raise ValueError("What is trimmed must be nothing or more and leave some of the log.")
    top = log.length_mm - top_trim_mm
    return _between_mm3(log, 0.0, butt_trim_mm) + _between_mm3(log, top, log.length_mm)


def spread(total: int, shares: Sequence[float]) -> list[int]:
    """A sum in the smallest coin laid on pieces in proportion, nothing lost to rounding.

    total: nothing or more; shares: each nothing or more, not all nothing (else ValueError).
    """
    whole = sum(shares)
    if total < 0 or not math.isfinite(whole) or whole <= 0 or min(shares) < 0:
        raise ValueError("A sum is laid on pieces that have some size.")
    laid, given, run = [], 0, 0.0
    for share in shares:
        run += share
        upto = round(total * run / whole)
        laid.append(upto - given)
        given = upto
    laid[-1] += total - given
    return laid


def _between_mm3(log: Log, first_mm: float, last_mm: float) -> float:
    """By Simpson's rule, which is exact for the product of two straight lines."""

    def area(at_mm: float) -> float:
        share = at_mm / log.length_mm
        across = [
            b + (t - b) * share
            for b, t in zip(log.butt_diameter_mm, log.top_diameter_mm, strict=True)
        ]
        return math.pi / 4 * across[0] * across[1]

    middle = (first_mm + last_mm) / 2
    return (last_mm - first_mm) * (area(first_mm) + 4 * area(middle) + area(last_mm)) / 6
