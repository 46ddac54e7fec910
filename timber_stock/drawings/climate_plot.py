"""Equilibrium moisture through the year of a place."""

from timber_stock.wood.moisture import MONTHS, MoistureYear

from .line_plot import ACCENT, SOFT, Axis, Dots, Line, line_plot_svg, round_axis


def climate_plot_svg(year: MoistureYear) -> str:
    """Month by month with the mean of the year."""
    points = [(n + 1.0, percent) for n, percent in enumerate(year.monthly_percent)]
    mean = year.mean_percent
    title = (
        f"Equilibrium moisture at {year.place}: from {year.least_percent:.1f} % in "
        f"{year.driest_month} to {year.greatest_percent:.1f} % in {year.wettest_month}"
    )
    across = Axis("month", 0.5, 12.5, [(n + 1.0, name[:1]) for n, name in enumerate(MONTHS)])
    up = round_axis("moisture, % of dry weight", max(20.0, year.greatest_percent))
    parts = [
        Line("wood left in this air goes towards this", points, ACCENT),
        Dots("", points),
        Line(f"mean of the year, {mean:.1f} %", [(0.5, mean), (12.5, mean)], SOFT, "6 4", 1.4),
    ]
    return line_plot_svg(title, across, up, parts)
