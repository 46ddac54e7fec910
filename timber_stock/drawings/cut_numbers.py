"""Where the numbers of cuts stand: in a column at either side of the log, each as near the height
of its cut as the others allow, with a line that leads to it. No number lies over another, nor over
what is drawn of the log.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from .svg import element, label

ACCENT, PAPER = "#93391a", "#fffefb"
ELBOW, COLUMN = 1.1, 1.24  # of the half diameter: where a leading line bends, and where it ends
LARGEST, SMALLEST = 0.095, 0.055  # of the half diameter: the height of the figures
PITCH = 1.55  # from one number to the next, in heights of the figures
BOX, FIGURE = 1.35, 0.6  # height of a number's box, width of one figure, in heights of the figures
ROOMY = 12  # numbers in a column that nobody minds
SAME_HEIGHT = 0.5  # mm
NUMBER_CLASS = "cut-number"


class Cut(Protocol):
    @property
    def x0(self) -> float: ...
    @property
    def y0(self) -> float: ...
    @property
    def x1(self) -> float: ...
    @property
    def y1(self) -> float: ...
    @property
    def number(self) -> str: ...


@dataclass(frozen=True)
class Numbered:
    """A number with the middle of its box, and the end of its cut that the line leads from."""

    text: str
    end: tuple[float, float]
    x: float
    y: float
    width: float
    size: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, low, width, height."""
        tall = BOX * self.size
        return self.x - self.width / 2, self.y - tall / 2, self.width, tall


@dataclass(frozen=True)
class Columns:
    """The numbers, and how far the drawing must reach from the middle to hold them."""

    numbers: tuple[Numbered, ...]
    half_width: float
    half_height: float


def columns(cuts: Sequence[Cut], reach: float, half: float) -> Columns:
    """`half` is how far the drawing reaches without them."""
    told = [cut for cut in cuts if cut.number]
    if not told:
        return Columns((), half, half)
    sides = _sides(told, reach)
    most = max(len(side) for side in sides)
    size = min(max(2 * half / (most * PITCH), SMALLEST * reach), LARGEST * reach)
    width = size * (0.8 + FIGURE * max(len(cut.number) for cut in told))
    tall = max(half, most * PITCH * size / 2)
    numbers = [
        Numbered(cut.number, _end(cut, way), way * (COLUMN * reach + width / 2), y, width, size)
        for way, side in zip((-1, 1), sides, strict=True)
        for cut, y in _levelled(side, way, PITCH * size, tall)
    ]
    return Columns(tuple(numbers), COLUMN * reach + width + 0.03 * reach, tall)


def _levelled(side: Sequence[Cut], way: int, pitch: float, tall: float) -> list[tuple[Cut, float]]:
    upwards = sorted(side, key=lambda cut: (_end(cut, way)[1], _end(cut, way)[0]))
    room = tall - pitch / 2
    heights = spread([_end(cut, way)[1] for cut in upwards], pitch, -room, room)
    return list(zip(upwards, heights, strict=True))


def spread(wanted: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """The heights nearest to those wanted, which rise, that lie `pitch` or more apart and between
    `low` and `high`: neighbours that want the same place share it about its middle. There must be
    room for all."""
    groups: list[list[float]] = []  # of each the sum of its places, and how many they are
    for n, height in enumerate(wanted):
        groups.append([height - n * pitch, 1.0])
        while len(groups) > 1 and groups[-2][0] * groups[-1][1] >= groups[-1][0] * groups[-2][1]:
            total, count = groups.pop()
            groups[-1][0] += total
            groups[-1][1] += count
    places = [total / count for total, count in groups for _ in range(int(count))]
    last = high - (len(wanted) - 1) * pitch
    return [min(max(place, low), last) + n * pitch for n, place in enumerate(places)]


def _sides(cuts: Sequence[Cut], reach: float) -> tuple[list[Cut], list[Cut]]:
    """Left and right: where the line to the number runs over no other cut, and is the shorter;
    a full column gives to the other what goes over most easily."""
    cost = {way: [_cost(cut, way, cuts, reach) for cut in cuts] for way in (-1, 1)}
    left = [n for n, _ in enumerate(cuts) if cost[-1][n] <= cost[1][n]]
    right = [n for n, _ in enumerate(cuts) if cost[-1][n] > cost[1][n]]
    for full, other, way in ((left, right, 1), (right, left, -1)):
        while len(full) > max(ROOMY, len(other) + 1):
            moved = min(full, key=cost[way].__getitem__)
            full.remove(moved)
            other.append(moved)
    return [cuts[n] for n in left], [cuts[n] for n in right]


def _cost(cut: Cut, way: int, cuts: Sequence[Cut], reach: float) -> tuple[int, float]:
    x, y = _end(cut, way)
    over = sum(
        other is not cut
        and abs(_end(other, way)[1] - y) < SAME_HEIGHT
        and way * _end(other, way)[0] > way * x
        for other in cuts
    )
    return over, reach - way * x


def _end(cut: Cut, way: int) -> tuple[float, float]:
    """The end at the left (-1) or at the right (1)."""
    ends = sorted([(cut.x0, cut.y0), (cut.x1, cut.y1)])
    return ends[0] if way < 0 else ends[1]


def leading_line(one: Numbered, reach: float) -> str:
    """From a dot on the end of the cut along to the elbow, then to the number's box."""
    (x, y), way = one.end, 1 if one.x > 0 else -1
    edge = one.x - way * one.width / 2
    d = f"M{x:.1f} {-y:.1f}L{way * ELBOW * reach:.1f} {-y:.1f}L{edge:.1f} {-one.y:.1f}"
    line = element(
        "path", d=d, fill="none", stroke=ACCENT, stroke_width=0.9, stroke_dasharray="2 2",
        vector_effect="non-scaling-stroke",
    )  # fmt: skip
    return line + element("circle", cx=x, cy=-y, r=reach * 0.014, fill=ACCENT)


def number_drawn(one: Numbered) -> str:
    left, low, wide, tall = one.box
    box = element(
        "rect", x=left, y=-low - tall, width=wide, height=tall, rx=tall / 2, fill=PAPER,
        stroke=ACCENT, stroke_width=1, vector_effect="non-scaling-stroke",
    )  # fmt: skip
    said = label(
        one.text, one.x, -one.y + one.size * 0.35, font_size=round(one.size, 1), fill=ACCENT
    )
    return element("g", box, said, class_=NUMBER_CLASS)
