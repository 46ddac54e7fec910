"""How far one wood moves across the grain between two moistures, and on whose figures."""

from __future__ import annotations

from dataclasses import dataclass

from timber_stock.wood.heaviness import held_moisture
from timber_stock.wood.moisture import FIBRE_SATURATION_PERCENT
from timber_stock.wood.shrinkage import shrinkage_percent
from timber_stock.wood.species import Figure, Species


@dataclass(frozen=True)
class Movement:
    """Radial and tangential shrinkage, percent of the size at the first moisture.

    `from_percent` is None for green wood. Negative shrinkage is swelling. `figures` are the two
    green-to-ovendry figures it rests on, each with its standing and its source.
    """

    radial_percent: float
    tangential_percent: float
    from_percent: float | None
    to_percent: float
    figures: tuple[Figure, Figure]

    @property
    def stays(self) -> bool:
        """True when nothing moves: neither moisture lies below fibre saturation, or both alike."""
        return self.radial_percent == 0.0 and self.tangential_percent == 0.0

    @property
    def begins_at(self) -> str:
        return "green" if self.from_percent is None else f"{self.from_percent:g} %"


def movement(wood: Species, to_percent: float, from_percent: float | None = None) -> Movement:
    """Shrinkage of a wood from green, or from `from_percent`, to `to_percent` moisture.

    100 [1 - (1 - S_to/100)/(1 - S_from/100)] with S = S0 (30 - M)/30 from green, nought above 30 %
    (Wood Handbook ch. 4, FPL-GTR-282 Eq. 4-9). Raises ValueError for a moisture below nought or
    above what the wood can hold, and for a wood whose shrinkage is not known.
    """
    end = held_moisture(wood, to_percent, "The moisture it comes to")
    start = None
    if from_percent is not None:
        start = held_moisture(wood, from_percent, "The moisture it begins at")
    radial, tangential = (
        _between_percent(wood.require(f"{way}_percent"), start, end)
        for way in ("radial", "tangential")
    )
    figures = (wood.figures["radial_percent"], wood.figures["tangential_percent"])
    return Movement(radial, tangential, start, end, figures)


def _between_percent(total_percent: float, start: float | None, end: float) -> float:
    wet = FIBRE_SATURATION_PERCENT if start is None else start
    before, after = (shrinkage_percent(total_percent, m) / 100.0 for m in (wet, end))
    return 100.0 * (1.0 - (1.0 - after) / (1.0 - before))
