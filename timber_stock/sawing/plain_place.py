"""Finding a timber a place: every row beside a neighbour, the best few tried in earnest."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from timber_stock.sawing.plain_mean import keep_mean, ring_mean
from timber_stock.sawing.plain_rows import Frame, Kind, Stock, make_row, pith_between
from timber_stock.sawing.plain_saw import NEVER, sawable, turns
from timber_stock.sawing.plain_spans import Span, subtract
from timber_stock.sawing.plain_state import Block, Chance, Part

TOP = 6  # places tried in earnest for one timber
LEVEL = 0.3  # how often rows level with a neighbour are tried
HAIR = 0.0002  # radians; the limits lie further in than this
MOST_ROWS_KEPT = 4096
MOST_BLOCKS = 255
Window = tuple[tuple[float, float, float], tuple[float, float, float]]


@dataclass(frozen=True)
class Pull:
    """Which way timbers are drawn: 0 along (gx, gy), 1 away from the heart, 2 towards it."""

    mode: int
    gx: float
    gy: float

    def score(self, stock: Stock, frame: Frame, block: Block) -> float:
        x, y = block.lo[0] + 0.5 * block.size[0], block.lo[1] + 0.5 * block.size[1]
        if self.mode == 0:
            return self.gx * x + self.gy * y
        t = (block.lo[2] + 0.5 * block.size[2]) / stock.length
        dx = x - (frame.p[0] + (frame.p[1] - frame.p[0]) * t)
        dy = y - (frame.q[0] + (frame.q[1] - frame.q[0]) * t)
        d = math.sqrt(dx * dx + dy * dy)
        return d if self.mode == 1 else -d


def moved(block: Block, axis: int, to: float) -> Block:
    lo = [*block.lo]
    lo[axis] = to
    return replace(block, lo=(lo[0], lo[1], lo[2]))


class Placer:
    """Places timbers in one bolt after another; counts the rows it looks at."""

    def __init__(self, stock: Stock, chance: Chance) -> None:
        self.stock, self.chance = stock, chance
        self.rows_asked = 0
        self.reach = max(*stock.a, *stock.b)

    def row(self, frame: Frame, block: Block, q: float) -> list[Span]:
        self.rows_asked += 1
        key = (block.kind, block.wide, block.flip, block.lo[2], q)
        found = frame.rows.get(key)
        if found is None:
            if len(frame.rows) > MOST_ROWS_KEPT:
                frame.rows.clear()
            along = block.wide == int(frame.swap)
            kind = self.stock.kinds[block.kind]
            found = make_row(self.stock, frame, kind, along, block.flip, block.lo[2], q)
            frame.rows[key] = found
        return found

    def mean_kept(self, frame: Frame, block: Block, q: float, spans: list[Span]) -> list[Span]:
        kind = self.stock.kinds[block.kind]
        if not spans or not kind.mean_limited:
            return spans
        p = int(frame.swap)
        pith = pith_between(self.stock, frame, block.lo[2], kind.length)
        size = (block.size[p], block.size[1 - p])
        return keep_mean((kind.mean_max, kind.mean_min), pith, q, size, block.wide == p, spans)

    def free_row(
        self, part: Part, swap: int, block: Block, q: float, win: Window | None
    ) -> list[Span]:
        """Free spans of a row, clear of what is placed."""
        frame = part.frames[swap]
        row = self.row(frame, block, q)
        if not row:
            return []
        p, c = swap, 1 - swap
        w, h = block.size[p], block.size[c]
        kerf = self.stock.kerf
        holes = [
            (b.lo[p] - kerf - w, b.lo[p] + b.size[p] + kerf)
            for b in part.blocks
            if not (b.lo[c] >= q + h + kerf - 1e-9 or q >= b.lo[c] + b.size[c] + kerf - 1e-9)
            and self.beside(block, b)
        ]
        found = [piece for span in row for piece in subtract(span, holes, 60)]
        if win is not None:
            found = [s for s in found if s[0] <= win[1][p] and s[1] + w >= win[0][p]]
        return self.mean_kept(frame, block, q, found)

    def beside(self, block: Block, other: Block) -> bool:
        """Whether two blocks meet along the log, the crosscut's kerf counted."""
        z, length, gap = block.lo[2], block.size[2], self.stock.crosscut - 1e-9
        return not (other.lo[2] >= z + length + gap or z >= other.lo[2] + other.size[2] + gap)

    def try_row(
        self,
        part: Part,
        swap: int,
        block: Block,
        q: float,
        win: Window,
        pull: Pull,
        top: list[tuple[float, Block]],
    ) -> None:
        p, c = swap, 1 - swap
        if q > win[1][c] or q + block.size[c] < win[0][c]:
            return
        for low, high in self.free_row(part, swap, block, q, win):
            for at in (low, high):
                if at > win[1][p] or at + block.size[p] < win[0][p]:
                    continue
                choice = moved(moved(block, c, q), p, at)
                _put(top, pull.score(self.stock, part.frames[0], choice), choice)
                if high - low < 1e-9:
                    break

    def try_shape(
        self, part: Part, block: Block, win: Window, pull: Pull, top: list[tuple[float, Block]]
    ) -> None:
        z, length = block.lo[2], block.size[2]
        kind, kerf = self.stock.kinds[block.kind], self.stock.kerf
        for swap in (0, 1):
            c, h = 1 - swap, block.size[1 - swap]

            def look(q: float, swap: int = swap) -> None:
                self.try_row(part, swap, block, q, win, pull, top)

            for b in part.blocks:
                if not self.beside(block, b):
                    continue
                look(b.lo[c] + b.size[c] + kerf)
                look(b.lo[c] - kerf - h)
                if self.chance() < LEVEL:
                    look(b.lo[c])
                    look(b.lo[c] + b.size[c] - h)
            q = part.frames[swap].q
            q0 = q[0] + (q[1] - q[0]) * z / self.stock.length
            q1 = q[0] + (q[1] - q[0]) * (z + length) / self.stock.length
            clear = kind.clear if kind.clear > 0 else 0.0
            look(0.5 * (q0 + q1) - 0.5 * h)
            look(max(q0, q1) + clear)
            look(min(q0, q1) - clear - h)
            low, high = max(win[0][c] - h, -self.reach), min(win[1][c], self.reach)
            look(low + (high - low) * self.chance())

    def slide(self, part: Part, pull: Pull, block: Block) -> Block:
        """Slide a chosen place along each axis in turn, the way it is pulled."""
        for turn in range(4):
            p = turn & 1
            for low, high in self.free_row(part, p, block, block.lo[1 - p], None):
                if block.lo[p] < low - 1e-6 or block.lo[p] > high + 1e-6:
                    continue
                ends = [block, moved(block, p, low), moved(block, p, high)]
                block = max(ends, key=lambda b: pull.score(self.stock, part.frames[0], b))
                break
        return block

    def mean_holds(self, part: Part, block: Block) -> bool:
        """The mean again, by finer steps: rows use few, and the pith may cross an edge."""
        kind = self.stock.kinds[block.kind]
        if not kind.mean_limited:
            return True
        pp, qq = pith_between(self.stock, part.frames[0], block.lo[2], kind.length)
        (x, y, _), (w, h, _) = block.lo, block.size
        mean = ring_mean(pp, qq, x, y, w, h, block.wide == 0, 6)
        if kind.mean_min >= 0 and mean < kind.mean_min - HAIR:
            return False
        return kind.mean_max < 0 or mean <= kind.mean_max + HAIR

    def still_lawful(self, part: Part, block: Block) -> bool:
        frame = part.frames[0]
        for low, high in self.row(frame, block, block.lo[1]):
            if low <= block.lo[0] <= high:
                only = [(block.lo[0], block.lo[0])]
                kept = self.mean_kept(frame, block, block.lo[1], only)
                return bool(kept) and self.mean_holds(part, block)
        return False

    def stations(self, part: Part, kind: Kind) -> list[float]:
        """Where along the bolt to try a timber: its ends, beside another, past the rot."""
        last = max(part.z1 - kind.length - 0.002, part.z0)
        found = [part.z0]
        if last <= part.z0:
            return found
        found.append(last)
        if part.blocks:
            b = part.blocks[self.chance.pick(len(part.blocks))]
            after = self.chance() < 0.5
            z = (
                b.lo[2] + b.size[2] + self.stock.crosscut
                if after
                else b.lo[2] - self.stock.crosscut - kind.length
            )
            if part.z0 < z < last:
                found.append(z)
        if self.stock.rots or self.stock.knots:
            found.append(part.z0 + (last - part.z0) * self.chance())
            if self.stock.rots:
                past = self.stock.rots[self.chance.pick(len(self.stock.rots))][4] + 1e-3
                if part.z0 < past < last:
                    found.append(past)
        return [z for i, z in enumerate(found) if i == 0 or z != found[0]]

    def insert(self, part: Part, index: int, win: Window, pull: Pull) -> bool:
        """Place one more of a kind, if the saw can still free everything."""
        kind = self.stock.kinds[index]
        if len(part.blocks) >= MOST_BLOCKS or part.z1 - kind.length < part.z0 - 1e-9:
            return False
        top: list[tuple[float, Block]] = []
        flips = (False, True) if kind.parts and self.stock.knots else (False,)
        for z in self.stations(part, kind):
            for wide in (0, 1):
                for flip in flips:
                    sizes = [kind.thick, kind.thick]
                    sizes[wide] = kind.width
                    size = (sizes[0], sizes[1], kind.length)
                    block = Block(index, wide, flip, False, (0.0, 0.0, z), size)
                    self.try_shape(part, block, win, pull, top)
        for _, chosen in top:
            for block in (self.slide(part, pull, chosen), chosen):
                if self.may_stand(part, block):
                    part.blocks.append(block)
                    return True
        return False

    def may_stand(self, part: Part, block: Block) -> bool:
        together = [*part.blocks, block]
        if not self.mean_holds(part, block) or not sawable(self.stock, [*together]):
            return False
        most = self.stock.most_turns
        return most >= NEVER or turns(self.stock, together) <= most


def _put(top: list[tuple[float, Block]], score: float, block: Block) -> None:
    """Keep the best few, the earlier first among equals."""
    if len(top) == TOP:
        if score <= top[-1][0]:
            return
        top.pop()
    at = len(top)
    while at > 0 and top[at - 1][0] < score:
        at -= 1
    top.insert(at, (score, block))
