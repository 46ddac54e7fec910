"""A yard's own figures laid over the published ones, and what follows from them reckoned again.

A figure that was computed from another (standing C) must not survive the figure it came from, so
where the yard sets one the other is computed anew. Figures nobody printed, but which follow from
those that were, are added with standing C and the formula.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

from timber_stock.wood.density import maximum_moisture_percent
from timber_stock.wood.durability import durability
from timber_stock.wood.figures import KINDS
from timber_stock.wood.shrinkage import coefficient_from_total
from timber_stock.wood.species import Figure, Species, own_species

OWN, COMPUTED = "Y", "C"
MASS_AT_12 = 1120.0
"""Kilograms in a cubic metre for each unit of specific gravity on the volume at 12 %."""

STANDING_WORDS = {
    "R": "read",
    "S": "second-hand",
    "B": "calculated back",
    "C": "computed",
    "M": "from memory",
    "Y": "the yard's own",
    "A": "assumed",
}
"""The standing of a figure in a word or two, for beside it; `tables.STANDINGS` says more."""


def own_figure(name: str, typed: str, source: str) -> Figure:
    """One figure of the yard's own from what was typed.

    A number may have a decimal comma. ValueError for a name that is no figure, a text that is no
    number, a number beyond the limits of its kind, a durability class that is none, or no source.
    """
    kind = KINDS.get(name)
    text = typed.strip()
    if kind is None:
        raise ValueError(f"{name!r} is no figure of a wood.")
    if not text:
        raise ValueError(f"Give the {kind.label}.")
    value = text if kind.is_word else _number(text, kind.label)
    wood = own_species("own", "", "this wood", "hardwood").with_own({name: value}, source)
    if name == "durability_class":
        durability(wood)
    if name == "basic_specific_gravity":
        maximum_moisture_percent(wood.require(name))  # heavier than its own cell wall is no wood
    return wood.figures[name]


def _number(text: str, label: str) -> float:
    try:
        return float(text.replace(",", ".").removesuffix("%"))
    except ValueError:
        raise ValueError(f"The {label} is a number, such as 4.3, not “{text}”.") from None


def laid_over(wood: Species, own: Sequence[Figure]) -> Species:
    """The wood with the yard's figures in place of the published ones, made consistent.

    Figures computed from others are computed again where the yard set what they rest on, and
    those of shrinkage, density and coefficients that follow from known ones are added.
    """
    figures = {**wood.figures, **{figure.name: figure for figure in own}}
    wood = replace(wood, figures=MappingProxyType(figures))
    for step in (_volumetric, _basic, _density, _coefficients):
        wood = step(wood)
    return wood


def _may_compute(wood: Species, name: str, *rests_on: str) -> bool:
    """Where nothing is known, or what is known was computed from what is now the yard's."""
    known = wood.figure(name)
    if known is None:
        return True
    yards = (wood.figure(other) for other in rests_on)
    return known.standing == COMPUTED and any(f is not None and f.standing == OWN for f in yards)


def _with(wood: Species, name: str, value: float, source: str) -> Species:
    kind = KINDS[name]
    computed = Figure(name, kind.label, value, kind.unit, COMPUTED, source)
    return replace(wood, figures=MappingProxyType({**wood.figures, name: computed}))


def _volumetric(wood: Species) -> Species:
    """100 [1 - (1 - S_R/100)(1 - S_T/100)], where no figure was printed. Derived."""
    radial, tangential = wood.number("radial_percent"), wood.number("tangential_percent")
    if radial is None or tangential is None or wood.figure("volumetric_percent"):
        return wood
    value = 100.0 * (1.0 - (1.0 - radial / 100.0) * (1.0 - tangential / 100.0))
    said = (
        "Computed from radial and tangential shrinkage, 100 [1 - (1 - R/100)(1 - T/100)]; the "
        "little along the grain is left out."
    )
    return _with(wood, "volumetric_percent", value, said)


def _basic(wood: Species) -> Species:
    """G = (density at 12 %)/1120 x (1 - 0.6 S_V/100): the density formula turned round."""
    density, volumetric = wood.number("density_12_kg_m3"), wood.number("volumetric_percent")
    if wood.figure("basic_specific_gravity") or density is None or volumetric is None:
        return wood
    value = density / MASS_AT_12 * (1.0 - 0.6 * volumetric / 100.0)
    said = "Computed from density at 12 % and volumetric shrinkage, D/1120 x (1 - 0.6 S/100)."
    return _with(wood, "basic_specific_gravity", value, said)


def _density(wood: Species) -> Species:
    printed, basic = wood.number("specific_gravity_12"), wood.number("basic_specific_gravity")
    if printed is not None:
        if not _may_compute(wood, "density_12_kg_m3", "specific_gravity_12"):
            return wood
        said = "Computed: specific gravity at 12 % x 1120."
        return _with(wood, "density_12_kg_m3", printed * MASS_AT_12, said)
    rests_on = ("basic_specific_gravity", "volumetric_percent")
    volumetric = wood.number("volumetric_percent")
    if basic is None or volumetric is None:
        return wood
    if not _may_compute(wood, "density_12_kg_m3", *rests_on):
        return wood
    value = basic / (1.0 - 0.6 * volumetric / 100.0) * MASS_AT_12
    said = (
        "Computed from basic specific gravity and volumetric shrinkage, G/(1 - 0.6 S/100) x 1120."
    )
    return _with(wood, "density_12_kg_m3", value, said)


def _coefficients(wood: Species) -> Species:
    for way in ("radial", "tangential"):
        total = wood.number(f"{way}_percent")
        if total is None or not _may_compute(wood, f"{way}_coefficient", f"{way}_percent"):
            continue
        said = f"Computed from the {way} shrinkage above, C = (S/3000)/(1 - S/150)."
        wood = _with(wood, f"{way}_coefficient", coefficient_from_total(total), said)
    return wood
