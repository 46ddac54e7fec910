"""Where a pattern's name stands at full size: in the timber, clear of all that is drawn on it."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from shapely import Geometry, LineString, MultiPoint, Polygon, unary_union
from shapely import Point as At
from shapely.affinity import rotate, translate
from shapely.ops import nearest_points

from restoration.calc.pattern import Point
from restoration.drawings.hull.paper import Area, Line, Words, width_of
from restoration.drawings.pattern import parts
from restoration.drawings.pattern.frame import Frame
from restoration.drawings.pattern.shapes import Circle, Shape

LARGE = 5.0
ROW = 4.5
"""From the name to what stands under it."""
CLEAR = 1.2
"""Round the two rows."""


def name(frame: Frame, rows: tuple[str, str], drawn: Sequence[Shape]) -> list[Shape]:
    """Two rows of words, as near the roomiest place as `drawn` leaves them room."""
    first, second = rows
    wide = max(width_of(first, LARGE), width_of(second, parts.LETTERS)) + 2 * CLEAR
    above, below = 0.8 * LARGE, ROW + 0.3 * parts.LETTERS
    x, y = _middle(frame, drawn, wide, above + below + 2 * CLEAR)
    baseline = y + (above - below) / 2
    return [
        Words(x, baseline, first, LARGE, "middle", tone="bold"),
        Words(x, baseline + ROW, second, parts.LETTERS, "middle"),
    ]


def _middle(frame: Frame, drawn: Sequence[Shape], wide: float, tall: float) -> Point:
    """Clear of everything; where there is no such room, of the arrow, and in the timber at least.

    In a pattern smaller than its name nothing is clear: it stands in the middle.
    """
    timber = Polygon(frame.to(frame.pattern.outline_mm)).buffer(0)
    (x, y), _ = parts.roomiest(frame)
    arrow = [each for each in drawn if isinstance(each, Line) and each.tone == "grain"]
    edge = [each for each in drawn if isinstance(each, Area)]
    for kept_off in (drawn, [*edge, *arrow], arrow):
        swept = [_swept(ends, wide, tall) for ends in _strokes(kept_off)]
        free = timber.difference(unary_union(swept))
        if not free.is_empty:
            nearest, _ = nearest_points(free, At(x, y))
            return nearest.x, nearest.y
    return x, y


def _swept(ends: Sequence[Point], wide: float, tall: float) -> Geometry:
    """Where the middle of a block of such a size cannot be for a stroke to stay out of it."""
    return MultiPoint(
        [(x + a * wide / 2, y + b * tall / 2) for x, y in ends for a in (-1, 1) for b in (-1, 1)]
    ).convex_hull


def _strokes(shapes: Iterable[Shape]) -> list[tuple[Point, Point]]:
    return [ends for shape in shapes for ends in pairwise(_course(shape))]


def _course(shape: Shape) -> Sequence[Point]:
    if isinstance(shape, Line):
        return shape.points
    if isinstance(shape, Area):
        return [*shape.points, shape.points[0]]
    if isinstance(shape, Circle):
        return list(At(shape.x, shape.y).buffer(shape.radius).exterior.coords)
    return _box(shape)


def _box(words: Words) -> Sequence[Point]:
    """Round what is written."""
    wide = width_of(words.text, words.size)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[words.anchor]
    right, top, foot = left + wide, -0.8 * words.size, 0.3 * words.size
    corners = [(left, top), (right, top), (right, foot), (left, foot), (left, top)]
    turned = rotate(LineString(corners), math.radians(words.angle), (0, 0), use_radians=True)
    return list(translate(turned, words.x, words.y).coords)
