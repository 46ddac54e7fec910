"""Diameter against heart offset: what no log may be under, and what a search filled."""

from collections.abc import Sequence

from timber_stock.measure import mm_from_inches
from timber_stock.sawing.log_wanted import Sought, least_for_list_mm
from timber_stock.sawing.request import Wanted
from timber_stock.web.fields import size_for

from .line_plot import Dots, Line, line_plot_svg, round_axis

POINTS = 25
USUAL_FAR_MM = 50.0


def farthest_offset_mm(wanted: Sequence[Wanted]) -> float:
    """Past this no timber gains by a heart further over."""
    gains = [
        t.heart_clearance_mm + t.width_mm / 2 for t in wanted if t.heart_clearance_mm is not None
    ]
    return max(gains, default=USUAL_FAR_MM)


def log_wanted_svg(
    wanted: Sequence[Wanted],
    inside_mm: float,
    sapwood_mm: float,
    sought: Sequence[Sought],
    units: str,
) -> str:
    """`inside_mm` is the length between the trims."""
    far_mm = farthest_offset_mm(wanted)
    unit, one = ("mm", 1.0) if units == "metric" else ("in", mm_from_inches(1))
    offsets = [far_mm * n / (POINTS - 1) for n in range(POINTS)]
    curve = [(e / one, least_for_list_mm(wanted, inside_mm, sapwood_mm, e) / one) for e in offsets]
    found = [
        (s.heart_offset_mm / one, s.diameter_mm / one) for s in sought if s.diameter_mm is not None
    ]
    heights = [y for _, y in [*curve, *found]]
    y_axis = round_axis(f"diameter, {unit}", max(heights), least=min(heights) * 0.9)
    x_axis = round_axis(f"heart off the middle, {unit}", far_mm / one)
    words = "; ".join(
        f"heart {size_for(s.heart_offset_mm, units)} off: "
        f"{'–' if s.diameter_mm is None else size_for(s.diameter_mm, units)}"
        for s in sought
    )
    return line_plot_svg(
        f"Least diameter of a log against how far its heart is off the middle. {words}.",
        x_axis,
        y_axis,
        [
            Line("no log under this line holds the list", curve, dash="6 4"),
            Dots("a search filled this log with all of it", found),
        ],
    )
