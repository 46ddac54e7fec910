"""Fit of drying readings to M = Me + A exp(-t/tau), with every curve the readings allow.

Instead of one curve and a guessed error, all pairs (A, tau) are kept whose misfit is not
significantly worse than the best. What they say of any day or any moisture is the band.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

RATES = np.concatenate(([0.0], np.geomspace(1e-5, 2.0, 1200)))
"""Rates 1/tau looked at, per day: from no drying at all to half a day."""

STUDENT_90 = (3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415, 1.397, 1.383, 1.372, 1.363, 1.356,
              1.350, 1.345, 1.341, 1.337, 1.333, 1.330, 1.328, 1.325)  # fmt: skip
"""Student's t exceeded by one in ten, for 1 to 20 degrees of freedom; 1.282 to 1.325 beyond.
As any table of the distribution prints it."""


def student_90(freedom: int) -> float:
    """Student's t for a band that holds the truth four times in five."""
    return STUDENT_90[freedom - 1] if freedom <= len(STUDENT_90) else 1.32


@dataclass(frozen=True)
class Fit:
    """The curves the readings allow: rate by rate, the least and greatest A that are allowed."""

    equilibrium: float
    best_rate: float
    best_height: float
    rates: Floats
    low_heights: Floats
    high_heights: Floats

    def band(self, days: float) -> tuple[float, float, float]:
        """Least, likely and greatest moisture after so many days."""
        fall = np.exp(-self.rates * days)
        low, high = self.low_heights * fall, self.high_heights * fall
        likely = self.best_height * math.exp(-self.best_rate * days)
        return (
            self.equilibrium + float(low.min()),
            self.equilibrium + likely,
            self.equilibrium + float(high.max()),
        )

    def likely_days(self, wanted: float) -> float:
        """Days until the best curve reaches the wanted moisture; infinite when it does not."""
        return float(_days(self.best_height, self.best_rate, wanted - self.equilibrium))

    def days_range(self, wanted: float) -> tuple[float, float]:
        """Least and greatest days at which an allowed curve reaches the wanted moisture."""
        above = wanted - self.equilibrium
        curves = range(len(self.rates))
        soonest = (_days(self.low_heights[i], self.rates[i], above) for i in curves)
        latest = (_days(self.high_heights[i], self.rates[i], above) for i in curves)
        return min(soonest), max(latest)


def _days(height: float, rate: float, above: float) -> float:
    """Days for height exp(-rate t) to fall to `above`; nought when it is there already."""
    if above <= 0:
        return math.inf
    if height <= above:
        return 0.0
    return math.log(height / above) / rate if rate > 0 else math.inf


def fit(days: Floats, moistures: Floats, equilibrium: float, reading_error: float) -> Fit:
    """All curves towards one equilibrium that three or more readings allow.

    days from the first reading; moistures and equilibrium in percent; reading_error the least
    standard deviation believed of a reading, points. For each rate the height A follows by least
    squares; a curve is allowed when its sum of squares exceeds the least by no more than
    t^2 s^2, s the larger of the scatter found and reading_error (a profile likelihood).
    """
    falls = np.exp(-np.outer(RATES, days))
    weights = (falls**2).sum(axis=1)
    heights = (falls * (moistures - equilibrium)).sum(axis=1) / weights
    misfits = ((moistures - equilibrium - heights[:, None] * falls) ** 2).sum(axis=1)
    best = int(np.argmin(misfits))
    freedom = len(days) - 2
    scatter = max(float(misfits[best]) / freedom, reading_error**2)
    room = misfits[best] + student_90(freedom) ** 2 * scatter - misfits
    allowed = room >= 0
    half = np.sqrt(room[allowed] / weights[allowed])
    return Fit(
        equilibrium=equilibrium,
        best_rate=float(RATES[best]),
        best_height=float(heights[best]),
        rates=RATES[allowed],
        low_heights=heights[allowed] - half,
        high_heights=heights[allowed] + half,
    )
