"""Moisture readings of a board over time, as a small plot with its axes named."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from statistics import fmean

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


def moisture_plot_svg(readings: Sequence[Reading]) -> str:
    """Points for the readings and a line through each day's mean; "" when there are none."""
    if not readings:
        return ""
    readings = sorted(readings, key=lambda reading: reading.on)
    first, last = readings[0].on, readings[-1].on
    top = _top_of_scale(max(reading.percent for reading in readings))

    def x(day: date) -> float:
        days = (last - first).days
        return (
            LEFT + 14 + (RIGHT - LEFT - 28) * (day - first).days / days
            if days
            else (LEFT + RIGHT) / 2
        )

    def y(percent: float) -> float:
        return BOTTOM - (BOTTOM - TOP) * percent / top

    points = [(x(reading.on), y(reading.percent)) for reading in readings]
    means = [
        (x(day), y(fmean(reading.percent for reading in group)))
        for day, group in groupby(readings, key=lambda reading: reading.on)
    ]
    title = (
        f"Moisture from {readings[0].percent:g} % on {_day(first)} to "
        f"{readings[-1].percent:g} % on {_day(last)}"
    )
    return drawing(
        WIDTH,
        HEIGHT,
        title,
        _scale(top, y),
        _meter_limit(y(METER_LIMIT_PERCENT)),
        _line(means),
        *(element("circle", cx=px, cy=py, r=3.5, fill="#93391a") for px, py in points),
        _days(first, last, x),
    )


def _top_of_scale(most: float) -> int:
    step = _step(most)
    return max(40, math.ceil(most / step) * step)


def _step(most: float) -> int:
    return 10 if most <= 60 else 20 if most <= 120 else 50


def _scale(top: int, y) -> str:
    parts = []
    for percent in range(0, top + 1, _step(top)):
        line = f"M{LEFT} {y(percent):.2f}H{RIGHT}"
        parts.append(element("path", d=line, stroke="#dcdcd3", stroke_width=1))
        parts.append(label(f"{percent}", LEFT - 6, y(percent) + 4, text_anchor="end"))
    axes = f"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}"
    parts.append(element("path", d=axes, fill="none", stroke="currentColor", stroke_width=1.2))
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


def _days(first: date, last: date, x) -> str:
    if first == last:
        ends = label(_day(first), x(first), BOTTOM + 18)
    else:
        ends = label(_day(first), LEFT, BOTTOM + 18, text_anchor="start")
        ends += label(_day(last), RIGHT, BOTTOM + 18, text_anchor="end")
    ticks = "".join(f"M{x(day):.2f} {BOTTOM}v5" for day in {first, last})
    return (
        element("path", d=ticks, stroke="currentColor", stroke_width=1.2)
        + ends
        + label("date of the reading", (LEFT + RIGHT) / 2, BOTTOM + 40)
    )


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
