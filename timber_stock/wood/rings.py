"""How the rings run through a section: their angle to the wide face.

The ring at a point is a circle about the pith. With u the place along the wide face and v across
it, both from the pith, its angle to the wide face is atan(|u|/|v|): 90 degrees is quarter-sawn, 0
flat-sawn. Derived; exact for circular rings about the stated pith. Real rings follow the bark, and
where the pith is off centre the two models can differ by some degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from timber_stock.wood.checked import between, finite
from timber_stock.wood.outline import (
    Corners,
    Outline,
    Point,
    as_complex,
    corners_of,
    cross,
    place_of,
)
from timber_stock.wood.polar import Floats, Path, angle_moment, path_round

RIGHT = math.pi / 2


@dataclass(frozen=True)
class RingAngles:
    """Ring angles of one section, in degrees between the rings and the wide face.

    `mean_deg` is the mean over the area; `least_deg` and `greatest_deg` are found anywhere in it;
    `spread_deg` is the angle the section takes up seen from the pith: how far the rings turn across
    it. `heart_clearance_mm` is the distance from the pith to the section, negative by the depth of
    the pith when it is boxed.
    """

    mean_deg: float
    least_deg: float
    greatest_deg: float
    spread_deg: float
    boxed_heart: bool
    heart_clearance_mm: float


def ring_angles(
    outline_mm: Outline, pith_mm: Point, wide_face_deg: float | None = None
) -> RingAngles:
    """Ring angles of a section whose corners and pith are given in mm in one frame.

    wide_face_deg: direction of the wide face, degrees counter-clockwise from the x axis; left out,
    the longest edge is the wide face (the first of them when they are equal).
    Raises ValueError for an outline that is no simple polygon or a number that is not finite.
    """
    corners, pith = corners_of(outline_mm), as_complex(pith_mm, "The pith")
    turn = facing(corners, wide_face_deg)
    path = path_round(corners * turn, pith * turn)
    cut = _cut(path, (0.0, RIGHT))
    seen = np.degrees(_to_face(np.append(cut.start_angle, cut.end_angle)))
    boxed = path.place.inside
    return RingAngles(
        mean_deg=math.degrees(cut.mean()),
        least_deg=0.0 if boxed else float(seen.min()),
        greatest_deg=90.0 if boxed else float(seen.max()),
        spread_deg=360.0 if boxed else math.degrees(path.spread),
        boxed_heart=boxed,
        heart_clearance_mm=(-1.0 if boxed else 1.0) * path.place.distance_mm,
    )


def share_at_or_above(
    outline_mm: Outline, pith_mm: Point, limit_deg: float, wide_face_deg: float | None = None
) -> float:
    """Share (0 to 1) of the area of the section whose rings stand at `limit_deg` or steeper."""
    corners, pith = corners_of(outline_mm), as_complex(pith_mm, "The pith")
    limit = math.radians(between(limit_deg, 0, 90, "The limit", " degrees"))
    turn = facing(corners, wide_face_deg)
    cut = _cut(path_round(corners * turn, pith * turn), (RIGHT - limit, RIGHT + limit))
    steep = _to_face((cut.start_angle + cut.end_angle) / 2) >= limit - 1e-12
    areas = cut.areas()
    return float(areas[steep].sum() / areas.sum())


def face_share_at_or_above(
    outline_mm: Outline, pith_mm: Point, limit_deg: float, wide_face_deg: float | None = None
) -> float:
    """Share (0 to 1) of the poorer wide face over which the rings stand at `limit_deg` or steeper.

    The wide faces are the edges within 1 degree of the direction of the wide face.
    """
    corners, pith = corners_of(outline_mm), as_complex(pith_mm, "The pith")
    limit = math.radians(between(limit_deg, 0, 90, "The limit", " degrees"))
    turn = facing(corners, wide_face_deg)
    path = path_round(corners * turn, pith * turn)
    cut = _cut(path, (RIGHT - limit, RIGHT + limit))
    steep = _to_face((cut.start_angle + cut.end_angle) / 2) >= limit - 1e-12
    lengths = np.abs(cut.end - cut.start)
    flat = np.abs(np.sin(np.angle(cut.end - cut.start))) <= math.sin(math.radians(1.0))
    shares = []
    for edge in np.unique(cut.edges[flat & (lengths > 0)]):
        on = cut.edges == edge
        shares.append(float(lengths[on & steep].sum() / lengths[on].sum()))
    if not shares:
        raise ValueError("The section has no edge along its wide face.")
    return min(shares)


def heart_clearance_mm(outline_mm: Outline, pith_mm: Point) -> float:
    """Distance in mm from the pith to the section; negative by its depth when it is boxed."""
    place = place_of(corners_of(outline_mm), as_complex(pith_mm, "The pith"))
    return -place.distance_mm if place.inside else place.distance_mm


def facing(corners: Corners, wide_face_deg: float | None) -> complex:
    """The turn that lays the wide face along the x axis."""
    if wide_face_deg is not None:
        return complex(np.exp(-1j * math.radians(finite(wide_face_deg, "The wide face"))))
    edges = np.roll(corners, -1) - corners
    lengths = np.abs(edges)
    longest = edges[int(np.argmax(lengths >= lengths.max() * (1.0 - 1e-9)))]
    return complex(np.conj(longest) / abs(longest))


def _to_face(angle: Floats) -> Floats:
    """Ring angle to the wide face, radians, from the bearing of a point from the pith."""
    return np.asarray(np.abs(RIGHT - np.mod(angle, math.pi)), dtype=np.float64)


@dataclass(frozen=True)
class _Cut:
    """The edge of a section cut where rays from the pith cross it: each piece in one sector."""

    start: Corners
    end: Corners
    start_angle: Floats
    end_angle: Floats
    edges: Floats

    def areas(self) -> Floats:
        """Signed areas of the triangles from the pith to each piece."""
        return cross(self.start, self.end - self.start) / 2

    def mean(self) -> float:
        """Mean ring angle over the area, radians; every piece must lie within one quadrant.

        Within a quadrant the ring angle is a straight function of the bearing, rising or falling,
        so its integral follows from that of the bearing. Bearings are taken from the first one,
        which keeps a far pith accurate.
        """
        origin = self.start_angle[0]
        moment = angle_moment(self.start, self.end, self.start_angle - origin)
        areas = self.areas()
        middle = (self.start_angle + self.end_angle) / 2
        slope = np.where(np.mod(middle, math.pi) < RIGHT, -1.0, 1.0)
        at_origin = _to_face(middle) - slope * (middle - origin)
        return float((slope * moment + at_origin * areas).sum() / areas.sum())


def _cut(path: Path, rays: tuple[float, ...]) -> _Cut:
    """Cut every step of the path at its crossings with lines through the pith at these bearings."""
    points, angles, edges = [path.nodes[:1]], [path.angles[:1]], []
    for k, edge in enumerate(path.edges):
        start, end = complex(path.nodes[k]), complex(path.nodes[k + 1])
        met = _rays_between(float(path.angles[k]), float(path.angles[k + 1]), rays)
        points.append(np.array([*(_crossing(start, end, ray) for ray in met), end]))
        angles.append(np.array([*met, path.angles[k + 1]]))
        edges.extend([edge] * (len(met) + 1))
    nodes, bearings = np.concatenate(points), np.concatenate(angles)
    return _Cut(nodes[:-1], nodes[1:], bearings[:-1], bearings[1:], np.array(edges, dtype=float))


def _rays_between(first: float, last: float, rays: tuple[float, ...]) -> list[float]:
    """Bearings of the given lines met in going from the first bearing to the last, in order."""
    low, high = min(first, last), max(first, last)
    met = [
        ray + math.pi * n
        for ray in rays
        for n in range(math.ceil((low - ray) / math.pi), math.floor((high - ray) / math.pi) + 1)
    ]
    return sorted((angle for angle in met if low < angle < high), reverse=first > last)


def _crossing(start: complex, end: complex, ray: float) -> complex:
    """Where the line from start to end meets the ray from the pith at this bearing."""
    direction, step = complex(np.exp(1j * ray)), end - start
    return start - step * float(cross(direction, start) / cross(direction, step))
