"""A small plot with both axes named: lines, a band, points, and a key under it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .svg import drawing, element, label

WIDTH = 360.0
LEFT, RIGHT, TOP, BOTTOM = 50.0, 346.0, 12.0, 190.0
KEY_TOP, KEY_STEP = BOTTOM + 62, 19.0
INK, ACCENT, SOFT = "currentColor", "#93391a", "#6b757d"
GRID, WASH = "#dcdcd3", "#ecd9cf"

XY = tuple[float, float]


@dataclass(frozen=True)
class Axis:
    """One axis: what it measures, from where to where, and the marks on it with their words."""

    name: str
    low: float
    high: float
    ticks: Sequence[tuple[float, str]]


@dataclass(frozen=True)
class Line:
    """A line through points, named in the key; `dash` as SVG has it, None for a full line."""

    name: str
    points: Sequence[XY]
    colour: str = INK
    dash: str | None = None
    width: float = 1.8


@dataclass(frozen=True)
class Dots:
    """Single points: full, or hollow with a ring, so that they differ without colour."""

    name: str
    points: Sequence[XY]
    hollow: bool = False


@dataclass(frozen=True)
class Band:
    """The ground between a lower and an upper line."""

    name: str
    lower: Sequence[XY]
    upper: Sequence[XY]


@dataclass(frozen=True)
class _Frame:
    x_axis: Axis
    y_axis: Axis

    def at(self, point: XY) -> XY:
        """A place in the picture; what lies off the scale is drawn at its edge."""
        across = (point[0] - self.x_axis.low) / (self.x_axis.high - self.x_axis.low)
        up = (point[1] - self.y_axis.low) / (self.y_axis.high - self.y_axis.low)
        across, up = (min(1.0, max(0.0, share)) for share in (across, up))
        return LEFT + (RIGHT - LEFT) * across, BOTTOM - (BOTTOM - TOP) * up

    def path(self, points: Sequence[XY]) -> str:
        return " ".join(f"{x:.2f},{y:.2f}" for x, y in map(self.at, points))


def line_plot_svg(
    title: str, x_axis: Axis, y_axis: Axis, parts: Sequence[Line | Dots | Band]
) -> str:
    """The plot as SVG: bands lie undermost; `title` says in words what it shows."""
    frame = _Frame(x_axis, y_axis)
    ordered = sorted(parts, key=lambda part: not isinstance(part, Band))
    keyed = [part for part in parts if part.name]
    height = KEY_TOP + KEY_STEP * len(keyed) - 6
    return drawing(
        WIDTH,
        height,
        title,
        *(_shape(part, frame) for part in ordered if isinstance(part, Band)),
        _grid(frame),
        *(_shape(part, frame) for part in ordered if not isinstance(part, Band)),
        *(_key(part, KEY_TOP + KEY_STEP * n) for n, part in enumerate(keyed)),
    )


def round_axis(name: str, most: float, *, least: float = 0.0, unit: str = "") -> Axis:
    """An axis from a round number below `least` to one above `most`, with four to seven marks."""
    step = _round_step(max(most - least, 1e-9) / 5)
    low, high = math.floor(least / step) * step, math.ceil(most / step - 1e-9) * step
    high = max(high, low + step)
    count = round((high - low) / step)
    ticks = [(low + n * step, f"{low + n * step:g}{unit}") for n in range(count + 1)]
    return Axis(name, low, high, ticks)


def _round_step(rough: float) -> float:
    power = 10.0 ** math.floor(math.log10(rough))
    return next(factor * power for factor in (1.0, 2.0, 5.0, 10.0) if factor * power >= rough)


def _grid(frame: _Frame) -> str:
    drawn = []
    for value, text in frame.y_axis.ticks:
        y = frame.at((frame.x_axis.low, value))[1]
        drawn.append(element("path", d=f"M{LEFT} {y:.2f}H{RIGHT}", stroke=GRID, stroke_width=1))
        drawn.append(label(text, LEFT - 6, y + 4, text_anchor="end"))
    marks = ""
    for value, text in frame.x_axis.ticks:
        x = frame.at((value, frame.y_axis.low))[0]
        marks += f"M{x:.2f} {BOTTOM}v5"
        drawn.append(label(text, x, BOTTOM + 19))
    axes = f"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}{marks}"
    drawn.append(element("path", d=axes, fill="none", stroke=INK, stroke_width=1.2))
    middle = (TOP + BOTTOM) / 2
    turned = f"rotate(-90 12 {middle:g})"
    drawn.append(label(frame.y_axis.name, 12, middle, transform=turned))
    drawn.append(label(frame.x_axis.name, (LEFT + RIGHT) / 2, BOTTOM + 39))
    return "".join(drawn)


def _shape(part: Line | Dots | Band, frame: _Frame) -> str:
    if isinstance(part, Band):
        round_about = [*part.lower, *reversed(part.upper)]
        return element("polygon", points=frame.path(round_about), fill=WASH) if round_about else ""
    if isinstance(part, Dots):
        return "".join(_dot(*frame.at(point), hollow=part.hollow) for point in part.points)
    return element("polyline", points=frame.path(part.points), fill="none", **_stroke(part))


def _stroke(line: Line) -> dict[str, object]:
    return {
        "stroke": line.colour, "stroke_width": line.width, "stroke_dasharray": line.dash,
    }  # fmt: skip


def _dot(x: float, y: float, *, hollow: bool) -> str:
    if hollow:
        return element("circle", cx=x, cy=y, r=5, fill="#fffefb", stroke=ACCENT, stroke_width=2)
    return element("circle", cx=x, cy=y, r=3.5, fill=ACCENT)


def _key(part: Line | Dots | Band, y: float) -> str:
    if isinstance(part, Band):
        sample = element("rect", x=LEFT, y=y - 10, width=24, height=11, fill=WASH)
    elif isinstance(part, Dots):
        sample = _dot(LEFT + 12, y - 4, hollow=part.hollow)
    else:
        sample = element("path", d=f"M{LEFT} {y - 4:.2f}h24", fill="none", **_stroke(part))
    return sample + label(part.name, LEFT + 31, y, text_anchor="start")
