"""Shapes as convex parts, and the places of one shape at which it would touch another.

The no-fit polygon of a fixed and a moving shape is the set of places of the moving shape's nought
at which the two overlap: the Minkowski sum of the fixed shape with the moving one turned about
its nought. For convex parts that sum is the hull of all sums of corners, and the sum of two
shapes is the union over their parts (Minkowski sums distribute over unions; textbook geometry).
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

Figures = NDArray[np.float64]
Parts = tuple[Figures, ...]

MOST_CORNERS = 20
FINEST_MM, COARSEST_MM = 0.25, 50.0
"""An outline of many corners is stood for by one of fewer that covers it, this much or more out."""


def convex_parts(shape: BaseGeometry) -> Parts:
    """The corners of convex polygons that together make up the shape, holes left out."""
    triangles = [
        part
        for part in shapely.get_parts(shapely.constrained_delaunay_triangles(shape))
        if part.area > 1e-6
    ]
    return tuple(_corners(part) for part in _joined(triangles))


def covering(outline: Figures) -> Polygon:
    """A polygon that covers the outline and has about MOST_CORNERS corners at most.

    The outline itself where it has no more; else one made coarser, and grown by as much as it
    was made coarser, so that nothing lies outside it.
    """
    shape, out = Polygon(outline), FINEST_MM
    if len(outline) <= MOST_CORNERS:
        return shape
    coarse = shape.simplify(out)
    while shapely.get_num_coordinates(coarse) > MOST_CORNERS + 1 and out < COARSEST_MM:
        out *= 1.5
        coarse = shape.simplify(out)
    reach = float(coarse.hausdorff_distance(shape)) + 0.001
    grown = coarse.buffer(reach, join_style="mitre")
    if isinstance(grown, Polygon) and grown.covers(shape):
        return Polygon(grown.exterior)
    return Polygon(shapely.get_coordinates(shape.convex_hull))


def no_fit(fixed: Parts, moving: Parts) -> BaseGeometry:
    """Where the moving shape's nought must not be, for its inside to stay clear of the fixed."""
    sums = [
        (one[:, None, :] - other[None, :, :]).reshape(-1, 2) for one in fixed for other in moving
    ]
    if not sums:
        return Polygon()
    index = np.repeat(np.arange(len(sums)), [len(each) for each in sums])
    clouds = shapely.multipoints(np.concatenate(sums), indices=index)
    return shapely.union_all(shapely.convex_hull(clouds))


def _corners(part: BaseGeometry) -> Figures:
    return shapely.get_coordinates(part)[:-1]


def _joined(parts: list[BaseGeometry]) -> list[BaseGeometry]:
    """Neighbours joined while what they make together stays convex."""
    joined: list[BaseGeometry] = []
    waiting = list(parts)
    while waiting:
        part = waiting.pop()
        mate = next((n for n, other in enumerate(waiting) if _convex_together(part, other)), None)
        if mate is None:
            joined.append(part)
        else:
            waiting.append(shapely.union(part, waiting.pop(mate)))
    return joined


def _convex_together(one: BaseGeometry, other: BaseGeometry) -> bool:
    if not shapely.intersects(one, other):
        return False
    hull = shapely.convex_hull(shapely.union(one, other)).area
    return bool(hull - one.area - other.area <= 1e-7 * max(hull, 1.0))
