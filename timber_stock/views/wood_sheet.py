"""What the page of a wood and the list of woods show, gathered from its figures."""

from dataclasses import dataclass, replace

from timber_stock.models import Species, WoodFigure, figures_of
from timber_stock.models.figures import published_wood
from timber_stock.wood import density, shrinkage
from timber_stock.wood.durability import Durability, durability
from timber_stock.wood.figures import KINDS, Kind
from timber_stock.wood.heaviness import (
    DRY_PERCENT,
    green_moisture,
    green_volume_density_kg_m3,
    present_density_kg_m3,
)
from timber_stock.wood.species import Figure
from timber_stock.wood.species import Species as Wood

WEIGHT = ("basic_specific_gravity", "specific_gravity_12", "density_12_kg_m3")
MOVEMENT = (
    "radial_percent", "tangential_percent", "volumetric_percent", "radial_coefficient",
    "tangential_coefficient",
)  # fmt: skip
GREEN = ("green_heartwood_percent", "green_sapwood_percent")
LASTING = ("durability_class", "decay_class")
SHOWN_PERCENT = (20.0, 15.0, 12.0, 8.0)


@dataclass(frozen=True)
class Row:
    """One kind of figure of a wood: what counts, what the yard has set and what is published."""

    kind: Kind
    figure: Figure | None
    own: WoodFigure | None
    published: Figure | None


@dataclass(frozen=True)
class Line:
    """One wood in the list."""

    wood: Species
    figures: Wood
    durability: Durability
    controlled: bool


def rows_of(wood: Species, figures: Wood) -> dict[str, list[Row]]:
    """Every kind of figure, known or not, by the part of the page it stands in."""
    published = published_wood(wood)
    own = {kept.kind: kept for kept in wood.own_figures.all()}

    def rows(names) -> list[Row]:
        return [
            Row(KINDS[name], figures.figure(name), own.get(name), published.figure(name))
            for name in names
        ]

    named = {"weight": WEIGHT, "movement": MOVEMENT, "green": GREEN, "lasting": LASTING}
    rest = [name for name in KINDS if not any(name in names for names in named.values())]
    return {**{part: rows(names) for part, names in named.items()}, "strength": rows(rest)}


@dataclass(frozen=True)
class Heaviness:
    """One state of the wood: its moisture in words, and kilograms for a cubic metre."""

    state: str
    moisture: str
    as_it_measures: float
    measured_green: float


def heaviness(figures: Wood) -> list[Heaviness]:
    """Green heartwood and sapwood, and dry; empty where no density is known."""
    if figures.number("basic_specific_gravity") is None:
        return []
    heart, sap = green_moisture(figures), green_moisture(figures, sapwood=True)
    states = [("green, heartwood", heart.words, heart.percent)]
    if sap.figure != heart.figure:
        states.append(("green, sapwood", sap.words, sap.percent))
    states.append(("dry", f"{DRY_PERCENT:g} %", DRY_PERCENT))
    return [
        Heaviness(
            state, words, present_density_kg_m3(figures, m), green_volume_density_kg_m3(figures, m)
        )
        for state, words, m in states
        if m <= density.maximum_moisture_percent(figures.require("basic_specific_gravity")) + 0.05
    ]


def water(figures: Wood) -> dict[str, float] | None:
    """The most it holds and where it sinks, percent; None where no density is known."""
    basic = figures.number("basic_specific_gravity")
    if basic is None:
        return None
    return {
        "most": density.maximum_moisture_percent(basic),
        "sinks": density.sinking_moisture_percent(basic),
    }


def shrinkage_rows(figures: Wood) -> list[dict]:
    """What 100 mm green becomes, by direction, at some moistures."""
    known = {
        way: total
        for way in ("radial", "tangential")
        if (total := figures.number(f"{way}_percent")) is not None
    }
    if not known:
        return []
    return [
        {
            "moisture": m,
            **{way: shrinkage.shrinkage_percent(total, m) for way, total in known.items()},
        }
        for m in SHOWN_PERCENT
    ]


def safe_durability(figures: Wood) -> Durability:
    """As told; a class kept in a form that is no longer read counts as none known."""
    try:
        return durability(figures)
    except ValueError:
        rest = {n: f for n, f in figures.figures.items() if n != "durability_class"}
        return durability(replace(figures, figures=rest))


def line_of(wood: Species, controlled) -> Line:
    figures = figures_of(wood)
    return Line(wood, figures, safe_durability(figures), controlled(figures.key))
