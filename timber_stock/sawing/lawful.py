"""Whether a timber may lie where it lies, told as the room left under each rule.

Room is positive where the rule is kept and negative where it is broken: millimetres, or degrees for
the rings. Every rule is tested exactly along the whole length, whatever the pith does between ends.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from timber_stock.sawing import ring_angle
from timber_stock.sawing.log_solid import RolledLog
from timber_stock.sawing.request import Settings, Wanted

Array = NDArray[np.float64]
GOLDEN = (math.sqrt(5) - 1) / 2

RULES = {
    "length": "mm",
    "outline": "mm",
    "sapwood": "mm",
    "heart": "mm",
    "mean_min": "degrees",
    "mean_max": "degrees",
    "worst_min": "degrees",
    "worst_max": "degrees",
    "rot": "mm",
    "knots": "mm",
}


@dataclass(frozen=True)
class Places:
    """Where copies of one timber might lie: low corners, and how they are turned."""

    x: Array
    y: Array
    z: Array
    wide_x: bool
    flipped: bool = False

    def spans(self, timber: Wanted) -> tuple[Array, Array, Array, Array]:
        """x0, x1, y0, y1 of every place."""
        size_x = timber.width_mm if self.wide_x else timber.thickness_mm
        size_y = timber.thickness_mm if self.wide_x else timber.width_mm
        return self.x, self.x + size_x, self.y, self.y + size_y


def places(x: object, y: object, z: object, wide_x: bool, flipped: bool = False) -> Places:
    """Places from numbers or arrays of one shape."""
    xs, ys, zs = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in (x, y, z)))
    return Places(xs, ys, zs, wide_x=wide_x, flipped=flipped)


def rooms(rolled: RolledLog, timber: Wanted, at: Places, settings: Settings) -> dict[str, Array]:
    """The room under every rule that bears on this timber; all >= 0 means lawful."""
    ends = (at.z, at.z + timber.length_mm)
    margin = settings.margin_mm
    found = {"length": np.minimum(at.z, rolled.log.length_mm - ends[1])}
    found["outline"] = _outline(rolled, timber, at, margin)
    if not timber.sapwood_allowed and rolled.log.sapwood_mm > 0:
        found["sapwood"] = _outline(rolled, timber, at, margin + rolled.log.sapwood_mm)
    if timber.heart_clearance_mm is not None:
        clear = heart_distance(rolled, timber, at)
        found["heart"] = clear - timber.heart_clearance_mm - margin
    found |= _rings(rolled, timber, at, settings.margin_deg)
    if rolled.log.rot:
        found["rot"] = _rot(rolled, timber, at) - margin
    if rolled.log.knots and timber.knot_free:
        found["knots"] = _knots(rolled, timber, at) - margin
    return found


def _outline(rolled: RolledLog, timber: Wanted, at: Places, inset_mm: float) -> Array:
    """The eight corners decide: edges run along the axis and the outline is convex in z."""
    x0, x1, y0, y1 = at.spans(timber)
    rooms_ = [
        rolled.room_to_outline(x, y, z, inset_mm)
        for z in (at.z, at.z + timber.length_mm)
        for x in (x0, x1)
        for y in (y0, y1)
    ]
    return _least(rooms_)


def _least(values: list[Array]) -> Array:
    found: Array = np.minimum.reduce(values)
    return found


def _gap(p: Array | float, low: Array, high: Array) -> Array:
    return np.maximum(np.maximum(low - p, p - high), 0.0)


def heart_distance(rolled: RolledLog, timber: Wanted, at: Places) -> Array:
    """Least distance of the section from the pith along the whole length; 0 where it is boxed.

    Seen along the log this is the distance between a rectangle and a straight line's stretch: from
    an end of the stretch to the rectangle, or from a corner to the stretch, or 0 where they cross.
    """
    x0, x1, y0, y1 = at.spans(timber)
    px0, py0 = rolled.pith(at.z)
    px1, py1 = rolled.pith(at.z + timber.length_mm)
    least = np.minimum(
        np.hypot(_gap(px0, x0, x1), _gap(py0, y0, y1)),
        np.hypot(_gap(px1, x0, x1), _gap(py1, y0, y1)),
    )
    dx, dy = px1 - px0, py1 - py0
    drift = np.maximum(dx * dx + dy * dy, 1e-12)
    sides = []
    for x in (x0, x1):
        for y in (y0, y1):
            t = np.clip(((x - px0) * dx + (y - py0) * dy) / drift, 0, 1)
            least = np.minimum(least, np.hypot(px0 + t * dx - x, py0 + t * dy - y))
            sides.append((x - px0) * dy - (y - py0) * dx)
    astride = (np.minimum.reduce(sides) <= 0) & (np.maximum.reduce(sides) >= 0)
    overlap = (
        (np.minimum(px0, px1) <= x1)
        & (np.maximum(px0, px1) >= x0)
        & (np.minimum(py0, py1) <= y1)
        & (np.maximum(py0, py1) >= y0)
    )
    return np.where(astride & overlap, 0.0, least)


def ring_mean_deg(rolled: RolledLog, timber: Wanted, at: Places) -> Array:
    """Mean ring angle over the volume, degrees: the closed form at each station, Gauss between."""
    x0, x1, y0, y1 = at.spans(timber)
    total = np.zeros_like(x0)
    for station, share in zip(ring_angle.STATIONS, ring_angle.SHARES, strict=True):
        px, py = rolled.pith(at.z + station * timber.length_mm)
        spans = (x0 - px, x1 - px, y0 - py, y1 - py)
        if not at.wide_x:
            spans = (spans[2], spans[3], spans[0], spans[1])
        total = total + share * ring_angle.mean_deg(*spans)
    return total


def ring_extremes_deg(rolled: RolledLog, timber: Wanted, at: Places) -> tuple[Array, Array]:
    """Least and greatest ring angle anywhere in the timber, degrees."""
    spans = at.spans(timber)
    ends = [rolled.pith(at.z), rolled.pith(at.z + timber.length_mm)]
    along = (spans[0], spans[1], 0) if at.wide_x else (spans[2], spans[3], 1)
    across = (spans[2], spans[3], 1) if at.wide_x else (spans[0], spans[1], 0)

    def least_deg(near: tuple[Array, Array, int], far: tuple[Array, Array, int]) -> Array:
        gaps = [ring_angle.signed_gap(end[near[2]], near[0], near[1]) for end in ends]
        reaches = [ring_angle.reach(end[far[2]], far[0], far[1]) for end in ends]
        ratio = ring_angle.least_ratio((gaps[0], gaps[1]), (reaches[0], reaches[1]))
        return np.degrees(np.arctan(ratio))

    return least_deg(along, across), 90.0 - least_deg(across, along)


def _rings(rolled: RolledLog, timber: Wanted, at: Places, margin_deg: float) -> dict[str, Array]:
    rings = timber.rings
    found: dict[str, Array] = {}
    if rings.mean_min_deg is not None or rings.mean_max_deg is not None:
        mean = ring_mean_deg(rolled, timber, at)
        if rings.mean_min_deg is not None:
            found["mean_min"] = mean - rings.mean_min_deg - margin_deg
        if rings.mean_max_deg is not None:
            found["mean_max"] = rings.mean_max_deg - margin_deg - mean
    if rings.worst_min_deg is not None or rings.worst_max_deg is not None:
        least, greatest = ring_extremes_deg(rolled, timber, at)
        if rings.worst_min_deg is not None:
            found["worst_min"] = least - rings.worst_min_deg - margin_deg
        if rings.worst_max_deg is not None:
            found["worst_max"] = rings.worst_max_deg - margin_deg - greatest
    return found


def _rot(rolled: RolledLog, timber: Wanted, at: Places) -> Array:
    x0, x1, y0, y1 = at.spans(timber)
    room = np.full_like(x0, np.inf)
    for rot in rolled.log.rot:
        x, y = rolled.turn(rot.x_mm, rot.y_mm)
        clear = np.hypot(_gap(x, x0, x1), _gap(y, y0, y1)) - rot.radius_mm
        beside = np.maximum(rot.from_mm - at.z - timber.length_mm, at.z - rot.to_mm)
        room = np.minimum(room, np.where(beside > 0, np.maximum(clear, beside), clear))
    return room


def _knots(rolled: RolledLog, timber: Wanted, at: Places) -> Array:
    """Room to the nearest knot in the parts that must be free of them.

    The cone is met where, over s >= 0 along its axis, the least of distance(box, axis point) less
    s sin(half angle) is below 0; that is convex in s, so a golden section finds it.
    """
    room = np.full_like(at.x, np.inf)
    for index in range(len(rolled.log.knots)):
        for part in timber.knot_free:
            first, last = (1 - part[1], 1 - part[0]) if at.flipped else part
            z0, z1 = at.z + first * timber.length_mm, at.z + last * timber.length_mm
            room = np.minimum(room, _one_knot(rolled, index, timber, at, z0, z1))
    return room


def _one_knot(
    rolled: RolledLog, index: int, timber: Wanted, at: Places, z0: Array, z1: Array
) -> Array:
    knot = rolled.log.knots[index]
    x0, x1, y0, y1 = at.spans(timber)
    px, py = rolled.pith(knot.from_butt_mm)
    angle = math.radians(knot.clock_deg + rolled.roll_deg)
    out_x, out_y, spread = (
        math.cos(angle),
        math.sin(angle),
        math.sin(math.radians(knot.half_angle_deg)),
    )
    along = _gap(knot.from_butt_mm, z0, z1)

    def room(s: Array) -> Array:
        side = np.hypot(_gap(px + s * out_x, x0, x1), _gap(py + s * out_y, y0, y1))
        return np.hypot(side, along) - s * spread

    low = np.zeros_like(x0)
    high = np.full_like(x0, sum(rolled.log.butt_diameter_mm) + sum(rolled.log.top_diameter_mm))
    for _ in range(48):
        a, b = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
        nearer = room(a) < room(b)
        low, high = np.where(nearer, low, a), np.where(nearer, b, high)
    return np.minimum(room(0.5 * (low + high)), room(np.zeros_like(x0)))
