"""A board's readings as they count, and when it will be dry enough in the air of the place."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from statistics import fmean

from timber_stock.wood import drying
from timber_stock.wood.air_drying import OUTDOOR_PERCENT
from timber_stock.wood.heaviness import green_moisture
from timber_stock.wood.meter import (
    GREATEST_READING,
    LEAST_READING,
    CorrectedReading,
    corrected_reading,
)
from timber_stock.wood.species import Species as Wood

from .board import Board, MoistureReading, ReadingMethod
from .climate import Climate

ASSUMED_SPREAD_POINTS = 2.0
GREATEST_SPREAD_POINTS = 5.0


@dataclass(frozen=True)
class CountedReading:
    """A reading as it was taken, and what a published correction makes of it or why none does."""

    reading: MoistureReading
    corrected: CorrectedReading | None
    why_not: str

    @property
    def short_why(self) -> str:
        """Why it stands as read, in a few words for a narrow column."""
        if self.reading.method == ReadingMethod.OVENDRY:
            return "weighed"
        if not LEAST_READING <= self.reading.percent <= GREATEST_READING:
            return "outside a meter's range"
        return "no temperature" if self.reading.temperature_c is None else "too cold or too hot"

    @property
    def percent(self) -> float:
        return self.corrected.corrected_percent if self.corrected else self.reading.percent


def counted_reading(reading: MoistureReading, wood: Wood) -> CountedReading:
    if reading.method == ReadingMethod.OVENDRY:
        return CountedReading(reading, None, "Weighed and dried: nothing to correct.")
    try:
        found = corrected_reading(reading.percent, reading.temperature_c, wood.key)
    except ValueError as error:
        return CountedReading(reading, None, str(error))
    if not found.steps:
        return CountedReading(reading, None, "No correction is known without its temperature.")
    return CountedReading(reading, found, "")


def daily(counted: Sequence[CountedReading]) -> list[drying.Reading]:
    """One reading a day, the mean of that day's: a deep pin beside a shallow one is no wetting."""
    ordered = sorted(counted, key=lambda one: one.reading.read_on)
    days = groupby(ordered, key=lambda one: one.reading.read_on)
    return [drying.Reading(day, fmean(one.percent for one in group)) for day, group in days]


@dataclass(frozen=True)
class Air:
    """What wood in the air of a place goes towards, and how far that may be out."""

    percent: float
    spread_points: float
    said: str
    climate: Climate | None


def air_of(climate: Climate | None) -> Air:
    """The mean of the year of a climate, give or take half its swing; assumed where none is kept.

    A board dries over seasons, so no single month is the one it goes towards.
    """
    if climate is None:
        said = f"{OUTDOOR_PERCENT:g} %, assumed: no climate is entered yet"
        return Air(OUTDOOR_PERCENT, ASSUMED_SPREAD_POINTS, said, None)
    year = climate.year()
    swing = (year.greatest_percent - year.least_percent) / 2
    spread = min(GREATEST_SPREAD_POINTS, max(drying.EQUILIBRIUM_SPREAD_POINTS, swing))
    said = (
        f"{year.mean_percent:.1f} % ± {spread:.1f}, the mean of the year at {climate.place} and "
        "half its swing, computed from the climate entered"
    )
    return Air(round(year.mean_percent, 1), round(spread, 1), said, climate)


def forecast_of(
    board: Board, counted: Sequence[CountedReading], wood: Wood, air: Air, wanted_percent: float
) -> drying.Forecast:
    """When the board reaches a moisture; ValueError where the numbers are beyond all sense."""
    found = drying.forecast(
        daily(counted),
        wanted_percent,
        air.percent,
        equilibrium_spread_points=air.spread_points,
        species_key=wood.key,
        thickness_mm=min(board.thickness_mm, board.width_mm),
        piled_on=piled_on(board),
        green_percent=green_moisture(wood).percent,
    )
    return replace(found, explanation=found.explanation.replace(wood.key, wood.common))


def piled_on(board: Board) -> date | None:
    """The day it was sawn or came in, for want of the day it was put in stick."""
    return board.sawing.sawn_on if board.sawing else board.received_on


def said_of_last(readings: Sequence[drying.Reading], forecast: drying.Forecast) -> str:
    """What the last reading says against the dates: that it is dry, or that the curve lies."""
    if not readings:
        return ""
    last = readings[-1]
    said = f"Its last reading, {last.moisture_percent:.1f} %, is"
    if last.moisture_percent <= forecast.wanted_percent:
        return f"{said} dry enough already."
    if forecast.likely_on and forecast.likely_on <= last.on:
        return f"{said} wetter than the curve by then: it dries slower now. Read it again."
    return ""
