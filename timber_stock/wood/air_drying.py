"""Published times for drying in stick, as ranges: to be offered where readings are too few."""

from __future__ import annotations

import math
from dataclasses import dataclass

from timber_stock.wood import tables
from timber_stock.wood.checked import between, positive

TABLE_THICKNESS_MM = 25.4
TABLE_MOISTURE_PERCENT = 20.0
THICKNESS_POWER = 1.5
"""Time grows as thickness to this power: the usual rule, from memory; 1.52 in the red oak fit."""

OUTDOOR_PERCENT = 13.0
GREEN_PERCENT = 75.0
"""Taken where nothing better is known: outdoor equilibrium and green moisture (assumed)."""

TABLE_ROWS: dict[str, tuple[str, ...]] = {
    "oak_northern_red": ("oak_northern_red",),
    "oak_white": ("oak_white (northern)",),
    "oak_live": ("oak_live",),
    "ash_white": ("ash_white",),
    "beech_american": ("beech_american",),
    "birch_yellow": ("birch_yellow",),
    "cherry_black": ("cherry_black",),
    "chestnut_american": ("chestnut_american",),
    "elm_american": ("elm_american",),
    "elm_rock": ("elm_rock",),
    "hickory_shagbark": ("hickory",),
    "hickory_mockernut": ("hickory",),
    "maple_sugar": ("maple_sugar",),
    "walnut_black": ("walnut_black",),
    "baldcypress": ("baldcypress",),
    "douglas_fir_coast": ("douglas_fir_coast",),
    "larch_western": ("larch_western",),
    "pine_eastern_white": ("pine_eastern_white",),
    "pine_longleaf": ("pine_southern (loblolly; longleaf; shortleaf)",),
    "pine_loblolly": ("pine_southern (loblolly; longleaf; shortleaf)",),
    "pine_shortleaf": ("pine_southern (loblolly; longleaf; shortleaf)",),
    "redwood_old_growth": ("redwood (light)", "redwood (heavy)"),
    "spruce_red": ("spruce_red",),
    "spruce_sitka": ("spruce_sitka",),
}
"""The rows of the table that speak for a wood of `species.csv`; the others have none."""

TABLE_SOURCE = (
    "From memory of Air Drying of Lumber (Agriculture Handbook 402, FPL-GTR-117): one-inch boards, "
    "green to about 20 %, hand-stacked in the region where the wood grows; the short time for "
    "stock piled in spring, the long in autumn. Other thicknesses by the power 1.5 (from memory)."
)


@dataclass(frozen=True)
class DayRange:
    """A published range of days: never one date. `standing` M, from memory."""

    least_days: float
    greatest_days: float
    basis: str
    standing: str = "M"


def table_days(species_key: str, thickness_mm: float) -> DayRange:
    """Days from green to about 20 % in stick outdoors; thickness 10 to 400 mm.

    Raises ValueError for a wood the table does not know.
    """
    thickness = between(thickness_mm, 10, 400, "The thickness", " mm")
    names = TABLE_ROWS.get(species_key)
    if names is None:
        raise ValueError(f"The air-drying table has no row for {species_key!r}.")
    found = [row for row in tables.rows("air_drying_days_4_4.csv") if row["wood"] in names]
    factor = math.pow(thickness / TABLE_THICKNESS_MM, THICKNESS_POWER)
    return DayRange(
        factor * min(float(row["days_min"]) for row in found),
        factor * max(float(row["days_max"]) for row in found),
        TABLE_SOURCE,
    )


def time_constant_days(
    species_key: str,
    thickness_mm: float,
    green_percent: float = GREEN_PERCENT,
    outdoor_percent: float = OUTDOOR_PERCENT,
) -> DayRange:
    """The range of tau in M = Me + (M0 - Me) exp(-t/tau) that fits the published days.

    tau = days/ln[(M0 - Me)/(20 - Me)]. green_percent M0: 30 to 250; outdoor_percent Me: 5 to 19.
    The exponential is derived from, not printed with, the table.
    """
    green = between(green_percent, 30, 250, "Green moisture", " %")
    outdoor = between(outdoor_percent, 5, 19, "Outdoor equilibrium moisture", " %")
    days = table_days(species_key, thickness_mm)
    spans = math.log((green - outdoor) / (TABLE_MOISTURE_PERCENT - outdoor))
    return DayRange(
        days.least_days / spans, days.greatest_days / spans, f"{days.basis} Taken as exponential."
    )


def exponential_days(
    tau_days: float,
    moisture_from_percent: float,
    moisture_to_percent: float,
    equilibrium_percent: float,
) -> float:
    """Days from one moisture to another: tau ln[(M0 - Me)/(M - Me)].

    Raises ValueError unless both lie above the equilibrium Me and the second is no wetter.
    """
    tau = positive(tau_days, "The time constant in days")
    start = between(moisture_from_percent, 0, 300, "The first moisture", " %")
    end = between(moisture_to_percent, 0, start, "The second moisture", " %")
    settled = between(equilibrium_percent, 0, 40, "Equilibrium moisture", " %")
    if end <= settled:
        raise ValueError(
            f"Wood does not dry to {end:g} % where it settles at {settled:g} %: "
            "the place is too damp for it."
        )
    return tau * math.log((start - settled) / (end - settled))


def red_oak_kiln_time_constant_days(thickness_mm: float, vapour_pressure_mmhg: float) -> float:
    """tau = L^1.52/(0.0575 + 0.00142 p) days, L thickness in inches, p saturation pressure in mmHg.

    Red oak in kiln air only: outdoors it is several times too quick. thickness 10 to 150 mm,
    pressure 4 to 800 mmHg. Source: after Simpson and Tschernitz (1979), second-hand.
    """
    inches = between(thickness_mm, 10, 150, "The thickness", " mm") / TABLE_THICKNESS_MM
    pressure = between(vapour_pressure_mmhg, 4, 800, "The vapour pressure", " mmHg")
    return math.pow(inches, 1.52) / (0.0575 + 0.00142 * pressure)
