"""The log's end on the bench: both hearts, the rings about the first, and the section to drag."""

import math
from dataclasses import dataclass

from timber_stock.wood.logend import LogEnd
from timber_stock.wood.outline import Point

from .svg import element, label, words

SIZE, MIDDLE, RADIUS = 400.0, 200.0, 176.0
RINGS = 12
GRIP_OUT, GRIP_REACH = 16.0, 24.0
"""How far the grip stands off the corner, and how near a thumb must come to hold it."""

RING, SAP, PITH, SOFT, WRONG = "#b3a88f", "#e3d6b4", "#93391a", "#6b757d", "#93391a"


@dataclass(frozen=True)
class BenchPicture:
    """Both ends seen from the butt, the section laid in them, and whether it may lie there."""

    butt: LogEnd
    top: LogEnd
    middle_mm: Point
    width_mm: float
    thickness_mm: float
    turned_deg: float
    fits: bool
    description: str


def bench_end_svg(picture: BenchPicture) -> str:
    """The end with its section; what the script needs to drag it stands in its data attributes."""
    ends = (picture.butt, picture.top)
    scale = 2 * RADIUS / max(max(end.diameter_x_mm, end.diameter_y_mm) for end in ends)
    return element(
        "svg",
        element("title", words(picture.description)),
        element("clipPath", _oval(picture.butt, scale), id="bark"),
        _sapwood(picture.butt, scale),
        element("g", _rings(picture, scale), clip_path="url(#bark)"),
        _oval(picture.butt, scale, stroke="currentColor", stroke_width=2.5),
        _top(picture, scale),
        _hours(picture.butt, scale),
        _heart(picture.butt.pith_mm, scale, PITH),
        _section(picture, scale),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {SIZE:g} {SIZE:g}",
        role="img",
        data_scale=f"{scale:.6f}",
        data_middle=f"{MIDDLE:g}",
        data_grip=f"{GRIP_OUT:g}",
    )


def _place(point: Point, scale: float) -> tuple[float, float]:
    return MIDDLE + point[0] * scale, MIDDLE - point[1] * scale


def _circle(x: float, y: float, radius: float, **attributes: object) -> str:
    return element("circle", cx=x, cy=y, r=radius, **{"fill": "none", **attributes})


def _oval(end: LogEnd, scale: float, in_mm: float = 0.0, **attributes: object) -> str:
    """The bark line, or one so far in from it."""
    half = ((end.diameter_x_mm / 2 - in_mm) * scale, (end.diameter_y_mm / 2 - in_mm) * scale)
    options = {"fill": "none", **attributes}
    return element("ellipse", cx=MIDDLE, cy=MIDDLE, rx=half[0], ry=half[1], **options)


def _sapwood(end: LogEnd, scale: float) -> str:
    if not end.sapwood_mm:
        return ""
    edge = {"stroke": SOFT, "stroke_width": 1, "stroke_dasharray": "6 4"}
    depth = {"stroke": SAP, "stroke_width": end.sapwood_mm * scale}
    band = _oval(end, scale, end.sapwood_mm / 2, **depth)
    return band + _oval(end, scale, end.sapwood_mm, **edge)


def _rings(picture: BenchPicture, scale: float) -> str:
    """Circles about the heart, as they are reckoned with, out to the farthest bark."""
    x, y = _place(picture.butt.pith_mm, scale)
    half = max(picture.butt.diameter_x_mm, picture.butt.diameter_y_mm) / 2
    reach = (half + math.hypot(*picture.butt.pith_mm)) * scale
    return "".join(
        _circle(x, y, reach * (n + 1) / RINGS, stroke=RING, stroke_width=0.9) for n in range(RINGS)
    )


def _top(picture: BenchPicture, scale: float) -> str:
    """The far end through the log: its bark and its heart, thin and broken."""
    if picture.top == picture.butt:
        return ""
    thin = {"stroke": SOFT, "stroke_width": 1.2, "stroke_dasharray": "2 4"}
    drawn = _oval(picture.top, scale, **thin)
    if picture.top.pith_mm == picture.butt.pith_mm:
        return drawn
    x, y = _place(picture.top.pith_mm, scale)
    return drawn + _circle(x, y, 5.0, stroke=PITH, stroke_width=1.5)


def _hours(end: LogEnd, scale: float) -> str:
    right, up = end.diameter_x_mm / 2 * scale + 13, end.diameter_y_mm / 2 * scale + 13
    return (
        label("12", MIDDLE, MIDDLE - up + 6, fill=SOFT)
        + label("3", MIDDLE + right, MIDDLE + 4, fill=SOFT)
        + label("6", MIDDLE, MIDDLE + up + 3, fill=SOFT)
        + label("9", MIDDLE - right, MIDDLE + 4, fill=SOFT)
    )


def _heart(point: Point, scale: float, colour: str) -> str:
    x, y = _place(point, scale)
    cross = f"M{x - 7:.2f} {y:.2f}h14M{x:.2f} {y - 7:.2f}v14"
    return element("path", d=cross, stroke=colour, stroke_width=2)


def _section(picture: BenchPicture, scale: float) -> str:
    """Body and grip in a group of their own, which the script moves and turns as one."""
    x, y = _place(picture.middle_mm, scale)
    wide, high = picture.width_mm * scale, picture.thickness_mm * scale
    colour = "currentColor" if picture.fits else WRONG
    body = element(
        "rect", x=-wide / 2, y=-high / 2, width=wide, height=high, fill="#fffefb",
        fill_opacity=0.55, stroke=colour, stroke_width=2.4, data_drag="move",
        stroke_dasharray=None if picture.fits else "8 4",
    )  # fmt: skip
    grip_x, grip_y = wide / 2 + GRIP_OUT, -high / 2 - GRIP_OUT
    grip = element(
        "g",
        element("path", d=f"M{-GRIP_OUT:g} {GRIP_OUT:g}L0 0", stroke=colour, stroke_width=1),
        _circle(0, 0, GRIP_REACH, fill="#fff", fill_opacity=0.01, data_drag="size"),
        _circle(0, 0, 7, fill=PITH, data_drag="size"),
        transform=f"translate({grip_x:.2f} {grip_y:.2f})",
        class_="grip",
    )
    return element(
        "g",
        body,
        grip,
        transform=f"translate({x:.2f} {y:.2f}) rotate({-picture.turned_deg:.3f})",
        class_="section",
        data_across=f"{picture.middle_mm[0]:.4f}",
        data_up=f"{picture.middle_mm[1]:.4f}",
        data_width=f"{picture.width_mm:.4f}",
        data_thickness=f"{picture.thickness_mm:.4f}",
        data_turn=f"{picture.turned_deg:.4f}",
    )
