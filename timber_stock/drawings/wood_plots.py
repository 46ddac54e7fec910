"""What a wood does between green and dry: how far it shrinks, and what it weighs."""

from timber_stock.wood.heaviness import green_volume_density_kg_m3
from timber_stock.wood.moisture import FIBRE_SATURATION_PERCENT
from timber_stock.wood.shrinkage import shrinkage_percent
from timber_stock.wood.species import Species

from .line_plot import ACCENT, Axis, Line, line_plot_svg, round_axis

MOISTURE = "moisture, % of dry weight"


def shrinkage_plot_svg(wood: Species) -> str:
    """Radial and tangential shrinkage against moisture; "" when neither is known."""
    known = [
        (way, total, colour, dash)
        for way, colour, dash in (("tangential", ACCENT, None), ("radial", "currentColor", "7 4"))
        if (total := wood.number(f"{way}_percent")) is not None
    ]
    if not known:
        return ""
    driest = 0.0
    lines = []
    for way, total, colour, dash in known:
        points = [(m, shrinkage_percent(total, m)) for m in (driest, FIBRE_SATURATION_PERCENT, 36)]
        name = f"{way}: {total:g} % from green to ovendry"
        lines.append(Line(name, points, colour, dash))
    title = f"Shrinkage of {wood.common} from green against moisture: " + "; ".join(
        f"{way} {shrinkage_percent(total, 15):.1f} % at 15 % moisture" for way, total, *_ in known
    )
    across = Axis(MOISTURE, 0, 36, [(float(m), f"{m}") for m in (0, 6, 12, 18, 24, 30, 36)])
    up = round_axis("shrinkage, % of green size", max(total for _, total, *_ in known))
    return line_plot_svg(title, across, up, lines)


def weight_plot_svg(wood: Species, green_percent: float) -> str:
    """Weight of what is one cubic metre green, from dry to green; "" when no density is known."""
    if wood.number("basic_specific_gravity") is None or green_percent <= 0:
        return ""
    points = [(m, green_volume_density_kg_m3(wood, m)) for m in (0.0, 12.0, green_percent)]
    dry, green = points[1][1], points[2][1]
    title = (
        f"A cubic metre of green {wood.common} weighs {green:.0f} kg, dried to 12 % {dry:.0f} kg"
    )
    across = round_axis(MOISTURE, green_percent)
    up = round_axis("weight, kg", green)
    level = Line("1000 kg: a cubic metre of fresh water", [(0, 1000), (across.high, 1000)],
                 dash="2 4", width=1.2)  # fmt: skip
    line = Line("weight of one cubic metre, measured green", points, ACCENT)
    return line_plot_svg(title, across, up, [line, level] if up.high > 1000 else [line])
