"""The moisture wood settles at, from the air round it and from its place in a boat.

Moisture content is water by weight in percent of ovendry wood.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from timber_stock.wood import tables
from timber_stock.wood.checked import between, finite, moisture, positive

FIBRE_SATURATION_PERCENT = 30.0
"""Average over woods (Wood Handbook ch. 4, read); single pieces differ by several points."""

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August",
          "September", "October", "November", "December")  # fmt: skip

COLDEST_C, HOTTEST_C = -40.0, 130.0
EQUATION_SOURCE = (
    "Wood Handbook FPL-GTR-190 (2010) and FPL-GTR-282 (2021) Eq. 4-5, the two-hydrate "
    "Hailwood-Horrobin form fitted by Simpson; coefficients read in several independent texts."
)


def moisture_percent(wet_mass: float, ovendry_mass: float) -> float:
    """Moisture content from a sample weighed wet and again ovendry (103 C to constant mass).

    100 (wet - dry)/dry, both masses in one unit. The standard definition. Raises ValueError when
    the dry mass is not above nought or the wet mass is less.
    """
    dry = positive(ovendry_mass, "The ovendry mass")
    wet = positive(wet_mass, "The wet mass")
    if wet < dry:
        raise ValueError(f"The wet mass {wet:g} is less than the ovendry mass {dry:g}.")
    return 100.0 * (wet - dry) / dry


def equilibrium_moisture_percent(temperature_c: float, humidity_percent: float) -> float:
    """Moisture content at which wood neither gains nor loses water, percent.

    EMC = (1800/W) [K h/(1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2)/(1 + K1 K h + K1 K2 K^2 h^2)],
    h the relative humidity as a fraction, W, K, K1 and K2 quadratics in the temperature in C.
    temperature_c from -40 to 130 C, humidity_percent from 0 to 100; else ValueError. One curve
    serves all woods; see `equilibrium_cautions` for where it is weak.
    Source: Wood Handbook (FPL-GTR-190, 2010; FPL-GTR-282, 2021) Eq. 4-5, Celsius form.
    """
    t = between(temperature_c, COLDEST_C, HOTTEST_C, "The temperature", " °C")
    return _two_hydrates(
        between(humidity_percent, 0, 100, "Relative humidity", " %") / 100.0,
        w=349.0 + 1.29 * t + 0.0135 * t * t,
        k=0.805 + 0.000736 * t - 0.00000273 * t * t,
        k1=6.27 - 0.00938 * t - 0.000303 * t * t,
        k2=1.91 + 0.0407 * t - 0.000293 * t * t,
    )


def equilibrium_moisture_percent_f(temperature_f: float, humidity_percent: float) -> float:
    """The same with the temperature in Fahrenheit, -40 to 266 F, by the handbook's own F form.

    The two forms were fitted apart and differ by at most 0.02 points from 30 to 130 F.
    """
    t = between(temperature_f, -40, 266, "The temperature", " °F")
    return _two_hydrates(
        between(humidity_percent, 0, 100, "Relative humidity", " %") / 100.0,
        w=330.0 + 0.452 * t + 0.00415 * t * t,
        k=0.791 + 0.000463 * t - 0.000000844 * t * t,
        k1=6.34 + 0.000775 * t - 0.0000935 * t * t,
        k2=1.09 + 0.0284 * t - 0.0000904 * t * t,
    )


def _two_hydrates(h: float, w: float, k: float, k1: float, k2: float) -> float:
    kh = k * h
    bound = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh)
    return 1800.0 / w * (kh / (1.0 - kh) + bound)


def equilibrium_cautions(temperature_c: float, humidity_percent: float) -> tuple[str, ...]:
    """Sentences on where the equation is weak at these conditions; none inside its good range."""
    said = []
    if finite(humidity_percent, "Humidity") > 95:
        said.append("Above 95 % humidity the equation is not to be relied on.")
    if not -1.2 <= finite(temperature_c, "The temperature") <= 54.5:
        said.append(
            "Outside -1 to 54 °C (30 to 130 °F) the equation was not compared with the table here; "
            "hot, it can stand some tenths of a point off."
        )
    return tuple(said)


WET_CAUTION = (
    "Equilibrium holds for wood in air. Wood that touches water, in a bilge or under a leak, takes "
    "up more whatever the air is like."
)


@dataclass(frozen=True)
class MoistureYear:
    """Equilibrium moisture month by month, percent, January first."""

    place: str
    monthly_percent: tuple[float, ...]
    standing: str
    source: str

    def __post_init__(self) -> None:
        if len(self.monthly_percent) != 12:
            raise ValueError(f"A year has twelve months; {len(self.monthly_percent)} were given.")
        for month, value in zip(MONTHS, self.monthly_percent, strict=True):
            moisture(value, f"The moisture of {month}")

    @property
    def mean_percent(self) -> float:
        return sum(self.monthly_percent) / 12

    @property
    def least_percent(self) -> float:
        return min(self.monthly_percent)

    @property
    def greatest_percent(self) -> float:
        return max(self.monthly_percent)

    @property
    def driest_month(self) -> str:
        return MONTHS[self.monthly_percent.index(self.least_percent)]

    @property
    def wettest_month(self) -> str:
        return MONTHS[self.monthly_percent.index(self.greatest_percent)]


def climate_year(
    place: str, temperatures_c: Sequence[float], humidities_percent: Sequence[float]
) -> MoistureYear:
    """Equilibrium moisture through a year from twelve mean temperatures (C) and humidities (%).

    That is how the published outdoor tables were made. Raises ValueError unless there are twelve
    of each, within the limits of `equilibrium_moisture_percent`.
    """
    if len(temperatures_c) != 12 or len(humidities_percent) != 12:
        raise ValueError(
            "A climate needs twelve temperatures and twelve humidities; "
            f"{len(temperatures_c)} and {len(humidities_percent)} were given."
        )
    pairs = zip(temperatures_c, humidities_percent, strict=True)
    monthly = tuple(equilibrium_moisture_percent(t, h) for t, h in pairs)
    return MoistureYear(
        place, monthly, "C", f"Computed from the entered climate. {EQUATION_SOURCE}"
    )


def outdoor_years() -> tuple[MoistureYear, ...]:
    """Published outdoor equilibrium moisture for 19 places in the United States, from memory."""
    return tuple(
        MoistureYear(
            place=f"{row['city']}, {row['state']}",
            monthly_percent=tuple(float(row[month[:3].lower()]) for month in MONTHS),
            standing=tables.code(row["status"]),
            source="From memory of Wood Handbook Table 13-1 (2010), data of FPL-RN-0268 (1998).",
        )
        for row in tables.rows("emc_outdoor_us_monthly.csv")
    )
