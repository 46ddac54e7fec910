"""The parts of a pattern's drawing: outline, lines, holes, bevels, grain, dimensions, key."""

import math
from collections.abc import Callable
from itertools import pairwise

from shapely import LineString, Polygon, maximum_inscribed_circle, unary_union
from shapely import Point as At

from restoration.calc.pattern import LINE_KINDS, Point
from restoration.drawings.hull.paper import Area, Line, Words, width_of
from restoration.drawings.pattern.frame import Frame
from restoration.drawings.pattern.shapes import Circle, Shape

Say = Callable[[float], str]
LETTERS = 3.2
SMALL = 2.7
NAMED_AT = (0.3, 0.7, 0.5, 0.2, 0.8)
"""How far along it a line bears its name: neighbours not at the same place."""
BEYOND = 3.0
"""How far station lines and crosses stand out, mm of paper."""


def outline(frame: Frame, tone: str = "outline") -> list[Shape]:
    return [Area(frame.to(frame.pattern.outline_mm), tone)]


def lines(frame: Frame) -> list[Shape]:
    """Each with its name along it where there is room."""
    found: list[Shape] = []
    for number, line in enumerate(frame.pattern.lines):
        points = frame.to(line.points_mm)
        found.append(Line(points, line.kind))
        found += _along(LINE_KINDS[line.kind], points, NAMED_AT[number % len(NAMED_AT)])
    return found


def _along(words: str, points: tuple[Point, ...], share: float) -> list[Shape]:
    """A name just above a line, such a share along it, as it runs there."""
    way = LineString(points)
    wide = width_of(words, SMALL)
    if way.length < 3 * wide:
        return []
    a, b = (way.interpolate(way.length * share + part * wide / 2) for part in (-1, 1))
    angle = math.degrees(math.atan2(b.y - a.y, b.x - a.x))
    angle = math.remainder(angle, 180)
    turn = math.radians(angle)
    x, y = (a.x + b.x) / 2 + math.sin(turn), (a.y + b.y) / 2 - math.cos(turn)
    return [Words(x, y, words, SMALL, "middle", angle, "soft")]


def holes(frame: Frame, say: Say | None = None) -> list[Shape]:
    """Each a circle with a cross on its centre, its number beside it, and its diameter if said."""
    found: list[Shape] = []
    for number, hole in enumerate(frame.pattern.holes, 1):
        ((x, y),) = frame.to([(hole.x_mm, hole.y_mm)])
        radius = hole.diameter_mm / 2 / frame.scale
        arm = radius + BEYOND / 2
        diameter = f": Ø {say(hole.diameter_mm)}" if say else ""
        found += [
            Circle(x, y, radius),
            Line(((x - arm, y), (x + arm, y)), "cross"),
            Line(((x, y - arm), (x, y + arm)), "cross"),
            Words(x + arm + 0.6, y - 0.8, f"{number}{diameter}", SMALL),
        ]
    return found


def bevels(frame: Frame) -> list[Shape]:
    """A station line across the timber and its bevel under it; standing positive."""
    found: list[Shape] = []
    row, taken = [0.0, 0.0], LETTERS + 1
    for bevel in frame.pattern.bevels:
        top, foot = _across(frame, bevel.x_mm)
        words = bevel_words(bevel.degrees)
        x, half = top[0], width_of(words, SMALL) / 2
        # A label that would run into the one before it goes into the row below.
        drop = 0 if x - half > row[0] else 1
        row[drop] = x + half + 1
        foot_y = foot[1] + BEYOND + drop * taken
        found.append(Line(((x, top[1] - BEYOND), (x, foot_y)), "station"))
        found.append(Words(x, foot_y + LETTERS, words, SMALL, "middle", tone="bevel"))
    return found


def bevel_words(degrees: float) -> str:
    sign = "−" if degrees < 0 else ""
    return f"{sign}{abs(degrees):.3g}°"


def _across(frame: Frame, x_mm: float) -> tuple[Point, Point]:
    """Where the highest and lowest edge lie at a place along; the whole height off the timber."""
    _, low, _, high = frame.box_mm
    ys = [y for (x, y) in _crossings(frame, x_mm)]
    ((x, _),) = frame.to([(x_mm, 0.0)])
    if ys:
        return (x, min(ys)), (x, max(ys))
    return (x, frame.in_top), (x, frame.in_top + (high - low) / frame.scale)


def _crossings(frame: Frame, x_mm: float) -> list[Point]:
    corners = frame.to(frame.pattern.outline_mm)
    ((at, _),) = frame.to([(x_mm, 0.0)])
    found = []
    for (x, y), (u, v) in pairwise((*corners, corners[0])):
        if min(x, u) <= at <= max(x, u):
            share = (at - x) / (u - x) if u != x else 0.0
            found.append((at, y + share * (v - y)))
    return found


def roomiest(frame: Frame) -> tuple[Point, float]:
    """The middle of the widest round place in the timber clear of lines and holes; its radius."""
    timber = Polygon(frame.to(frame.pattern.outline_mm))
    drawn = [LineString(frame.to(line.points_mm)).buffer(1) for line in frame.pattern.lines]
    for hole in frame.pattern.holes:
        ((x, y),) = frame.to([(hole.x_mm, hole.y_mm)])
        drawn.append(At(x, y).buffer(hole.diameter_mm / 2 / frame.scale + BEYOND))
    for bevel in frame.pattern.bevels:
        drawn.append(LineString(_across(frame, bevel.x_mm)).buffer(0.5))
    clear = timber.difference(unary_union(drawn)) if drawn else timber
    parts = [part for part in getattr(clear, "geoms", [clear]) if part.area > 1]
    largest = [maximum_inscribed_circle(part, tolerance=0.5) for part in parts or [timber]]
    radius = max(largest, key=lambda line: line.length)
    (x, y), _ = radius.coords
    return (x, y), radius.length


def grain(frame: Frame, longest: float) -> list[Shape]:
    """A double arrow the way the grain runs, where there is most room for it."""
    (x, y), radius = roomiest(frame)
    half = min(longest, max(1.7 * radius, 12.0)) / 2
    turn = math.radians(-frame.grain_deg)
    c, s = math.cos(turn), math.sin(turn)
    ends = [(x + way * half * c, y + way * half * s) for way in (-1, 1)]
    found: list[Shape] = [Line(tuple(ends), "grain")]
    for way, (u, v) in zip((-1, 1), ends, strict=True):
        barbs = [
            (u - way * (2.6 * c - side * 0.9 * s), v - way * (2.6 * s + side * 0.9 * c))
            for side in (-1, 1)
        ]
        found.append(Line((barbs[0], (u, v), barbs[1]), "grain"))
    words = (x + 1.0 * s, y - 1.0 * c)
    return [*found, Words(*words, "grain", SMALL, "middle", math.degrees(turn), "soft")]


def overall(frame: Frame, say: Say, below: float) -> list[Shape]:
    """Its length, so far below the timber, and its breadth to the left of it."""
    left, top = frame.in_left, frame.in_top
    right, foot = left + frame.wide, top + frame.tall
    box = frame.box_mm
    return [
        *_dimension((left, foot + below), (right, foot + below), say(box[2] - box[0])),
        *_dimension((left - 5, foot), (left - 5, top), say(box[3] - box[1])),
        *[Line(((x, foot + 1), (x, foot + below + 1.2)), "dimension") for x in (left, right)],
        *[Line(((left - 6.2, y), (left - 1, y)), "dimension") for y in (top, foot)],
    ]


def _dimension(start: Point, end: Point, words: str) -> list[Shape]:
    """A measured line with a slanting stroke at each end and its figure over it."""
    angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    off = (0.0, -1.0) if abs(angle) < 45 else (-1.0, 0.0)
    strokes = [Line(((u - 0.9, v + 0.9), (u + 0.9, v - 0.9)), "dimension") for u, v in (start, end)]
    return [
        Line((start, end), "dimension"),
        *strokes,
        Words(x + off[0], y + off[1], words, LETTERS, "middle", angle),
    ]


def key(frame: Frame, left: float, top: float, wide: float) -> tuple[list[Shape], float]:
    """The kinds of line that occur, each with its dashes; and how far down the key reaches."""
    kinds = list(dict.fromkeys(line.kind for line in frame.pattern.lines))
    entries = [(kind, LINE_KINDS[kind]) for kind in kinds]
    if frame.pattern.bevels:
        entries.append(("station", "bevel at the station, standing positive, under −"))
    found: list[Shape] = []
    x, y = left, top
    for tone, words in entries:
        step = 18 + width_of(words, SMALL) + 6
        if x > left and x + step > left + wide:
            x, y = left, y + 5.5
        found.append(Line(((x, y - 1), (x + 16, y - 1)), tone))
        found.append(Words(x + 18, y, words, SMALL))
        x += step
    return found, y if entries else top - 5.5
