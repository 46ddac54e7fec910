"""The section of a log on the saw: bark, sapwood, rings, heart, knots, timbers and cuts.

Drawn in millimetres about the middle of the log, up being up on the saw, seen from the butt. Lines
keep their width at any size of the picture.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from .cut_numbers import Columns, columns, leading_line, number_drawn
from .svg import drawing, element, label

INK, ACCENT, RING, SAP, KNOT, ROT = "#1b242c", "#93391a", "#8d8471", "#e3d6b4", "#6b4a2f", "#5d6871"
MARGIN = 1.16  # of the half diameter: room for the hours
RINGS = 14
Point = tuple[float, float]


@dataclass(frozen=True)
class TimberDrawn:
    """A timber's section: low corner and size, mm; how it stands, and the shape it dries to."""

    name: str
    key: str
    x: float
    y: float
    width: float
    height: float
    here: bool = True  # False: it lies in the bolt, but not at this station
    faulty: bool = False
    pinned: bool = False
    freed: bool = False
    dried: Sequence[Point] = ()


@dataclass(frozen=True)
class CutDrawn:
    """A cut right through a piece: its line, mm, the width of the kerf, and its number."""

    x0: float
    y0: float
    x1: float
    y1: float
    kerf: float
    number: str = ""


@dataclass(frozen=True)
class Section:
    """What is to be drawn. The half diameters lie along the log's own X and Y, as rolled."""

    title: str
    half_x: float
    half_y: float
    roll_deg: float
    pith: Point
    sapwood: float
    reach: float  # the greatest half diameter of the whole log, so that stations are to one scale
    timbers: Sequence[TimberDrawn] = ()
    cuts: Sequence[CutDrawn] = ()
    knots: Sequence[Sequence[Point]] = ()
    rot: Sequence[tuple[float, float, float]] = ()
    gone: Sequence[tuple[float, float, float, float]] = ()  # x, y, width, height sawn off
    bed: float | None = None  # height of the bed
    key: str = "s"  # told apart from other sections on the page
    text_share: float = field(default=0.075)


def section_svg(section: Section) -> str:
    clip = f"bark-{section.key}"
    frame = columns(section.cuts, section.reach, section.reach * MARGIN)
    middle = element(
        "g",
        _defs(section, clip),
        element("g", _wood(section), clip_path=f"url(#{clip})"),
        _outline(section),
        _timbers(section),
        _cuts(section),
        _heart(*section.pith, section.reach * 0.045),
        _bed(section),
        _numbers(section, frame),
        _hours(section),
        transform=f"translate({frame.half_width:.1f} {frame.half_height:.1f})",
    )
    return drawing(2 * frame.half_width, 2 * frame.half_height, section.title, middle)


def _line(**options: object) -> dict[str, object]:
    return {"vector_effect": "non-scaling-stroke", "fill": "none", "stroke": INK, **options}


def _ellipse(section: Section, less: float, **options: object) -> str:
    return element(
        "ellipse",
        cx=0,
        cy=0,
        rx=max(section.half_x - less, 0.1),
        ry=max(section.half_y - less, 0.1),
        transform=f"rotate({-section.roll_deg:.2f})",
        **options,
    )


def _defs(section: Section, clip: str) -> str:
    return element("defs", element("clipPath", _ellipse(section, 0.0), id=clip))


def _wood(section: Section) -> str:
    """Sapwood, rings as circles about the pith, knots, rot; then what is sawn off, faded."""
    sap = _ellipse(section, 0.0, fill=SAP if section.sapwood else "#f6efdf")
    heart = _ellipse(section, section.sapwood, fill="#f6efdf") if section.sapwood else ""
    dashed = _ellipse(section, section.sapwood, **_line(stroke_width=1, stroke_dasharray="6 4"))
    px, py = section.pith
    step = 2 * section.reach / RINGS
    rings = "".join(
        element("circle", cx=px, cy=-py, r=step * (n + 1), **_line(stroke=RING, stroke_width=0.7))
        for n in range(RINGS)
    )
    knots = "".join(
        element("polygon", points=_points(knot), fill=KNOT, fill_opacity=0.55)
        for knot in section.knots
    )
    rot = "".join(
        element("circle", cx=x, cy=-y, r=r, fill=ROT, fill_opacity=0.6) for x, y, r in section.rot
    )
    gone = "".join(
        element("rect", x=x, y=-y - h, width=w, height=h, fill="#fffefb", fill_opacity=0.8)
        for x, y, w, h in section.gone
    )
    return sap + heart + rings + (dashed if section.sapwood else "") + knots + rot + gone


def _outline(section: Section) -> str:
    return _ellipse(section, 0.0, **_line(stroke_width=2.5))


def _timbers(section: Section) -> str:
    """Those that lie elsewhere along the bolt first, so that they hide nothing."""
    inner_last = sorted(section.timbers, key=lambda timber: timber.here)
    return "".join(_timber(section, timber) for timber in inner_last)


def _timber(section: Section, timber: TimberDrawn) -> str:
    look: dict[str, object] = {"stroke_width": 3 if timber.pinned else 1.6}
    if timber.faulty:
        look |= {"stroke": ACCENT, "stroke_width": 3, "stroke_dasharray": "8 3"}
    if not timber.here:
        look |= {"stroke_dasharray": "3 4", "stroke_width": 1}
    fill = "#dfe6dc" if timber.freed else "#fffefb"
    opacity = 0.72 if timber.here else 0.25
    rect = element(
        "rect", x=timber.x, y=-timber.y - timber.height, width=timber.width, height=timber.height,
        **_line(fill=fill, fill_opacity=opacity, **look),
    )  # fmt: skip
    dried = (
        element("polygon", points=_points(timber.dried), **_line(stroke=ACCENT, stroke_width=1.2))
        if timber.dried
        else ""
    )
    return element(
        "g", rect, dried, _name(section, timber) if timber.here else "",
        class_="timber", data_timber=timber.key,
    )  # fmt: skip


def _name(section: Section, timber: TimberDrawn) -> str:
    """The timber's name along its longer side, with a mark where it is pinned."""
    text = ("● " if timber.pinned else "") + timber.name
    upright = timber.height > timber.width * 1.2
    long, short = max(timber.width, timber.height), min(timber.width, timber.height)
    size = min(section.reach * section.text_share, short * 0.6, long * 1.7 / max(len(text), 1))
    if size < section.reach * 0.02:
        return ""
    x, y = timber.x + timber.width / 2, -timber.y - timber.height / 2
    turn = f"rotate(-90 {x:.1f} {y:.1f})" if upright else None
    shift = size * 0.35
    return label(text, x, y + shift, font_size=round(size, 1), fill=INK, transform=turn)


def _cuts(section: Section) -> str:
    return "".join(
        element(
            "path", d=f"M{cut.x0:.1f} {-cut.y0:.1f}L{cut.x1:.1f} {-cut.y1:.1f}", stroke=ACCENT,
            stroke_width=max(cut.kerf, 0.1), opacity=0.75,
        )
        for cut in section.cuts
    )  # fmt: skip


def _numbers(section: Section, frame: Columns) -> str:
    lines = "".join(leading_line(one, section.reach) for one in frame.numbers)
    return lines + "".join(number_drawn(one) for one in frame.numbers)


def _heart(x: float, y: float, size: float) -> str:
    cross = f"M{x - size:.1f} {-y:.1f}h{2 * size:.1f}M{x:.1f} {-y - size:.1f}v{2 * size:.1f}"
    return element("path", d=cross, **_line(stroke=ACCENT, stroke_width=2.2)) + element(
        "circle", cx=x, cy=-y, r=size / 2, **_line(stroke=ACCENT, stroke_width=2.2)
    )


def _hours(section: Section) -> str:
    """The log's own marks as they lie on the saw: 12, 3, 6 and 9 o'clock of the butt."""
    size = section.reach * 0.09
    marks = []
    for hour in (12, 3, 6, 9):
        angle = math.radians(90 - 30 * hour + section.roll_deg)
        own = math.radians(90 - 30 * hour)
        along = 1 / math.hypot(math.cos(own) / section.half_x, math.sin(own) / section.half_y)
        far = along + section.reach * 0.085
        x, y = far * math.cos(angle), _off_the_bed(section, far * math.sin(angle), size)
        if section.cuts:  # the line to a number may pass here
            marks.append(element("circle", cx=x, cy=-y, r=size * 0.6, fill="#fffefb"))
        marks.append(label(f"{hour}", x, -y + size * 0.36, font_size=round(size, 1), fill=INK))
    return "".join(marks)


def _off_the_bed(section: Section, y: float, size: float) -> float:
    """A mark that the line of the bed would cross stands below it."""
    if section.bed is None or abs(y - section.bed) > size * 0.7:
        return y
    return section.bed - size * 0.7


def _bed(section: Section) -> str:
    if section.bed is None:
        return ""
    far = section.reach * 1.1
    return element("path", d=f"M{-far:.1f} {-section.bed:.1f}H{far:.1f}", **_line(stroke_width=4))


def _points(points: Sequence[Point]) -> str:
    return " ".join(f"{x:.1f},{-y:.1f}" for x, y in points)
