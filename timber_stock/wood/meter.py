"""Moisture meter readings (pins): corrected where a published correction is known, refused else.

Makers' examples add the temperature and the species correction separately to the reading, and so
does this. The published rules disagree by about a point; the one used is named in the answer.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from timber_stock.wood.checked import between, finite

LEAST_READING, GREATEST_READING = 6.0, 30.0
"""Electrical response follows moisture fairly only below about 30 % (FPL-GTR-6, 1988; read);
calibration tables begin at about 7 % (a meter's instruction sheet; read)."""

SALT_CAUTION = (
    "Salt raises the reading: wood from a salt-water hull reads high, often off the scale, without "
    "being that wet. No published correction for sea salt is known. Compare readings within one "
    "boat only, and dry a sample at 103 °C when a decision depends on it. (General knowledge, from "
    "memory; the principle for salts is read in FPL-GTR-6.)"
)
TREATED_CAUTION = (
    "Water-borne preservatives raise readings by 1 to 2 points (FPL-GTR-6, 1988; read): "
    "none of it is corrected here."
)
METAL_CAUTION = "Fastenings near the pins and surface wetness raise the reading too (from memory)."


@dataclass(frozen=True)
class TemperatureRule:
    """A published temperature correction: points to add, by reading (%) and temperature (C)."""

    name: str
    coldest_c: float
    hottest_c: float
    points: Callable[[float, float], float]
    source: str
    standing: str


@dataclass(frozen=True)
class SpeciesCorrection:
    """One known pair: at this reading in this wood the moisture is that. Rows can be added."""

    species_key: str
    reading_percent: float
    corrected_percent: float
    source: str
    standing: str


@dataclass(frozen=True)
class Step:
    """One correction as applied: points added to the reading, and by whose rule."""

    what: str
    points: float
    source: str
    standing: str


@dataclass(frozen=True)
class CorrectedReading:
    """A meter reading and what it stands for. `word` says how far it can be called measured."""

    reading_percent: float
    corrected_percent: float
    word: str
    steps: tuple[Step, ...]
    cautions: tuple[str, ...]


def _interpolated(table: Sequence[tuple[float, float]], at: float) -> float:
    for (x0, y0), (x1, y1) in pairwise(table):
        if x0 <= at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    raise ValueError(f"{at:g} lies outside the table.")


def _quadratic_over_exponential(reading: float, t: float) -> float:
    top = reading + 0.567 - 0.0260 * t + 0.000051 * t * t
    return top / (0.881 * math.pow(1.0056, t)) - reading


AT_FIFTEEN = ((10.0, 2.0), (20.0, 0.0), (40.0, -3.0), (50.0, -4.0))

TEMPERATURE_RULES: dict[str, TemperatureRule] = {
    "half_point_per_5c": TemperatureRule(
        "half a point for every 5 °C from 20 °C", 0, 50,
        lambda reading, t: 0.1 * (20.0 - t),
        "A meter's instruction sheet, calibrated at 20 °C", "R",
    ),
    "table_at_fifteen": TemperatureRule(
        "table made for a reading of 15 %", 10, 50,
        lambda reading, t: _interpolated(AT_FIFTEEN, t),
        "Another maker's sheet, whole points at 10, 40 and 50 °C; drawn straight between, "
        "and nought at 20 °C assumed", "R",
    ),
    "none_needed": TemperatureRule(
        "no correction between 10 and 32 °C", 10, 32, lambda reading, t: 0.0,
        "A maker's note", "R",
    ),
    "pfaff_garrahan": TemperatureRule(
        "Pfaff and Garrahan (1986)", 0, 50, _quadratic_over_exponential,
        "From memory of Pfaff and Garrahan (1986), not verified", "M",
    ),
}  # fmt: skip

ONE_MAKER = "One maker's sheet, a single example; another instrument may differ"
PUBLISHED_CORRECTIONS = (
    SpeciesCorrection("spruce_sitka", 15.0, 16.0, ONE_MAKER, "R"),
    SpeciesCorrection("teak", 24.0, 20.0, ONE_MAKER, "R"),
)
NEAR_ENOUGH = 1.0
"""A single known pair is used for readings within this many points of it (our practice)."""


def corrected_reading(
    reading_percent: float,
    wood_temperature_c: float | None = None,
    species_key: str | None = None,
    *,
    rule: str = "half_point_per_5c",
    corrections: Sequence[SpeciesCorrection] = PUBLISHED_CORRECTIONS,
    salt_water: bool = False,
    treated: bool = False,
) -> CorrectedReading:
    """Correct one reading of a pin meter, percent.

    reading_percent: 6 to 30, else ValueError. wood_temperature_c: of the wood, within the range of
    the named rule (`TEMPERATURE_RULES`), else ValueError; left out, no correction. species_key with
    `corrections`: known pairs for the instrument, drawn straight between two of them; away from
    them nothing is corrected and a caution says so. salt_water and treated add their cautions.
    """
    reading = finite(reading_percent, "The meter reading")
    word = _word(reading)
    steps, cautions = [], [METAL_CAUTION]
    if wood_temperature_c is None:
        cautions.append("No wood temperature given: warm wood reads high and cold wood low.")
    else:
        steps.append(_temperature_step(reading, wood_temperature_c, rule))
        if abs(reading - 15.0) > 3.0:
            cautions.append(
                "Temperature corrections grow with the reading; this one suits about 15 %."
            )
    if species_key is not None:
        found = _species_step(species_key, reading, corrections)
        steps.extend(found[:1])
        if not found:
            cautions.append("No correction for this wood is known near this reading: none made.")
    cautions += [SALT_CAUTION] * salt_water + [TREATED_CAUTION] * treated
    corrected = reading + sum(step.points for step in steps)
    return CorrectedReading(reading, corrected, word, tuple(steps), tuple(cautions))


def _word(reading: float) -> str:
    if not LEAST_READING <= reading <= GREATEST_READING:
        raise ValueError(
            f"A reading of {reading:g} % is outside the range of a pin meter, "
            f"{LEAST_READING:g} to {GREATEST_READING:g} %: it measures nothing. "
            "Dry and weigh a sample instead."
        )
    if reading < 7:
        return "below the calibrated range"
    return "measured" if reading <= 26 else "about or above fibre saturation, not measured"


def _temperature_step(reading: float, temperature_c: float, name: str) -> Step:
    if name not in TEMPERATURE_RULES:
        raise ValueError(f"No temperature rule is called {name!r}.")
    rule = TEMPERATURE_RULES[name]
    t = between(temperature_c, rule.coldest_c, rule.hottest_c, "The wood temperature", " °C")
    return Step(f"temperature {t:g} °C", rule.points(reading, t), rule.source, rule.standing)


def _species_step(key: str, reading: float, corrections: Sequence[SpeciesCorrection]) -> list[Step]:
    """The species correction as a list of one step, or of none when none is known."""
    known = sorted(
        (c for c in corrections if c.species_key == key), key=lambda c: c.reading_percent
    )
    pairs = [(c.reading_percent, c.corrected_percent - c.reading_percent) for c in known]
    if len(pairs) > 1 and pairs[0][0] <= reading <= pairs[-1][0]:
        points = _interpolated(pairs, reading)
        return [Step(f"species {key}", points, known[0].source, known[0].standing)]
    near = [c for c in known if abs(c.reading_percent - reading) <= NEAR_ENOUGH]
    return [
        Step(f"species {key}", c.corrected_percent - c.reading_percent, c.source, c.standing)
        for c in near
    ]
