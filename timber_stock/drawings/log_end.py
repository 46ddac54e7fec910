"""The end of a log as one faces it: bark, sapwood, the heart where it lies, rings hinted."""

import math
from dataclasses import dataclass

from .svg import drawing, element, label

WIDTH, HEIGHT = 320, 344
MIDDLE_X, MIDDLE_Y = 160.0, 152.0
BIGGEST_RADIUS = 122.0
RINGS = 7


@dataclass(frozen=True)
class LogEnd:
    """One end: the heart right of the centre and above it, as one stands facing this end."""

    name: str
    diameter_mm: float
    heart_right_mm: float
    heart_up_mm: float
    sapwood_mm: float | None
    diameter_text: str
    description: str


def log_end_svg(end: LogEnd, *, widest_mm: float) -> str:
    """Draw an end; ends drawn with the same `widest_mm`, in mm, are at the same scale."""
    scale = BIGGEST_RADIUS * 2 / max(widest_mm, end.diameter_mm)
    radius = end.diameter_mm / 2 * scale
    heart = MIDDLE_X + end.heart_right_mm * scale, MIDDLE_Y - end.heart_up_mm * scale
    return drawing(
        WIDTH,
        HEIGHT,
        f"{end.name}: {end.description}",
        _clock(radius),
        _sapwood(radius, (end.sapwood_mm or 0) * scale),
        _rings(radius, heart),
        _circle(MIDDLE_X, MIDDLE_Y, radius, stroke_width=2.5),
        _heart(*heart),
        _dimension(radius, end.diameter_text),
    )


def _circle(x: float, y: float, radius: float, **attributes: object) -> str:
    options = {"fill": "none", "stroke": "currentColor", **attributes}
    return element("circle", cx=x, cy=y, r=radius, **options)


def _sapwood(radius: float, thickness: float) -> str:
    """A pale band inside the bark with a broken line where the heartwood begins."""
    if not thickness:
        return ""
    return _circle(
        MIDDLE_X,
        MIDDLE_Y,
        radius - thickness / 2,
        stroke="#e3d6b4",
        stroke_width=thickness,
    ) + _circle(MIDDLE_X, MIDDLE_Y, radius - thickness, stroke_width=1, stroke_dasharray="6 4")


def _rings(radius: float, heart: tuple[float, float]) -> str:
    """Only a hint: circles that move from the heart to the bark as they grow, and never cross."""
    shares = [(n + 1) / (RINGS + 1) for n in range(RINGS)]
    return "".join(
        _circle(
            MIDDLE_X + (heart[0] - MIDDLE_X) * (1 - share),
            MIDDLE_Y + (heart[1] - MIDDLE_Y) * (1 - share),
            radius * share,
            stroke="#8d8471",
            stroke_width=0.7,
        )
        for share in shares
    )


def _heart(x: float, y: float) -> str:
    cross = f"M{x - 7:.2f} {y:.2f}h14M{x:.2f} {y - 7:.2f}v14"
    return element("path", d=cross, stroke="#93391a", stroke_width=2) + _circle(
        x, y, 3.5, stroke="#93391a", stroke_width=2
    )


def _clock(radius: float) -> str:
    """The hours round the end, and thin lines through its centre."""
    marks = []
    for hour in range(1, 13):
        right, up = math.sin(math.radians(30 * hour)), math.cos(math.radians(30 * hour))
        near, far = radius + 3, radius + (9 if hour % 3 == 0 else 6)
        marks.append(
            f"M{MIDDLE_X + near * right:.2f} {MIDDLE_Y - near * up:.2f}"
            f"L{MIDDLE_X + far * right:.2f} {MIDDLE_Y - far * up:.2f}"
        )
    through = f"M{MIDDLE_X - radius:.2f} {MIDDLE_Y:.2f}h{2 * radius:.2f}"
    through += f"M{MIDDLE_X:.2f} {MIDDLE_Y - radius:.2f}v{2 * radius:.2f}"
    return (
        element("path", d="".join(marks), stroke="currentColor", stroke_width=1.2)
        + element(
            "path", d=through, stroke="#8d969c", stroke_width=0.8, stroke_dasharray="12 3 3 3"
        )
        + label("12", MIDDLE_X, MIDDLE_Y - radius - 13)
        + label("3", MIDDLE_X + radius + 17, MIDDLE_Y + 4)
        + label("6", MIDDLE_X, MIDDLE_Y + radius + 22)
        + label("9", MIDDLE_X - radius - 17, MIDDLE_Y + 4)
    )


def _dimension(radius: float, text: str) -> str:
    """A dimension line under the end, as on a drawing."""
    y = MIDDLE_Y + radius + 38
    left, right = MIDDLE_X - radius, MIDDLE_X + radius
    lines = f"M{left:.2f} {y - 6:.2f}v12M{right:.2f} {y - 6:.2f}v12M{left:.2f} {y:.2f}H{right:.2f}"
    return element("path", d=lines, stroke="currentColor", stroke_width=1) + label(
        text, MIDDLE_X, y + 18, font_size=14
    )
