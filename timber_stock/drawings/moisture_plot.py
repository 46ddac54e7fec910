"""Moisture readings of a board over time, as a small plot with its axes named."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from statistics import fmean

from timber_stock.web.days import day_said

from .svg import drawing, element, label

WIDTH, HEIGHT = 360, 244
LEFT, RIGHT, TOP, BOTTOM = 44.0, 348.0, 14.0, 172.0
# A meter follows moisture only below about 30 percent: James, Electric moisture meters for wood,
# FPL-GTR-6, revised 1988.
METER_LIMIT_PERCENT = 30


@dataclass(frozen=True)
class Reading:
    on: date
    percent: float


@dataclass(frozen=True)
class Axes:
    """Where a day and a percentage lie on the paper."""

    first: date
    last: date
    top_percent: int

    def x(self, day: date) -> float:
        days = (self.last - self.first).days
        if not days:
            return (LEFT + RIGHT) / 2
        return LEFT + 14 + (RIGHT - LEFT - 28) * (day - self.first).days / days

    def y(self, percent: float) -> float:
        return BOTTOM - (BOTTOM - TOP) * percent / self.top_percent


def moisture_plot_svg(readings: Sequence[Reading]) -> str:
    """Points for the readings and a line through each day's mean; "" when there are none."""
    if not readings:
        return ""
    readings = sorted(readings, key=lambda reading: reading.on)
    most = max(reading.percent for reading in readings)
    axes = Axes(readings[0].on, readings[-1].on, _top_of_scale(most))
    return drawing(
        WIDTH,
        HEIGHT,
        _title(readings[0], readings[-1]),
        _scale(axes),
        _meter_limit(axes.y(METER_LIMIT_PERCENT)),
        _line(_daily_means(readings, axes)),
        *(
            element("circle", cx=axes.x(r.on), cy=axes.y(r.percent), r=3.5, fill="#93391a")
            for r in readings
        ),
        _days(axes),
    )


def _daily_means(readings: Sequence[Reading], axes: Axes) -> list[tuple[float, float]]:
    return [
        (axes.x(day), axes.y(fmean(reading.percent for reading in group)))
        for day, group in groupby(readings, key=lambda reading: reading.on)
    ]


def _title(first: Reading, last: Reading) -> str:
    if first is last:
        return f"Moisture {first.percent:g} % on {day_said(first.on)}"
    return (
        f"Moisture from {first.percent:g} % on {day_said(first.on)} "
        f"to {last.percent:g} % on {day_said(last.on)}"
    )


def _top_of_scale(most: float) -> int:
    step = _step(most)
    return max(40, math.ceil(most / step) * step)


def _step(most: float) -> int:
    return 10 if most <= 60 else 20 if most <= 120 else 50


def _scale(axes: Axes) -> str:
    parts = []
    for percent in range(0, axes.top_percent + 1, _step(axes.top_percent)):
        y = axes.y(percent)
        parts.append(element("path", d=f"M{LEFT} {y:.2f}H{RIGHT}", stroke="#dcdcd3"))
        parts.append(label(f"{percent}", LEFT - 6, y + 4, text_anchor="end"))
    lines = f"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}"
    parts.append(element("path", d=lines, fill="none", stroke="currentColor", stroke_width=1.2))
    middle = (TOP + BOTTOM) / 2
    turned = f"rotate(-90 12 {middle:g})"
    parts.append(label("moisture, % of dry weight", 12, middle, transform=turned))
    return "".join(parts)


def _meter_limit(y: float) -> str:
    """A broken line across the plot, and what it means under the axis, clear of the readings."""
    key = BOTTOM + 62
    lines = f"M{LEFT} {y:.2f}H{RIGHT}M{LEFT} {key - 4}h24"
    words = f"above {METER_LIMIT_PERCENT} % a meter gives only a rough sign"
    return element(
        "path", d=lines, stroke="currentColor", stroke_width=1, stroke_dasharray="5 4"
    ) + label(words, LEFT + 30, key, text_anchor="start")


def _line(points: Sequence[tuple[float, float]]) -> str:
    if len(points) < 2:
        return ""
    path = " ".join(f"{px:.2f},{py:.2f}" for px, py in points)
    return element("polyline", points=path, fill="none", stroke="#93391a", stroke_width=1.6)


def _days(axes: Axes) -> str:
    first, last = axes.first, axes.last
    if first == last:
        ends = label(day_said(first), axes.x(first), BOTTOM + 18)
    else:
        ends = label(day_said(first), LEFT, BOTTOM + 18, text_anchor="start")
        ends += label(day_said(last), RIGHT, BOTTOM + 18, text_anchor="end")
    ticks = "".join(f"M{axes.x(day):.2f} {BOTTOM}v5" for day in sorted({first, last}))
    return (
        element("path", d=ticks, stroke="currentColor", stroke_width=1.2)
        + ends
        + label("date of the reading", (LEFT + RIGHT) / 2, BOTTOM + 40)
    )
