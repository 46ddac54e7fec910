"""The middle line of a pattern, end to end, along which the run of its grain is judged.

The points furthest from both edges (medial axis) are found from a Voronoi diagram of the edge cut
into short pieces; the longest way through them runs from end to end. Towards each end it turns
into a corner, so about the last two thirds of a width are left out and not judged.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import dijkstra
from scipy.spatial import Voronoi

Point = tuple[float, float]
Floats = NDArray[np.float64]

EDGE_PIECES = 360
STEPS = 80
STOUT = 2.0


@dataclass(frozen=True)
class Midline:
    """Evenly spaced points from end to end, how far along each lies, and the way it runs there.

    `runs_deg` is counter-clockwise from x and never jumps by half a turn. `width_mm` is twice the
    median distance from the line to the edge, `ends_mm` what is left of the timber beyond each end.
    """

    points_mm: tuple[Point, ...]
    along_mm: tuple[float, ...]
    runs_deg: tuple[float, ...]
    width_mm: float
    ends_mm: tuple[float, float] = (0.0, 0.0)

    @property
    def length_mm(self) -> float:
        return self.along_mm[-1]


def midline(outline_mm: Sequence[Point]) -> Midline:
    """The middle line of an outline that does not cross itself, from its left end to its right.

    Its run at each point is taken over about half the timber's width, so that a nick in the edge
    does not count as a bend. ValueError for an outline so stout that no middle line can be told:
    its middle line not twice as long as it is wide at its widest.
    """
    shape = shapely.Polygon(outline_mm)
    way = _longest_way(shape)
    distance = _edge_distance(shape, way)
    half = float(np.median(distance))
    if _along(way)[-1] < STOUT * 2 * distance.max():
        raise ValueError(
            "The pattern is about as wide as it is long, so no run of the grain along it can be "
            "told: judge it on the drawing."
        )
    way = _without_ends(way, distance)
    points = _evenly(way, _along(way), STEPS + 1)
    if (points[-1][0], points[-1][1]) < (points[0][0], points[0][1]):
        points = points[::-1]
    return _with_ends(_smoothed(points, half), shape)


def line_as_midline(points_mm: Sequence[Point], width_mm: float) -> Midline:
    """A centreline that was drawn, taken as the middle line."""
    way = np.array(points_mm, dtype=np.float64)
    points = _evenly(way, _along(way), STEPS + 1)
    return _smoothed(points, width_mm / 2)


def _longest_way(shape: shapely.Polygon) -> Floats:
    edge = shapely.segmentize(shape.exterior, shape.exterior.length / EDGE_PIECES)
    diagram = Voronoi(np.array(edge.coords)[:-1])
    inside = shapely.contains_xy(shape, diagram.vertices[:, 0], diagram.vertices[:, 1])
    ridges = np.array(diagram.ridge_vertices)
    pairs = ridges[(ridges >= 0).all(axis=1) & inside[ridges].all(axis=1)]
    if len(pairs) < 2:
        raise ValueError("No middle line can be told of so small an outline.")
    spans = np.hypot(*(diagram.vertices[pairs[:, 0]] - diagram.vertices[pairs[:, 1]]).T) + 1e-9
    count = len(diagram.vertices)
    # In a tree the point furthest from any other is one end of its longest way.
    graph = coo_array((spans, (pairs[:, 0], pairs[:, 1])), shape=(count, count)).tocsr()
    middle = int(pairs[np.argmax(_edge_distance(shape, diagram.vertices[pairs[:, 0]]))][0])
    start = _furthest(dijkstra(graph, directed=False, indices=np.array([middle]))[0])
    fars, befores = dijkstra(
        graph, directed=False, indices=np.array([start]), return_predecessors=True
    )
    at, chain, before = _furthest(fars[0]), [], befores[0]
    while at >= 0:
        chain.append(at)
        at = int(before[at])
    return np.asarray(diagram.vertices[chain], dtype=np.float64)


def _edge_distance(shape: shapely.Polygon, points: Floats) -> Floats:
    """From each point to the nearest side of the outline; a tree finds which side that is."""
    corners = np.asarray(shape.exterior.coords)
    sides = np.asarray(shapely.linestrings(np.stack((corners[:-1], corners[1:]), axis=1)))
    _, found = shapely.STRtree(sides).query_nearest(
        shapely.points(points), return_distance=True, all_matches=False
    )
    return np.asarray(found, dtype=np.float64)


def _furthest(distances: Floats) -> int:
    return int(np.argmax(np.where(np.isfinite(distances), distances, -1.0)))


def _with_ends(line: Midline, shape: shapely.Polygon) -> Midline:
    """How far the edge lies ahead of each end, the way the line runs there."""
    far = shape.exterior.length
    ahead = []
    for at, runs in ((0, line.runs_deg[0] + 180), (-1, line.runs_deg[-1])):
        x, y = line.points_mm[at]
        turn = math.radians(runs)
        ray = shapely.LineString([(x, y), (x + far * math.cos(turn), y + far * math.sin(turn))])
        ahead.append(float(shapely.Point(x, y).distance(ray.intersection(shape.exterior))))
    return replace(line, ends_mm=(ahead[0], ahead[1]))


def _without_ends(way: Floats, distance: Floats) -> Floats:
    """Without what lies within reach of either tip: there the way runs into a corner."""
    along = _along(way)
    median = float(np.median(distance))
    keep = (along > 1.5 * median) & (along < along[-1] - 1.5 * median)
    return np.asarray(way[keep], dtype=np.float64)


def _along(way: Floats) -> Floats:
    steps = np.hypot(*np.diff(way, axis=0).T)
    return np.asarray(np.concatenate(([0.0], np.cumsum(steps))), dtype=np.float64)


def _evenly(way: Floats, along: Floats, count: int) -> Floats:
    at = np.linspace(0.0, along[-1], count)
    return np.column_stack((np.interp(at, along, way[:, 0]), np.interp(at, along, way[:, 1])))


def _smoothed(points: Floats, half_width_mm: float) -> Midline:
    along = _along(points)
    runs = []
    for at in along:
        near = np.abs(along - at) <= max(half_width_mm / 2, along[-1] / STEPS * 1.5)
        one, two = points[near][0], points[near][-1]
        runs.append(math.atan2(two[1] - one[1], two[0] - one[0]))
    degrees = np.degrees(np.unwrap(np.array(runs)))
    return Midline(
        tuple((float(x), float(y)) for x, y in points),
        tuple(float(n) for n in along),
        tuple(float(n) for n in degrees),
        2 * half_width_mm,
    )
