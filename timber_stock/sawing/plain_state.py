"""The state of the plain search: bolts with their frames, blocks placed, what is wanted."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from timber_stock.sawing.plain_rows import Frame, Stock

WHOLE = 1 << 64
EVERYWHERE = ((-1e9, -1e9, -1e9), (1e9, 1e9, 1e9))


@dataclass(frozen=True)
class Block:
    """A timber in its place; `wide` is the axis its wide face lies along."""

    kind: int
    wide: int
    flip: bool
    pinned: bool
    lo: tuple[float, float, float]
    size: tuple[float, float, float]


@dataclass
class Part:
    """A bolt under search."""

    z0: float
    z1: float
    roll: float
    faces: tuple[float, float, float, float]
    settled: bool
    frames: tuple[Frame, Frame]
    blocks: list[Block] = field(default_factory=list)

    def copy(self) -> Part:
        return Part(
            self.z0, self.z1, self.roll, self.faces, self.settled, self.frames, [*self.blocks]
        )


@dataclass
class State:
    parts: list[Part]
    left: list[int]
    value: float = 0.0

    def copy(self) -> State:
        return State([part.copy() for part in self.parts], [*self.left], self.value)


class Chance:
    """A small counter-based generator (splitmix64), the same in the compiled kernel."""

    def __init__(self, seed: int) -> None:
        self.at = seed % WHOLE

    def __call__(self) -> float:
        self.at = (self.at + 0x9E3779B97F4A7C15) % WHOLE
        z = self.at
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) % WHOLE
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) % WHOLE
        z ^= z >> 31
        return float(z >> 11) * 2.0**-53

    def pick(self, count: int) -> int:
        return min(int(self() * count), count - 1)


def frames(
    stock: Stock, roll: float, faces: tuple[float, float, float, float]
) -> tuple[Frame, Frame]:
    """The log seen along the saw's x, and along its y, at a roll."""
    turn = roll * math.pi / 180
    c, s = math.cos(turn), math.sin(turn)
    return _frame(stock, roll, c, s, faces, False), _frame(stock, roll, c, s, faces, True)


def _frame(
    stock: Stock,
    roll: float,
    c: float,
    s: float,
    faces: tuple[float, float, float, float],
    swap: bool,
) -> Frame:
    x0, y0, x1, y1 = stock.pith
    xs, ys = (c * x0 - s * y0, c * x1 - s * y1), (s * x0 + c * y0, s * x1 + c * y1)
    limit = (faces[2], faces[3], faces[0], faces[1]) if swap else faces
    p, q = (ys, xs) if swap else (xs, ys)
    frame = Frame(swap, c * c, s * s, c * s, p, q, limit)
    for rx, ry, radius, start, end in stock.rots:
        x, y = c * rx - s * ry, s * rx + c * ry
        frame.rots.append((y, x, radius, start, end) if swap else (x, y, radius, start, end))
    reach = 2 * (stock.a[0] + stock.b[0] + stock.a[1] + stock.b[1]) * 0.5
    for z, clock, half, grown in stock.knots:
        t, angle = z / stock.length, (clock + roll) * math.pi / 180
        at = (p[0] + (p[1] - p[0]) * t, q[0] + (q[1] - q[0]) * t)
        dx, dy = math.cos(angle), math.sin(angle)
        out = (dy, dx) if swap else (dx, dy)
        frame.knots.append((*at, *out, z, math.sin(half * math.pi / 180), reach, grown))
    return frame
