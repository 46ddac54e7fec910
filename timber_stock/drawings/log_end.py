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
    other_diameter_mm: float | None = None  # from 12 to 6; none: a round end

    def half_axes_mm(self) -> tuple[float, float]:
        return self.diameter_mm / 2, (self.other_diameter_mm or self.diameter_mm) / 2


def log_end_svg(end: LogEnd, *, widest_mm: float) -> str:
    """Draw an end; ends drawn with the same `widest_mm`, in mm, are at the same scale."""
    half = end.half_axes_mm()
    scale = BIGGEST_RADIUS * 2 / max(widest_mm, 2 * max(half))
    axes = half[0] * scale, half[1] * scale
    heart = MIDDLE_X + end.heart_right_mm * scale, MIDDLE_Y - end.heart_up_mm * scale
    return drawing(
        WIDTH,
        HEIGHT,
        f"{end.name}: {end.description}",
        _clock(axes),
        _sapwood(axes, (end.sapwood_mm or 0) * scale),
        _rings(axes, heart),
        _oval(MIDDLE_X, MIDDLE_Y, axes, stroke_width=2.5),
        _heart(*heart),
        _dimension(axes, end.diameter_text),
    )


def _oval(x: float, y: float, axes: tuple[float, float], **attributes: object) -> str:
    options = {"fill": "none", "stroke": "currentColor", **attributes}
    if axes[0] == axes[1]:
        return element("circle", cx=x, cy=y, r=axes[0], **options)
    return element("ellipse", cx=x, cy=y, rx=axes[0], ry=axes[1], **options)


def _sapwood(axes: tuple[float, float], thickness: float) -> str:
    """A pale band inside the bark with a broken line where the heartwood begins."""
    if not thickness:
        return ""
    return _oval(
        MIDDLE_X,
        MIDDLE_Y,
        _less(axes, thickness / 2),
        stroke="#e3d6b4",
        stroke_width=thickness,
    ) + _oval(MIDDLE_X, MIDDLE_Y, _less(axes, thickness), stroke_width=1, stroke_dasharray="6 4")


def _less(axes: tuple[float, float], by: float) -> tuple[float, float]:
    return axes[0] - by, axes[1] - by


def _rings(axes: tuple[float, float], heart: tuple[float, float]) -> str:
    """Only a hint: rounds that move from the heart to the bark as they grow, and never cross."""
    shares = [(n + 1) / (RINGS + 1) for n in range(RINGS)]
    return "".join(
        _oval(
            MIDDLE_X + (heart[0] - MIDDLE_X) * (1 - share),
            MIDDLE_Y + (heart[1] - MIDDLE_Y) * (1 - share),
            (axes[0] * share, axes[1] * share),
            stroke="#8d8471",
            stroke_width=0.7,
        )
        for share in shares
    )


def _heart(x: float, y: float) -> str:
    cross = f"M{x - 7:.2f} {y:.2f}h14M{x:.2f} {y - 7:.2f}v14"
    return element("path", d=cross, stroke="#93391a", stroke_width=2) + _oval(
        x, y, (3.5, 3.5), stroke="#93391a", stroke_width=2
    )


def _clock(axes: tuple[float, float]) -> str:
    """The hours round the end, and thin lines through its centre."""
    (wide, tall), marks = axes, []
    for hour in range(1, 13):
        right, up = math.sin(math.radians(30 * hour)), math.cos(math.radians(30 * hour))
        far = 9 if hour % 3 == 0 else 6
        marks.append(
            f"M{MIDDLE_X + (wide + 3) * right:.2f} {MIDDLE_Y - (tall + 3) * up:.2f}"
            f"L{MIDDLE_X + (wide + far) * right:.2f} {MIDDLE_Y - (tall + far) * up:.2f}"
        )
    through = f"M{MIDDLE_X - wide:.2f} {MIDDLE_Y:.2f}h{2 * wide:.2f}"
    through += f"M{MIDDLE_X:.2f} {MIDDLE_Y - tall:.2f}v{2 * tall:.2f}"
    return (
        element("path", d="".join(marks), stroke="currentColor", stroke_width=1.2)
        + element(
            "path", d=through, stroke="#8d969c", stroke_width=0.8, stroke_dasharray="12 3 3 3"
        )
        + label("12", MIDDLE_X, MIDDLE_Y - tall - 13)
        + label("3", MIDDLE_X + wide + 17, MIDDLE_Y + 4)
        + label("6", MIDDLE_X, MIDDLE_Y + tall + 22)
        + label("9", MIDDLE_X - wide - 17, MIDDLE_Y + 4)
    )


def _dimension(axes: tuple[float, float], text: str) -> str:
    """A dimension line under the end, as on a drawing."""
    y = MIDDLE_Y + axes[1] + 38
    left, right = MIDDLE_X - axes[0], MIDDLE_X + axes[0]
    lines = f"M{left:.2f} {y - 6:.2f}v12M{right:.2f} {y - 6:.2f}v12M{left:.2f} {y:.2f}H{right:.2f}"
    return element("path", d=lines, stroke="currentColor", stroke_width=1) + label(
        text, MIDDLE_X, y + 18, font_size=14
    )
