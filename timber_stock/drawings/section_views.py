"""From a request and a layout to the sections that are drawn of them."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from timber_stock.sawing.as_cut import Cutting
from timber_stock.sawing.guillotine import X, Y, Z
from timber_stock.sawing.layout import Bolt, Layout, Placed
from timber_stock.sawing.log_solid import RolledLog, semi_axes
from timber_stock.sawing.request import Knot, Request
from timber_stock.wood.distortion import dry_section, over_green_mm

from .log_section import CutDrawn, Point, Section, TimberDrawn

KNOT_POINTS = 12


def bolt_at(layout: Layout, z_mm: float) -> int:
    """The bolt in which a station lies, or the nearest; the larger piece first of several."""
    inside = [n for n, bolt in enumerate(layout) if bolt.from_mm <= z_mm <= bolt.to_mm]
    if inside:
        return inside[0]
    return min(
        range(len(layout)),
        key=lambda n: min(abs(layout[n].from_mm - z_mm), abs(layout[n].to_mm - z_mm)),
        default=0,
    )


def reach_mm(request: Request) -> float:
    log = request.log
    return max(*log.butt_diameter_mm, *log.top_diameter_mm) / 2


def section_at(
    request: Request,
    bolt: Bolt,
    z_mm: float,
    title: str,
    *,
    key: str = "s",
    faulty: Mapping[int, bool] | None = None,
    shrinkage: tuple[float, float] | None = None,
    exaggeration: float = 1.0,
    keys: Sequence[str] | None = None,
) -> Section:
    """The section at a station. `shrinkage`, radial and tangential in percent, adds the dried
    shape of every timber that lies there, its movement drawn so many times too large."""
    section = bare_section(request, bolt.roll_deg, z_mm, title, key)
    named = keys or [str(n) for n in range(len(bolt.timbers))]
    timbers = [
        timber_drawn(request, placed, z_mm, key=named[n], faulty=(faulty or {}).get(n, False))
        for n, placed in enumerate(bolt.timbers)
    ]
    if shrinkage:
        timbers = [
            replace(t, dried=dried_shape(t, section.pith, shrinkage, exaggeration)) if t.here else t
            for t in timbers
        ]
    return replace(section, timbers=timbers, gone=_outside_faces(bolt.faces, section.reach))


def bare_section(
    request: Request, roll_deg: float, z_mm: float, title: str, key: str = "s"
) -> Section:
    rolled = RolledLog(request.log, roll_deg)
    half_x, half_y = (float(axis) for axis in semi_axes(request.log, z_mm))
    pith = tuple(float(p) for p in rolled.pith(z_mm))
    return Section(
        title, half_x, half_y, roll_deg, (pith[0], pith[1]), request.log.sapwood_mm,
        reach_mm(request), key=key,
        knots=[k for knot in request.log.knots if (k := knot_at(rolled, knot, z_mm))],
        rot=[
            (*rolled.turn(r.x_mm, r.y_mm), r.radius_mm)
            for r in request.log.rot
            if r.from_mm <= z_mm <= r.to_mm
        ],
    )  # fmt: skip


def timber_drawn(
    request: Request, placed: Placed, z_mm: float, *, key: str, faulty: bool = False
) -> TimberDrawn:
    timber = request.wanted[placed.line]
    size_x, size_y, long = placed.sizes(timber)
    here = placed.from_mm <= z_mm <= placed.from_mm + long
    return TimberDrawn(
        timber.id, key, placed.x_mm, placed.y_mm, size_x, size_y, here, faulty, placed.pinned
    )


def knot_at(rolled: RolledLog, knot: Knot, z_mm: float) -> list[Point]:
    """Where the knot's cone meets a station: the inside of a hyperbola, out to the bark."""
    off = abs(z_mm - knot.from_butt_mm)
    slope = math.tan(math.radians(knot.half_angle_deg))
    far = 2 * max(float(axis) for axis in semi_axes(rolled.log, z_mm))
    near = off / slope
    if near >= far:
        return []
    along = np.linspace(near, far, KNOT_POINTS)
    half = np.sqrt(np.maximum((along * slope) ** 2 - off**2, 0.0))
    turn = math.radians(knot.clock_deg + rolled.roll_deg)
    c, s = math.cos(turn), math.sin(turn)
    px, py = (float(p) for p in rolled.pith(knot.from_butt_mm))
    edge = [*zip(along, half, strict=True), *reversed([*zip(along, -half, strict=True)])]
    return [(px + c * u - s * v, py + s * u + c * v) for u, v in edge]


def dried_shape(
    timber: TimberDrawn, pith: Point, shrinkage: tuple[float, float], exaggeration: float
) -> tuple[Point, ...]:
    """The outline the section dries to, laid centre to centre over the green one."""
    x0, y0, x1, y1 = timber.x, timber.y, timber.x + timber.width, timber.y + timber.height
    box = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    try:
        return over_green_mm(dry_section(box, pith, *shrinkage), exaggeration)
    except ValueError:
        return ()


def _outside_faces(faces: Sequence[float], reach: float) -> list[tuple[float, float, float, float]]:
    """What is sawn off a piece already, as rectangles."""
    far = 1.5 * reach
    x_low, x_high, y_low, y_high = (max(-far, min(far, face)) for face in faces)
    return [
        (-far, -far, x_low + far, 2 * far),
        (x_high, -far, far - x_high, 2 * far),
        (-far, -far, 2 * far, y_low + far),
        (-far, y_high, 2 * far, far - y_high),
    ]


def cut_drawn(cutting: Cutting, kerf: float, reach: float, number: str = "") -> CutDrawn | None:
    """The line of a ripping cut across the piece it parts; none for a crosscut."""
    if cutting.axis == Z:
        return None
    middle = cutting.at_mm + kerf / 2
    across = cutting.before.sawn[X + Y - cutting.axis]
    low, high = max(across[0], -reach), min(across[1], reach)
    if cutting.axis == Y:
        return CutDrawn(low, middle, high, middle, kerf, number)
    return CutDrawn(middle, low, middle, high, kerf, number)


def clipped_to_bark(section: Section, cut: CutDrawn) -> CutDrawn:
    """The same line no longer than the log is there."""
    turn = math.radians(section.roll_deg)
    c, s = math.cos(turn), math.sin(turn)

    def own(x: float, y: float) -> Point:
        return (c * x + s * y) / section.half_x, (c * y - s * x) / section.half_y

    (u0, v0), (u1, v1) = own(cut.x0, cut.y0), own(cut.x1, cut.y1)
    du, dv = u1 - u0, v1 - v0
    a, b, k = du * du + dv * dv, u0 * du + v0 * dv, u0 * u0 + v0 * v0 - 1
    root = math.sqrt(max(b * b - a * k, 0.0)) if a else 0.0
    low, high = (max(0.0, (-b - root) / a), min(1.0, (-b + root) / a)) if a else (0.0, 1.0)
    if low >= high:
        return cut
    dx, dy = cut.x1 - cut.x0, cut.y1 - cut.y0
    return replace(
        cut, x0=cut.x0 + low * dx, y0=cut.y0 + low * dy, x1=cut.x0 + high * dx,
        y1=cut.y0 + high * dy,
    )  # fmt: skip


def quarter_turned(section: Section) -> Section:
    """The same section turned a quarter anticlockwise, so that the saw's x stands upright."""
    return replace(
        section,
        roll_deg=section.roll_deg + 90,
        pith=(-section.pith[1], section.pith[0]),
        timbers=[
            replace(
                t, x=-t.y - t.height, y=t.x, width=t.height, height=t.width,
                dried=[(-y, x) for x, y in t.dried],
            )
            for t in section.timbers
        ],
        cuts=[replace(c, x0=-c.y0, y0=c.x0, x1=-c.y1, y1=c.x1) for c in section.cuts],
        knots=[[(-y, x) for x, y in knot] for knot in section.knots],
        rot=[(-y, x, r) for x, y, r in section.rot],
        gone=[(-y - h, x, h, w) for x, y, w, h in section.gone],
    )  # fmt: skip
