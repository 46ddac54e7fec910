"""Marks drawn over a photograph: where they lie, and the lines they are drawn with.

Points are fractions of the picture, (x, y) from 0 to 1, x from the left edge and y from the top,
so that a mark lies in the same place on a thumbnail, on a screen and on paper. The strokes are
worked out once here, for whoever draws them.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite

Point = tuple[float, float]

POINTS = {"arrow": 2, "ring": 2, "note": 1, "scale": 2}
"""How many points each kind has. Arrow: tail, then tip. Ring: centre, then a place on the ring.
Note: where it is about. Scale: both ends of the bar."""

NEEDS_TEXT = {
    "note": "A note needs its words.",
    "scale": "Say what length the bar stands for, such as 50 mm.",
}
LEAST_LENGTH = 0.005
"""Two points nearer than this, in fractions of the picture, are one tap too many."""

SCALE_CAUTION = (
    "A scale bar holds only in the plane and at the distance where its length was measured. "
    "Nothing is measured from a photograph here."
)


@dataclass(frozen=True)
class PictureMark:
    """One mark. `points` are fractions of the picture; `text` is "" where it says nothing."""

    kind: str
    points: tuple[Point, ...]
    text: str = ""


@dataclass(frozen=True)
class Strokes:
    """How a mark is drawn on a picture of a given size, in that size's own units, y downwards.

    circle: (x, y, radius) or None. text_at: where the words begin, or None.
    """

    lines: tuple[tuple[Point, ...], ...]
    circle: tuple[float, float, float] | None
    text_at: Point | None
    text: str


def picture_mark(kind: str, points: Sequence[Sequence[float]], text: str = "") -> PictureMark:
    """A mark that can be drawn.

    Raises ValueError for an unknown kind, the wrong number of points, a point off the picture,
    two points in one place, and a note or a scale bar without words.
    """
    if kind not in POINTS:
        raise ValueError(f"There is no mark called {kind!r}; there are {', '.join(POINTS)}.")
    if len(points) != POINTS[kind]:
        raise ValueError(f"This mark has {POINTS[kind]} points; {len(points)} were given.")
    placed = tuple(_on_the_picture(point) for point in points)
    if len(placed) == 2 and math.dist(placed[0], placed[1]) < LEAST_LENGTH:
        raise ValueError("The two points lie in one place: set them further apart.")
    if not text.strip() and kind in NEEDS_TEXT:
        raise ValueError(NEEDS_TEXT[kind])
    return PictureMark(kind, placed, text.strip())


def _on_the_picture(point: Sequence[float]) -> Point:
    if len(point) != 2:
        raise ValueError("A point on a picture is two numbers: across and down.")
    x, y = (finite(part, "place on the picture") for part in point)
    if not (0 <= x <= 1 and 0 <= y <= 1):
        raise ValueError("A mark lies on the picture: from 0 to 100 % across and down.")
    return x, y


def strokes(mark: PictureMark, width: float, height: float) -> Strokes:
    """The mark's lines on a picture `width` by `height`. ValueError for a size not above 0."""
    width, height = above_zero(width, "width"), above_zero(height, "height")
    points = [(x * width, y * height) for x, y in mark.points]
    size = max(width, height)
    if mark.kind == "arrow":
        return Strokes(
            _arrow(points[0], points[1], 0.03 * size), None, _beside(points[0], size), mark.text
        )
    if mark.kind == "ring":
        (x, y), rim = points
        radius = math.dist((x, y), rim)
        return Strokes((), (x, y, radius), _beside((x, y + radius), size), mark.text)
    if mark.kind == "scale":
        bar = _bar(points[0], points[1], 0.012 * size)
        return Strokes(bar, None, _clear_of(bar, size, height), mark.text)
    x, y = points[0]
    dot = 0.006 * size
    return Strokes((), (x, y, dot), (x + 3.5 * dot, y + 1.5 * dot), mark.text)


def _arrow(tail: Point, tip: Point, barb: float) -> tuple[tuple[Point, ...], ...]:
    back = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
    barb = min(barb, math.dist(tail, tip))
    barbs = [
        (tip[0] + barb * math.cos(back + turn), tip[1] + barb * math.sin(back + turn))
        for turn in (-math.pi / 7, math.pi / 7)
    ]
    return (tail, tip), (barbs[0], tip, barbs[1])


def _bar(start: Point, end: Point, tick: float) -> tuple[tuple[Point, ...], ...]:
    """The bar and a tick square to it at each end."""
    along = math.atan2(end[1] - start[1], end[0] - start[0])
    dx, dy = -tick * math.sin(along), tick * math.cos(along)
    ticks = [((x - dx, y - dy), (x + dx, y + dy)) for x, y in (start, end)]
    return ((start, end), *ticks)


def _clear_of(bar: Sequence[Sequence[Point]], size: float, height: float) -> Point:
    """Under the bar and its ticks, from its left end; over it where the picture ends below."""
    ends = [point for line in bar for point in line]
    below = max(y for _, y in ends) + 0.04 * size
    above = min(y for _, y in ends) - 0.015 * size
    return min(x for x, _ in ends), below if below <= height else above


def _beside(point: Point, size: float) -> Point:
    """Below and a little to the right, so that the words do not lie on the stroke."""
    return point[0] + 0.008 * size, point[1] + 0.03 * size
