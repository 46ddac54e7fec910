"""How heavy a wood is green and dry, told from its figures, with what had to be assumed.

Weights guide a lift and do not plan it: see `weights.LIFTING_CAUTION`.
"""

from __future__ import annotations

from dataclasses import dataclass

from timber_stock.wood.air_drying import GREEN_PERCENT
from timber_stock.wood.checked import moisture
from timber_stock.wood.density import density_kg_m3, maximum_moisture_percent
from timber_stock.wood.species import Figure, Species

DRY_PERCENT = 12.0
"""The dry moisture of the published tables of density."""


@dataclass(frozen=True)
class GreenMoisture:
    """What green wood of this kind holds, percent, and whether that is a figure or assumed."""

    percent: float
    figure: Figure | None

    @property
    def words(self) -> str:
        if self.figure is None:
            return f"{self.percent:.0f} %, assumed: no green moisture is known for this wood"
        return f"{self.percent:g} %, {self.figure.label}"


def most_moisture_percent(wood: Species) -> float | None:
    """The most water this wood can hold, percent; None when its density is not known."""
    basic = wood.number("basic_specific_gravity")
    return None if basic is None else maximum_moisture_percent(basic)


def held_moisture(wood: Species, percent: float, what: str = "Moisture content") -> float:
    """A moisture that this wood can hold: nought or more, and no more than its hollows take.

    ValueError otherwise. Without a known density only 300 % is the limit.
    """
    content = moisture(percent, what)
    most = most_moisture_percent(wood)
    limit = 300.0 if most is None else most
    if content > limit + 0.05:
        basic = wood.number("basic_specific_gravity")
        why = f"with basic specific gravity {basic:.2f}, " if basic is not None else ""
        raise ValueError(
            f"{what} is {content:g} %; {wood.common}, {why}is full of water at {limit:.1f} %."
        )
    return content


def green_moisture(wood: Species, *, sapwood: bool = False) -> GreenMoisture:
    """Green moisture of heartwood or sapwood as tabled, or 75 % assumed, never more than it holds.

    Where only the other kind of wood is tabled that figure is taken, for it is of the same tree.
    """
    names = ["green_heartwood_percent", "green_sapwood_percent"]
    if sapwood:
        names.reverse()
    known = next((figure for name in names if (figure := wood.figure(name))), None)
    percent = GREEN_PERCENT if known is None else float(known.value)
    most = most_moisture_percent(wood)
    return GreenMoisture(percent if most is None else min(percent, most), known)


def green_volume_density_kg_m3(wood: Species, moisture_percent: float) -> float:
    """Weight at a moisture of what takes up one cubic metre green, kg: 1000 G (1 + M/100).

    For pieces whose sizes were taken green. Needs the basic specific gravity G; ValueError without
    it, and for a moisture the wood cannot hold.
    """
    content = held_moisture(wood, moisture_percent)
    return density_kg_m3(wood.require("basic_specific_gravity"), _full(wood, content), 0.0)


def present_density_kg_m3(wood: Species, moisture_percent: float) -> float:
    """Weight of a cubic metre as it measures at this moisture, kg: `density.density_kg_m3`.

    For pieces whose sizes were taken as they are now. ValueError as above.
    """
    content = held_moisture(wood, moisture_percent)
    return density_kg_m3(
        wood.require("basic_specific_gravity"),
        _full(wood, content),
        wood.number("volumetric_percent"),
    )


def _full(wood: Species, content: float) -> float:
    most = most_moisture_percent(wood)
    return content if most is None else min(content, most)
