"""The search without a compiler: ruin a part of a layout, build it again, keep what is better.

Step for step and number for number the same as the compiled kernel, and many times slower.
"""

from __future__ import annotations

import math

from timber_stock.sawing.layout import Bolt, Layout, Placed
from timber_stock.sawing.plain_place import Placer, Pull, Window
from timber_stock.sawing.plain_rows import Stock
from timber_stock.sawing.plain_saw import turns
from timber_stock.sawing.plain_spans import gap_to
from timber_stock.sawing.plain_state import EVERYWHERE, Block, Chance, Part, State, frames

MOST_KINDS = 24
MOST_ROWS = 30000  # looked at in one filling of a bolt
REROLL = 0.25  # how often a step begins by rolling the log
ROOM = 10.0  # mm about what was taken out where new timbers must lie
ROWS_PER_STEP = 1000
STEP_ROWS = 20  # counted for each round besides its rows


class PlainSearch:
    """One search under way in plain Python."""

    def __init__(self, stock: Stock) -> None:
        self.stock = stock
        self.chance = Chance(0)
        self.placer = Placer(stock, self.chance)
        self.current = self.finest = State([], [])

    def begin(self, bolts: Layout, seed: int) -> None:
        self.chance.at = seed
        self.bolts = bolts
        left = [kind.quantity for kind in self.stock.kinds]
        parts = []
        for bolt in bolts:
            seen = frames(self.stock, bolt.roll_deg, bolt.faces)
            span = (bolt.from_mm, bolt.to_mm)
            part = Part(*span, bolt.roll_deg, bolt.faces, bolt.keeps_roll, seen)
            for placed in bolt.timbers:
                part.blocks.append(_block(self.stock, placed))
                left[placed.line] -= 1
            parts.append(part)
        self.current = State(parts, left)
        for part in parts:
            self._refill(self.current, part, EVERYWHERE, 0.3)
        self.current.value = self._value(self.current)
        self.finest = self.current.copy()

    def run(self, steps: float, heat: float, goal: float = math.inf) -> float:
        target = self.placer.rows_asked + int(steps * ROWS_PER_STEP)
        while self.placer.rows_asked < target and self.finest.value < goal:
            self.placer.rows_asked += STEP_ROWS
            self._step(heat)
        return self.finest.value

    def best(self) -> Layout:
        return tuple(
            Bolt(
                bolt.from_mm,
                bolt.to_mm,
                round(part.roll, 2),
                tuple(_placed(block) for block in part.blocks),
                bolt.faces,
                bolt.roll_settled,
            )
            for bolt, part in zip(self.bolts, self.finest.parts, strict=True)
        )

    def _step(self, heat: float) -> None:
        chance, trial = self.chance, self.current.copy()
        index = chance.pick(len(trial.parts))
        part = trial.parts[index]
        window = None
        u = chance()
        if u < REROLL and not part.settled:
            self._reroll(trial, part)
            window = EVERYWHERE
        if part.blocks and (u >= REROLL or chance() < 0.5):
            taken = self._ruin(trial, part)
            window = window or taken
        if not part.blocks or chance() < 0.1 or window is None:
            window = EVERYWHERE
        self._refill(trial, part, window, 0.3 if chance() < 0.5 else 1.0)
        for other, spare in enumerate(trial.parts):
            if other != index and chance() < 0.15:
                self._refill(trial, spare, EVERYWHERE, 0.5)
        trial.value = self._value(trial)
        if trial.value >= self.current.value - heat * self.finest.value * chance():
            self.current = trial
            if trial.value > self.finest.value:
                self.finest = trial.copy()

    def _reroll(self, state: State, part: Part) -> None:
        step = self.chance()
        size = 0.5 if step < 0.4 else 2.5 if step < 0.8 else 12.0
        roll = part.roll + math.floor((2 * self.chance() - 1) * size * 20 + 0.5) / 20
        roll = roll + 180 if roll < 0 else roll
        roll = roll - 180 if roll >= 180 else roll
        part.roll, part.frames = roll, frames(self.stock, roll, part.faces)
        for i in reversed(range(len(part.blocks))):
            if not self.placer.still_lawful(part, part.blocks[i]):
                state.left[part.blocks.pop(i).kind] += 1

    def _ruin(self, state: State, part: Part) -> Window:
        """Take out a few timbers lying near one another; the window they leave."""
        chance = self.chance
        most = 1 + chance.pick(min(len(part.blocks), 6))
        at = part.blocks[chance.pick(len(part.blocks))]
        centre = [low + 0.5 * size for low, size in zip(at.lo, at.size, strict=True)]
        low, high = [1e9] * 3, [-1e9] * 3
        for _ in range(most):
            near = self._nearest(part, centre)
            if near is None:
                break
            block = part.blocks.pop(near)
            state.left[block.kind] += 1
            for a in range(3):
                low[a] = min(low[a], block.lo[a] - ROOM)
                high[a] = max(high[a], block.lo[a] + block.size[a] + ROOM)
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def _nearest(self, part: Part, centre: list[float]) -> int | None:
        near, least = None, math.inf
        for i, block in enumerate(part.blocks):
            if block.pinned:
                continue
            d = 0.0
            for a in range(3):
                g = gap_to(centre[a], block.lo[a], block.lo[a] + block.size[a])
                d += g * g
            d *= 0.5 + self.chance()
            if d < least:
                least, near = d, i
        return near

    def _refill(self, state: State, part: Part, window: Window, wild: float) -> None:
        order = self._order(state, wild)
        pull = self._pull()
        enough = self.placer.rows_asked + MOST_ROWS
        for index in order:
            while state.left[index] > 0 and self.placer.rows_asked < enough:
                use = pull
                if self.chance() < 0.15:
                    turn = 2 * math.pi * self.chance()
                    use = Pull(0, math.cos(turn), math.sin(turn))
                if not self.placer.insert(part, index, window, use):
                    break
                state.left[index] -= 1

    def _order(self, state: State, wild: float) -> list[int]:
        """The kinds still wanted, the worthier sooner, shaken by chance."""
        keys = []
        for index, kind in enumerate(self.stock.kinds):
            if state.left[index] <= 0:
                continue
            u, power = self.chance(), self.chance()
            base = math.log(kind.worth + 1e-9)
            if power < 0.3:
                base -= 0.5 * math.log(kind.length * kind.width * kind.thick)
                base *= 1.5
            keys.append((base - wild * math.log(-math.log(u * 0.999998 + 1e-6)), index))
        keys.sort(key=lambda pair: -pair[0])
        return [index for _, index in keys[:MOST_KINDS]]

    def _pull(self) -> Pull:
        chance = self.chance
        fixed = chance() < 0.5
        turn = 2 * math.pi * chance()
        gx, gy = math.cos(turn), math.sin(turn)
        if chance() < 0.5:
            gx = -1.0 if chance() < 0.5 else 1.0
            gy = -0.1 if chance() < 0.5 else 0.1
            if chance() < 0.5:
                gx, gy = gy, gx
        mode = 0 if fixed else 1 if chance() < 0.6 else 2
        return Pull(mode, gx, gy)

    def _value(self, state: State) -> float:
        value = 0.0
        for part in state.parts:
            for block in part.blocks:
                value += self.stock.kinds[block.kind].worth
            if self.stock.turn_cost > 0:
                value -= self.stock.turn_cost * turns(self.stock, part.blocks)
        return value


def _block(stock: Stock, placed: Placed) -> Block:
    kind = stock.kinds[placed.line]
    sizes = (kind.width, kind.thick) if placed.wide_x else (kind.thick, kind.width)
    lo = (placed.x_mm, placed.y_mm, placed.from_mm)
    wide = 0 if placed.wide_x else 1
    return Block(placed.line, wide, placed.flipped, placed.pinned, lo, (*sizes, kind.length))


def _placed(block: Block) -> Placed:
    x, y, z = (round(value, 3) for value in block.lo)
    return Placed(block.kind, x, y, z, block.wide == 0, block.flip, block.pinned)
