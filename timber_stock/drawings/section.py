"""A section green and dried, one over the other, with the rings it is cut through."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from timber_stock.wood.distortion import DriedSection, over_green_mm
from timber_stock.wood.outline import Point

from .svg import drawing, element, label

WIDTH, MARGIN, SIDE, BELOW = 360.0, 14.0, 50.0, 30.0
TALLEST = 300.0
GREEN, DRIED, RING, PITH, WASH = "#4a555f", "currentColor", "#b3a88f", "#93391a", "#f3ead6"
RINGS_SHOWN = 14


@dataclass(frozen=True)
class SectionPicture:
    """What is drawn: the section, how many times its movement, and the words that go with it.

    `within` are points that must find room: pictures drawn within the same ones are at one scale.
    `key` tells the pictures of one page apart.
    """

    dried: DriedSection
    exaggeration: float
    key: str
    width_text: str
    thickness_text: str
    begins: str
    description: str
    within: tuple[Point, ...] = ()


@dataclass(frozen=True)
class _Frame:
    """Millimetres of the section to places in the picture, up being up."""

    left_mm: float
    top_mm: float
    scale: float

    def at(self, point: Point) -> tuple[float, float]:
        x, y = point
        return SIDE + (x - self.left_mm) * self.scale, MARGIN + (self.top_mm - y) * self.scale

    def path(self, points: Sequence[Point]) -> str:
        return " ".join(f"{x:.2f},{y:.2f}" for x, y in map(self.at, points))


def section_svg(picture: SectionPicture) -> str:
    """Green outline broken, dried outline full and shaded, rings as circles about the heart."""
    dried = picture.dried
    moved = over_green_mm(dried, picture.exaggeration)
    green = dried.green_corners_mm
    frame, height = _frame([*green, *moved, *picture.within])
    clip = f"cut-{picture.key}"
    return drawing(
        WIDTH,
        height,
        picture.description,
        _clip(clip, frame.path(green)),
        element("polygon", points=frame.path(moved), fill=WASH),
        element("g", _rings(dried, frame), clip_path=f"url(#{clip})"),
        element(
            "polygon", points=frame.path(green), fill="none", stroke=GREEN, stroke_width=1.2,
            stroke_dasharray="5 4",
        ),
        element(
            "polygon", points=frame.path(moved), fill="none", stroke=DRIED, stroke_width=2.2,
            stroke_linejoin="round",
        ),
        _heart(dried, frame, height - BELOW - MARGIN),
        _sizes(picture, frame, height),
    )  # fmt: skip


def _frame(points: Sequence[Point]) -> tuple[_Frame, float]:
    """Filling the width of the picture, unless the section stands taller than it is wide."""
    xs, ys = zip(*points, strict=True)
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    room = WIDTH - SIDE - MARGIN
    scale = min(room / wide, TALLEST / high)
    spare = (room / scale - wide) / 2
    return _Frame(min(xs) - spare, max(ys), scale), 2 * MARGIN + high * scale + BELOW


def _clip(name: str, points: str) -> str:
    return element("clipPath", element("polygon", points=points), id=name)


def _rings(dried: DriedSection, frame: _Frame) -> str:
    """So many rings from the nearest corner to the farthest, each a circle about the heart."""
    reach = [math.dist(corner, dried.pith_mm) for corner in dried.green_corners_mm]
    nearest = 0.0 if dried.boxed_heart else _nearest(dried)
    step = (max(reach) - nearest) / RINGS_SHOWN
    first = math.ceil(nearest / step)
    x, y = frame.at(dried.pith_mm)
    radii = [n * step for n in range(max(first, 1), first + RINGS_SHOWN + 1)]
    return "".join(
        element(
            "circle", cx=x, cy=y, r=radius * frame.scale, fill="none", stroke=RING, stroke_width=1
        )
        for radius in radii
    )


def _nearest(dried: DriedSection) -> float:
    return min(math.dist(point, dried.pith_mm) for point in dried.green_outline_mm)


def _heart(dried: DriedSection, frame: _Frame, lowest: float) -> str:
    """A cross where the heart lies, when that is within the picture."""
    x, y = frame.at(dried.pith_mm)
    if not (SIDE <= x <= WIDTH - MARGIN and MARGIN - 1 <= y <= lowest + 1):
        return ""
    return element("path", d=f"M{x - 6:.2f} {y:.2f}h12M{x:.2f} {y - 6:.2f}v12", stroke=PITH,
                   stroke_width=2)  # fmt: skip


def _sizes(picture: SectionPicture, frame: _Frame, height: float) -> str:
    """The green sizes on dimension lines, as on a drawing."""
    xs, ys = zip(*picture.dried.green_corners_mm, strict=True)
    left, top = frame.at((min(xs), max(ys)))
    right, bottom = frame.at((max(xs), min(ys)))
    y, x = height - BELOW, left - 20
    across = f"M{left:.2f} {y - 5:.2f}v10M{right:.2f} {y - 5:.2f}v10M{left:.2f} {y:.2f}H{right:.2f}"
    upright = (
        f"M{x - 5:.2f} {top:.2f}h10M{x - 5:.2f} {bottom:.2f}h10M{x:.2f} {top:.2f}V{bottom:.2f}"
    )
    middle = (top + bottom) / 2
    return (
        element("path", d=across + upright, stroke=GREEN, stroke_width=1)
        + label(f"{picture.width_text} {picture.begins}", (left + right) / 2, y + 18)
        + label(
            picture.thickness_text, x - 5, middle, transform=f"rotate(-90 {x - 5:.2f} {middle:.2f})"
        )
    )
