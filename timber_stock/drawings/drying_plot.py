"""A board in stick: its readings, the curve they follow with its band, and when it will be dry."""

from collections.abc import Sequence
from datetime import date

from timber_stock.web.days import day_said
from timber_stock.wood.drying import FITTED, Forecast, Reading

from .line_plot import ACCENT, SOFT, Axis, Band, Dots, Line, line_plot_svg, round_axis

MOST_MARKS = 5


def drying_plot_svg(readings: Sequence[Reading], forecast: Forecast) -> str:
    """The plot; "" when there is neither a reading nor a date to show."""
    days = [reading.on for reading in readings] + [point.on for point in forecast.curve]
    days += [day for day in (forecast.earliest_on, forecast.latest_on) if day]
    if not days:
        return ""
    across = _time_axis(min(days), max(days))
    most = max([r.moisture_percent for r in readings] + [forecast.wanted_percent, 30.0])
    up = round_axis("moisture, % of dry weight", most)
    parts = [*_curve(forecast), *_levels(forecast, across), *_dots(readings, forecast)]
    return line_plot_svg(_title(readings, forecast), across, up, parts)


def _title(readings: Sequence[Reading], forecast: Forecast) -> str:
    said = (
        f"Drying towards {forecast.equilibrium_percent:.1f} %, wanted {forecast.wanted_percent:g} %"
    )
    if readings:
        last = max(readings, key=lambda reading: reading.on)
        said += f"; last reading {last.moisture_percent:.1f} % on {day_said(last.on)}"
    if forecast.earliest_on:
        last_day = forecast.latest_on
        until = day_said(last_day) if last_day else "no latest day known"
        said += f"; dry enough between {day_said(forecast.earliest_on)} and {until}"
    return said


def _curve(forecast: Forecast) -> list[Line | Band]:
    if forecast.basis == FITTED:
        low = [(_number(p.on), p.low_percent) for p in forecast.curve]
        high = [(_number(p.on), p.high_percent) for p in forecast.curve]
        likely = [(_number(p.on), p.likely_percent) for p in forecast.curve]
        return [Band("band, four times in five", low, high), Line("curve fitted", likely, ACCENT)]
    if not (forecast.earliest_on and forecast.latest_on):
        return []
    ends = [(_number(day), forecast.wanted_percent)
            for day in (forecast.earliest_on, forecast.latest_on)]  # fmt: skip
    return [Line("reached in this time, by the published rule", ends, ACCENT, width=5)]


def _levels(forecast: Forecast, across: Axis) -> list[Line]:
    """Two level lines: what is wanted, and what the air of the place gives in the end."""

    def level(name: str, percent: float, dash: str) -> Line:
        return Line(name, [(across.low, percent), (across.high, percent)], SOFT, dash, 1.4)

    wanted, settled = forecast.wanted_percent, forecast.equilibrium_percent
    return [
        level(f"wanted, {wanted:g} %", wanted, "8 4"),
        level(f"equilibrium of the place, {settled:.1f} %", settled, "2 4"),
    ]


def _dots(readings: Sequence[Reading], forecast: Forecast) -> list[Dots]:
    wrong = set(forecast.wrong_way)
    groups = [
        Dots("reading", [_xy(r) for r in readings if r not in wrong]),
        Dots("reading wetter than the one before", [_xy(r) for r in wrong], hollow=True),
    ]
    return [group for group in groups if group.points]


def _xy(reading: Reading) -> tuple[float, float]:
    return _number(reading.on), reading.moisture_percent


def _number(day: date) -> float:
    return float(day.toordinal())


def _time_axis(first: date, last: date) -> Axis:
    """Marks at firsts of months, four at the most; days where all lies within two months."""
    months = (last.year - first.year) * 12 + last.month - first.month
    if months < 3:
        return _short_time_axis(first, last)
    usual = (1, 2, 3, 6, 12, 24, 60, 120, 600)
    # A year typed wrong, such as 0202, still leaves a page on which it is seen to be wrong.
    step = next((s for s in usual if months / s < MOST_MARKS), months // MOST_MARKS + 1)
    count = first.year * 12 + first.month  # months from the year nought to the next first
    ticks = []
    while (day := date(count // 12, count % 12 + 1, 1)) <= last:
        if count % step == 0:
            ticks.append((_number(day), f"{day:%b %Y}"))
        count += 1
    return Axis("date", _number(first), _number(last) + 0.06 * (last - first).days, ticks)


def _short_time_axis(first: date, last: date) -> Axis:
    """The first and the last day, with room so that their words stay in the picture."""
    ticks = [(_number(day), f"{day.day} {day:%b %Y}") for day in sorted({first, last})]
    low, high = _number(first), _number(last)
    room = max((high - low) * 0.14, 15.0 if first == last else 0.0)
    return Axis("date", low - room, high + room, ticks)
