"""Where the name of a piece is written: inside it if there is room, else beside it on a leader.

All in mm of paper, y downwards, as the drawing is. A name lies level where it fits so; else along
the piece or one of its arms; else in smaller letters; else outside, with a line to its piece.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import affinity

Point = tuple[float, float]

SIZES_MM = (2.5, 2.0)
"""Letters as they should be, and the smallest that are read on paper (about 6 points)."""
WIDTH = 0.62
"""Of a letter, of its size: a little more than marks, which are capitals and figures, take."""
RISE = 0.75
"""How high a capital stands over its line, of the size of the letters."""
CLEAR_MM = 0.5
"""Between the letters and any edge."""
LOOK_MM = 0.05
"""An outline is looked at to so much, which nobody sees on paper."""
ARMS = 4
COLUMNS, ROWS = 33, 17
AS_ROOMY_MM = 0.5
REACH_MM = (2.5, 4.0, 6.0, 9.0, 13.0, 18.0, 24.0)
AROUND, HOLDS = 16, 12


@dataclass(frozen=True)
class Label:
    """A name's middle, the size of its letters, how far it is turned (clockwise, as in SVG), and
    the leader to its piece where it stands outside."""

    x: float
    y: float
    size: float
    angle_deg: float = 0.0
    leader: tuple[Point, Point] | None = None

    def baseline(self) -> Point:
        """Where the letters stand: half their rise below the middle, square to the way they run."""
        turn, drop = math.radians(self.angle_deg), self.size * RISE / 2
        return self.x - drop * math.sin(turn), self.y + drop * math.cos(turn)


def labels_of(
    named: Sequence[tuple[shapely.Polygon, str]], keep_off: shapely.Geometry, room: shapely.Polygon
) -> list[Label]:
    """A label for each shape and its name, in their order.

    `keep_off` is what no name may be written over, `room` where a name outside its piece may
    stand; there it keeps off all the pieces too.
    """
    shapes = [shape.simplify(LOOK_MM) for shape, _ in named]
    found = {
        n: label
        for n, (shape, (_, words)) in enumerate(zip(shapes, named, strict=True))
        if (label := _inside(shape, words, keep_off))
    }
    taken = [keep_off, *shapes, *(_box(found[n], named[n][1]) for n in found)]
    for n, (shape, (_, words)) in enumerate(zip(shapes, named, strict=True)):
        if n not in found:
            others = shapely.union_all([each for m, each in enumerate(shapes) if m != n])
            found[n] = _outside(shape, words, shapely.union_all(taken), others, room)
            taken.append(_box(found[n], words))
    return [found[n] for n in range(len(named))]


def width_of(words: str, size: float) -> float:
    return WIDTH * size * len(words)


def line_in(
    shape: shapely.Polygon, label: Label, words: str, angle_deg: float, lengths: Sequence[float]
) -> tuple[Point, Point] | None:
    """The longest of these lines that lies this way inside a shape, clear of its name."""
    clear = (
        shape.simplify(LOOK_MM).buffer(-CLEAR_MM).difference(_box(label, words).buffer(CLEAR_MM))
    )
    for long in lengths if not clear.is_empty else ():
        if at := _roomiest(clear, long, 0.2, angle_deg):
            u, v = _turned((long / 2, 0.0), angle_deg)
            return (at[0] - u, at[1] - v), (at[0] + u, at[1] + v)
    return None


def middle_of(shape: shapely.Polygon) -> Point:
    """The middle of the largest circle in a shape."""
    x, y = shapely.maximum_inscribed_circle(shape, tolerance=0.2).coords[0]
    return float(x), float(y)


def _inside(shape: shapely.Polygon, words: str, keep_off: shapely.Geometry) -> Label | None:
    clear = shape.buffer(-CLEAR_MM).difference(keep_off)
    if clear.is_empty:
        return None
    angles = list(dict.fromkeys([0.0, *_ways(shape)]))
    for size in SIZES_MM:
        for angle in angles:
            if at := _roomiest(clear, width_of(words, size), size * RISE, angle):
                return Label(*at, size, angle)
    return None


def _roomiest(clear: shapely.Geometry, wide: float, tall: float, angle_deg: float) -> Point | None:
    """The middle of a box of this size turned so, where it lies clear and furthest from any edge,
    and of places that are about as roomy the one nearest the middle; None where it lies nowhere.
    Looked for on a grid, and at the middle of the widest place."""
    level = affinity.rotate(clear, -angle_deg, origin=(0, 0))
    left, low, right, high = level.bounds
    if wide > right - left or tall > high - low:
        return None
    xs, ys = np.meshgrid(np.linspace(left, right, COLUMNS), np.linspace(low, high, ROWS))
    middle = shapely.get_coordinates(shapely.maximum_inscribed_circle(level, tolerance=0.2))[0]
    x, y = np.append(xs.ravel(), middle[0]), np.append(ys.ravel(), middle[1])
    shapely.prepare(level)
    holds = shapely.contains(
        level, shapely.box(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
    )
    if not holds.any():
        return None
    x, y = x[holds], y[holds]
    edge = shapely.distance(level.boundary, shapely.points(x, y))
    off = np.hypot(x - level.centroid.x, y - level.centroid.y)
    at = np.lexsort((off, -np.round(edge / AS_ROOMY_MM)))[0]
    return _turned((float(x[at]), float(y[at])), angle_deg)


def _ways(shape: shapely.Polygon) -> Iterable[float]:
    """The ways the longest sides of a piece run, of its hull and of the rectangle round it too:
    along the piece, and along each arm of a knee. To be read from below or from the right."""
    around = shape.minimum_rotated_rectangle
    for each in (around, shape, shape.convex_hull):
        corners = shapely.get_coordinates(each.simplify(1.0))
        spans = np.diff(corners, axis=0)
        for n in np.argsort(-np.hypot(spans[:, 0], spans[:, 1]), kind="stable")[:ARMS]:
            yield round(_readable(math.degrees(math.atan2(spans[n][1], spans[n][0]))), 1)


def _readable(angle_deg: float) -> float:
    """The same line's direction from -90, so that nothing stands on its head, to below 90."""
    return (angle_deg + 90) % 180 - 90


def _outside(
    shape: shapely.Polygon,
    words: str,
    taken: shapely.Geometry,
    others: shapely.Geometry,
    room: shapely.Polygon,
) -> Label:
    """As near as may be, the leader crossing no other piece; over its piece where none is left."""
    size = SIZES_MM[0]
    half, rise = width_of(words, size) / 2 + CLEAR_MM, size * RISE / 2 + CLEAR_MM
    round_it = np.linspace(0, 2 * math.pi, AROUND, endpoint=False)
    clear = room.difference(taken)
    for reach in REACH_MM:
        for x, y in _holds(shape):
            us = x + np.cos(round_it) * (reach + half)
            vs = y + np.sin(round_it) * (reach + rise)
            boxes = shapely.box(us - half, vs - rise, us + half, vs + rise)
            for u, v, stands in zip(us, vs, boxes, strict=True):
                leader = shapely.shortest_line(stands, shapely.Point(x, y))
                if clear.contains(stands) and not leader.intersects(others):
                    start, end = ((float(a), float(b)) for a, b in leader.coords)
                    return Label(float(u), float(v), size, 0.0, (start, end))
    return Label(*middle_of(shape), SIZES_MM[-1])


def _holds(shape: shapely.Polygon) -> list[Point]:
    """Where a leader may end: in the middle of a piece, or on its edge."""
    shares = np.linspace(0, 1, HOLDS, endpoint=False)
    edge = shapely.line_interpolate_point(shape.exterior, shares, normalized=True)
    return [middle_of(shape), *((float(point.x), float(point.y)) for point in edge)]


def _box(label: Label, words: str) -> shapely.Polygon:
    half, rise = width_of(words, label.size) / 2, label.size * RISE / 2
    level = shapely.box(label.x - half, label.y - rise, label.x + half, label.y + rise)
    return affinity.rotate(level, label.angle_deg, origin=(label.x, label.y))


def _turned(point: Point, angle_deg: float) -> Point:
    turn = math.radians(angle_deg)
    c, s = math.cos(turn), math.sin(turn)
    return point[0] * c - point[1] * s, point[0] * s + point[1] * c
