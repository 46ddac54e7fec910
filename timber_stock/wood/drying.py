"""Boards in stick: readings over time, and when they will be dry enough, as a band of dates.

With three readings or more a curve is fitted towards the equilibrium of the place. With fewer a
published range is given and called that. Readings that go the wrong way are kept and shown: they
widen the band, as they should.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

import numpy as np

from timber_stock.wood.air_drying import (
    GREEN_PERCENT,
    TABLE_ROWS,
    exponential_days,
    time_constant_days,
)
from timber_stock.wood.checked import between, moisture
from timber_stock.wood.drying_fit import Fit, fit

READING_ERROR_POINTS = 1.0
"""Least standard deviation believed of a reading: meters were seldom more than 2 points from the
ovendry figure (Wengert and Bois 1997, quoted), taken as two standard deviations."""

EQUILIBRIUM_SPREAD_POINTS = 1.0
"""How far the equilibrium of the place may be out either way: assumed."""

FARTHEST_DAYS = 36525.0
FITTED, PUBLISHED, NONE = "fitted", "published rule", "none"


@dataclass(frozen=True)
class Reading:
    """One moisture reading: when, and percent of ovendry mass."""

    on: date
    moisture_percent: float


@dataclass(frozen=True)
class CurvePoint:
    """The band on one day, percent: least, likely and greatest."""

    on: date
    low_percent: float
    likely_percent: float
    high_percent: float


@dataclass(frozen=True)
class Forecast:
    """When the wanted moisture is reached. A date that cannot be told is None, never a guess.

    `basis` is fitted, published rule or none; `explanation` says how it came about and how far it
    reaches. `wrong_way` are readings wetter than the one before. `curve` is empty unless fitted.
    """

    basis: str
    explanation: str
    wanted_percent: float
    equilibrium_percent: float
    earliest_on: date | None
    likely_on: date | None
    latest_on: date | None
    time_constant_days: float | None
    wrong_way: tuple[Reading, ...]
    curve: tuple[CurvePoint, ...]


def wrong_way(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Readings that are wetter than the one before, in order of date."""
    ordered = sorted(readings, key=lambda reading: reading.on)
    return tuple(
        after
        for before, after in pairwise(ordered)
        if after.moisture_percent > before.moisture_percent
    )


def forecast(
    readings: Sequence[Reading],
    wanted_percent: float,
    equilibrium_percent: float,
    *,
    equilibrium_spread_points: float = EQUILIBRIUM_SPREAD_POINTS,
    reading_error_points: float = READING_ERROR_POINTS,
    species_key: str | None = None,
    thickness_mm: float | None = None,
    piled_on: date | None = None,
    green_percent: float = GREEN_PERCENT,
) -> Forecast:
    """When a board in stick reaches the wanted moisture.

    readings in any order. wanted_percent 4 to 60. equilibrium_percent of the place, 2 to 28, with
    equilibrium_spread_points 0 to 5 either way. Three readings on three days: the fit of
    `drying_fit`, band for four times in five, over the whole spread of the equilibrium. Fewer:
    `air_drying.time_constant_days` from the last reading, or from piled_on at green_percent, which
    needs species_key and thickness_mm; without them no date is given. ValueError for numbers
    beyond these limits.
    """
    wanted = between(wanted_percent, 4, 60, "The wanted moisture", " %")
    settled = between(equilibrium_percent, 2, 28, "Equilibrium moisture", " %")
    spread = between(equilibrium_spread_points, 0, 5, "The spread of the equilibrium", " points")
    error = between(reading_error_points, 0.1, 10, "The error of a reading", " points")
    ordered = sorted(readings, key=lambda reading: reading.on)
    for reading in ordered:
        moisture(reading.moisture_percent, f"The reading of {reading.on}")
    if len({reading.on for reading in ordered}) >= 3:
        return _fitted(ordered, wanted, settled, spread, error)
    start = ordered[-1] if ordered else None
    if start is None and piled_on is not None:
        start = Reading(piled_on, green_percent)
    return _published(ordered, start, wanted, settled, species_key, thickness_mm)


def _fitted(
    readings: list[Reading], wanted: float, settled: float, spread: float, error: float
) -> Forecast:
    first, last = readings[0].on, readings[-1].on
    days = np.array([(reading.on - first).days for reading in readings], dtype=float)
    values = np.array([reading.moisture_percent for reading in readings])
    likely = fit(days, values, settled, error)
    fits = [fit(days, values, settled + step, error) for step in (-spread, 0.0, spread)]
    ranges = [each.days_range(wanted) for each in fits]
    elapsed = float((last - first).days)
    arrived = readings[-1].moisture_percent <= wanted

    def day(count: float) -> date | None:
        """A day from the first reading on; before the last reading only if it is dry by then."""
        count = count if arrived else max(count, elapsed)
        return first + timedelta(round(count)) if count <= FARTHEST_DAYS else None

    soonest, latest = day(min(r[0] for r in ranges)), day(max(r[1] for r in ranges))
    rate = likely.best_rate
    return Forecast(
        basis=FITTED,
        explanation=_fit_words(wanted, settled, spread, len(readings), latest),
        wanted_percent=wanted,
        equilibrium_percent=settled,
        earliest_on=soonest,
        likely_on=day(likely.likely_days(wanted)),
        latest_on=latest,
        time_constant_days=1.0 / rate if rate > 0 else None,
        wrong_way=wrong_way(readings),
        curve=_curve(fits, first, elapsed, latest or day(likely.likely_days(wanted))),
    )


def _fit_words(
    wanted: float, settled: float, spread: float, count: int, latest: date | None
) -> str:
    said = (
        f"Fitted to {count} readings towards {settled:g} % (± {spread:g} assumed); the band holds "
        "four times in five if the weather goes on alike."
    )
    if wanted <= settled:
        return (
            f"{said} Wood in this place settles at {settled:g} %: it will not reach {wanted:g} %."
        )
    if latest is None:
        return f"{said} The readings do not rule out that it never gets there: no latest date."
    return said


def _curve(
    fits: list[Fit], first: date, elapsed: float, until: date | None
) -> tuple[CurvePoint, ...]:
    """The band from the first reading to the date looked for, or twice as long as was measured."""
    horizon = max(2.0 * elapsed, float((until - first).days) if until else 0.0)
    points = []
    for step in np.unique(np.rint(np.linspace(0.0, min(horizon, 20.0 * elapsed + 365.0), 61))):
        bands = [each.band(float(step)) for each in fits]
        low, high = min(b[0] for b in bands), max(b[2] for b in bands)
        points.append(CurvePoint(first + timedelta(int(step)), max(0.0, low), bands[1][1], high))
    return tuple(points)


def _published(
    readings: list[Reading],
    start: Reading | None,
    wanted: float,
    settled: float,
    species_key: str | None,
    thickness_mm: float | None,
) -> Forecast:
    """A range of dates by the published table, or none with the reason."""
    earliest: date | None = None
    latest: date | None = None
    basis = NONE
    if start is None or species_key is None or thickness_mm is None:
        said = "Too few readings: give the wood, its thickness and the day it was piled."
    elif species_key not in TABLE_ROWS:
        said = f"Too few readings, and the air-drying table has no row for {species_key}."
    elif wanted <= settled:
        said = f"Wood in this place settles at {settled:g} %: it will not reach {wanted:g} %."
    else:
        tau = time_constant_days(species_key, thickness_mm)
        earliest = _reached(start, tau.least_days, wanted, settled)
        latest = _reached(start, tau.greatest_days, wanted, settled)
        basis, said = PUBLISHED, f"Too few readings for a curve: a published range. {tau.basis}"
    return Forecast(
        basis, said, wanted, settled, earliest, None, latest, None, wrong_way(readings), ()
    )


def _reached(start: Reading, tau_days: float, wanted: float, settled: float) -> date | None:
    """The day an exponential from the start reaches the wanted moisture; None if out of sight."""
    if start.moisture_percent <= wanted:
        return start.on
    days = exponential_days(tau_days, start.moisture_percent, wanted, settled)
    return start.on + timedelta(round(days)) if days <= FARTHEST_DAYS else None
