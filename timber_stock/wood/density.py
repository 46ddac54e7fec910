"""How heavy wood is at a moisture content, and the most water it can hold.

Specific gravity is ovendry mass over a volume of water alike: over the green volume it is called
basic. Weights guide a lift and do not plan it: see `LIFTING_CAUTION`.
"""

from __future__ import annotations

from timber_stock.wood.checked import between, moisture
from timber_stock.wood.moisture import FIBRE_SATURATION_PERCENT

CELL_WALL_SPECIFIC_GRAVITY = 1.54
LIGHTEST, HEAVIEST = 0.05, 1.4


def maximum_moisture_percent(basic_specific_gravity: float) -> float:
    """The most water wood can hold, every hollow full: 100 (1.54 - G)/(1.54 G), percent.

    basic_specific_gravity: 0.05 to 1.4. Source: Wood Handbook (2021) ch. 4.
    """
    g = between(basic_specific_gravity, LIGHTEST, HEAVIEST, "Basic specific gravity")
    return 100.0 * (CELL_WALL_SPECIFIC_GRAVITY - g) / (CELL_WALL_SPECIFIC_GRAVITY * g)


def sinking_moisture_percent(basic_specific_gravity: float) -> float:
    """Moisture above which green wood sinks in fresh water: 100 (1 - G)/G; nought if G is over 1.

    Holds at fibre saturation and above, where the wood has its green volume.
    Source: Wood Handbook (2021) ch. 4.
    """
    g = between(basic_specific_gravity, LIGHTEST, HEAVIEST, "Basic specific gravity")
    return max(0.0, 100.0 * (1.0 - g) / g)


def density_kg_m3(
    basic_specific_gravity: float,
    moisture_percent: float,
    volumetric_shrinkage_percent: float | None = None,
) -> float:
    """Weight of a cubic metre of wood at a moisture content, kg.

    1000 G_M (1 + M/100), with G_M = G/(1 - (S_V/100) a) the specific gravity on the volume at M,
    a = (30 - M)/30 below fibre saturation, 0 above. basic_specific_gravity G: 0.05 to 1.4.
    moisture_percent M: 0 to the most the wood can hold. volumetric_shrinkage_percent S_V, green to
    ovendry, 0 to 50; left out, 26.5 G is taken, which overstates tropical woods that shrink little.
    ValueError beyond these limits. Source: Wood Handbook ch. 4; the 26.5 rule FPL-GTR-76 (1993),
    from memory.
    """
    g = between(basic_specific_gravity, LIGHTEST, HEAVIEST, "Basic specific gravity")
    content = moisture(moisture_percent)
    most = maximum_moisture_percent(g)
    if content > most + 1e-9:
        raise ValueError(
            f"Moisture content is {content:g} %; wood of basic specific gravity {g:g} is full at "
            f"{most:.1f} %. Either the wood is lighter or the moisture less."
        )
    shrinkage = 26.5 * g
    if volumetric_shrinkage_percent is not None:
        shrinkage = between(volumetric_shrinkage_percent, 0, 50, "Volumetric shrinkage", " %")
    share = max(0.0, FIBRE_SATURATION_PERCENT - content) / FIBRE_SATURATION_PERCENT
    return 1000.0 * g / (1.0 - shrinkage / 100.0 * share) * (1.0 + content / 100.0)


def density_from_specific_gravity_kg_m3(specific_gravity: float, moisture_percent: float) -> float:
    """Weight of a cubic metre from the specific gravity at that same moisture: 1000 G (1 + M/100).

    For the tabled specific gravity at 12 % and 12 % moisture. Source: Wood Handbook ch. 4.
    """
    g = between(specific_gravity, LIGHTEST, 1.5, "Specific gravity")
    return 1000.0 * g * (1.0 + moisture(moisture_percent) / 100.0)
