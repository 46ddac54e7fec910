"""What a pattern needs from the wood, drawn: how it lies in its timber and where the grain runs."""

import math
from collections.abc import Sequence

from shapely import LineString

from restoration.calc.pattern import Pattern, Point
from restoration.calc.pattern_needs import Way
from restoration.calc.pattern_needs_bolts import HeartLine
from restoration.calc.pattern_needs_crook import Crook
from restoration.calc.pattern_needs_midline import Midline
from restoration.calc.pattern_needs_runout import slope_words
from timber_stock.drawings.svg import drawing, element, label

WIDE, EDGE = 640.0, 24.0
TALLEST = 520.0
GRAIN_LINES = 9
INK, SOFT, ACCENT, WOOD, PALE = "#1b242c", "#4a555f", "#93391a", "#fffdf6", "#d8c9a8"


class Board:
    """From the pattern to the drawing: turned so that the grain lies level."""

    def __init__(self, points: Sequence[Point], grain_deg: float):
        turn = math.radians(-grain_deg)
        self.cos, self.sin = math.cos(turn), math.sin(turn)
        xs, ys = zip(*(self._turned(p) for p in points), strict=True)
        self.left, self.high = min(xs), max(ys)
        wide, tall = max(xs) - self.left, self.high - min(ys)
        self.scale = min((WIDE - 2 * EDGE) / wide, (TALLEST - 2 * EDGE) / tall)
        self.inset = (WIDE - wide * self.scale) / 2
        self.height = tall * self.scale + 2 * EDGE

    def to(self, point: Point) -> Point:
        x, y = self._turned(point)
        return self.inset + (x - self.left) * self.scale, EDGE + (self.high - y) * self.scale

    def path(self, points: Sequence[Point], close: str = "") -> str:
        return "M" + "L".join("{:.1f} {:.1f}".format(*self.to(p)) for p in points) + close

    def _turned(self, point: Point) -> Point:
        x, y = point
        return x * self.cos - y * self.sin, x * self.sin + y * self.cos


def way_svg(
    pattern: Pattern, way: Way, line: Midline | None, heart: HeartLine | None = None
) -> str:
    """One way of laying the pattern: its blank, the grain, the middle line, the worst place."""
    board = Board(way.blank.corners_mm, way.grain_deg)
    parts = [
        element("path", d=board.path(way.blank.corners_mm, "z"), fill="#f3ead6", stroke=INK),
        *_level_grain(board),
        *_timber(board, pattern),
    ]
    if line:
        parts.append(_line(board, line.points_mm))
    if heart:
        parts += _heart(board, heart)
    if way.runs and way.runs.worst_deg > 0.5:
        parts += _worst(board, way.runs.worst_at_mm, slope_words(way.runs.worst_deg))
    return drawing(WIDE, board.height, _says(way), *parts)


def crook_svg(pattern: Pattern, crook: Crook) -> str:
    """The pattern in a grown crook, whose grain follows the curve."""
    points = crook.line_mm
    chord = math.degrees(math.atan2(points[-1][1] - points[0][1], points[-1][0] - points[0][0]))
    half = crook.width_mm / 2
    curve = LineString(points)
    band = list(curve.buffer(half, cap_style="flat").exterior.coords)
    board = Board([*band, *pattern.outline_mm], chord)
    parts = [element("path", d=board.path(band, "z"), fill="#f3ead6", stroke=INK)]
    parts += [
        element("path", d=board.path(strand), fill="none", stroke=PALE, stroke_width=1.2)
        for strand in _strands(curve, half)
    ]
    parts += _timber(board, pattern)
    if crook.left.worst_deg > 0.5:
        parts += _worst(board, crook.left.worst_at_mm, slope_words(crook.left.worst_deg))
    return drawing(WIDE, board.height, "The pattern in a grown crook", *parts)


def _says(way: Way) -> str:
    if way.runs is None:
        return f"{way.words}."
    return f"{way.words}. Worst run-out {slope_words(way.runs.worst_deg)}."


def _level_grain(board: Board) -> list[str]:
    inner = board.height - 2 * EDGE
    right = WIDE - board.inset
    return [
        element(
            "line", x1=board.inset, x2=right, y1=EDGE + inner * n / GRAIN_LINES,
            y2=EDGE + inner * n / GRAIN_LINES, stroke=PALE, stroke_width=1.2,
        )
        for n in range(1, GRAIN_LINES)
    ]  # fmt: skip


def _timber(board: Board, pattern: Pattern) -> list[str]:
    outline = board.path(pattern.outline_mm, "z")
    parts = [element("path", d=outline, fill=WOOD, fill_opacity=0.72, stroke=INK, stroke_width=2)]
    for hole in pattern.holes:
        x, y = board.to((hole.x_mm, hole.y_mm))
        radius = max(2.0, hole.diameter_mm / 2 * board.scale)
        parts.append(element("circle", cx=x, cy=y, r=radius, fill="#fff", stroke=INK))
    return parts


def _line(board: Board, points: Sequence[Point]) -> str:
    return element(
        "path", d=board.path(points), fill="none", stroke=SOFT, stroke_width=1.4,
        stroke_dasharray="10 3 2 3",
    )  # fmt: skip


def _heart(board: Board, heart: HeartLine) -> list[str]:
    (x1, y1), (x2, y2) = board.to(heart.start_mm), board.to(heart.end_mm)
    return [
        element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=ACCENT, stroke_width=2.5),
        label("heart", x2 - 4, y2 - 5, text_anchor="end", fill=ACCENT, font_size=15),
    ]


def _worst(board: Board, at_mm: Point, words: str) -> list[str]:
    x, y = board.to(at_mm)
    return [
        element("circle", cx=x, cy=y, r=9, fill="none", stroke=ACCENT, stroke_width=3),
        label(
            words, min(max(x, 60.0), WIDE - 60), y - 16 if y > 34 else y + 28, fill=ACCENT,
            font_size=17, font_weight=700, stroke="#fff", stroke_width=4, paint_order="stroke",
        ),
    ]  # fmt: skip


def _strands(curve: LineString, half_mm: float) -> list[Sequence[Point]]:
    """The grain beside the curve, without the loops that a tight turn would make of it."""
    found = []
    for share in (-0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75):
        beside = curve.offset_curve(share * half_mm) if share else curve
        found += [list(part.coords) for part in getattr(beside, "geoms", [beside])]
    return [points for points in found if len(points) > 1]
