"""A good order quickly, for hulls too large to search through: greedy, then improved.

`greedy` puts each member into the first turn that takes it, those with least choice first.
`settle` brings all members into a given number of turns: whatever is left over is put in where
it drives out least, and what it drove out must find another place; a place just left is closed
to it for a while (tabu search over partial colourings). The same seed gives the same order.
"""

import random
from collections.abc import Sequence

from restoration.calc.turns_units import Units, bits

STEPS = 1500
SEED = 7


class Board:
    """Units in turns, some perhaps in none yet."""

    def __init__(self, units: Units, count: int):
        self.units = units
        self.turn_of: list[int | None] = [None] * len(units)
        self.held = [0] * count
        self.used = [0] * count

    @property
    def left_over(self) -> list[int]:
        return [unit for unit, turn in enumerate(self.turn_of) if turn is None]

    def put(self, unit: int, turn: int) -> None:
        self.turn_of[unit] = turn
        self.held[turn] |= 1 << unit
        self.used[turn] += self.units.weights[unit]

    def take(self, unit: int) -> None:
        turn = self.turn_of[unit]
        assert turn is not None
        self.turn_of[unit] = None
        self.held[turn] &= ~(1 << unit)
        self.used[turn] -= self.units.weights[unit]

    def window(self, unit: int) -> range:
        units, pin = self.units, self.units.pins[unit]
        if pin is not None:
            return range(pin, min(pin + 1, len(self.held)))
        last, end = len(self.held) - 1 - units.tails[unit], units.latest[unit]
        return range(units.earliest[unit], (last if end is None else min(last, end)) + 1)

    def in_the_way(self, unit: int, turn: int) -> int:
        """The units that may not stay where they are if this one comes into the turn."""
        units = self.units
        found = units.near[unit] & self.held[turn]
        for other in bits(units.after[unit]):
            at = self.turn_of[other]
            found |= (1 << other) if at is not None and at <= turn else 0
        for other in bits(units.ahead[unit]):
            at = self.turn_of[other]
            found |= (1 << other) if at is not None and at >= turn else 0
        return found | self._too_many(unit, turn, found)

    def _too_many(self, unit: int, turn: int, going: int) -> int:
        """Those of the turn that must go for room besides, the last in hull order first."""
        units, found = self.units, 0
        if units.most is None:
            return 0
        over = self.used[turn] + units.weights[unit] - units.most
        over -= sum(units.weights[each] for each in bits(going & self.held[turn]))
        for other in reversed(list(bits(self.held[turn] & ~going))):
            if over <= 0:
                break
            if units.pins[other] is None:
                found |= 1 << other
                over -= units.weights[other]
        return found if over <= 0 else self.held[turn]


def greedy(units: Units) -> Board:
    """Every unit into the first turn that takes it; some may be left over where pins are tight."""
    board = Board(units, _enough(units))
    for unit, pin in enumerate(units.pins):
        if pin is not None:
            board.put(unit, pin)
    waiting = set(board.left_over)
    seen = [0] * len(units)
    while waiting:
        ready = [each for each in waiting if not any(o in waiting for o in bits(units.ahead[each]))]
        unit = min(ready, key=lambda each: _urgency(units, seen, each))
        waiting.discard(unit)
        turn = next((t for t in board.window(unit) if not board.in_the_way(unit, t)), None)
        if turn is None:
            continue
        board.put(unit, turn)
        for other in bits(units.near[unit]):
            seen[other] |= 1 << turn
    return board


def _enough(units: Units) -> int:
    """So many turns are more than enough: one for each unit after all that is fixed."""
    fixed = max((start + tail for start, tail in zip(units.earliest, units.tails, strict=True)),
                default=0)  # fmt: skip
    return len(units) + fixed + 1


def _urgency(units: Units, seen: Sequence[int], unit: int) -> tuple[float, int, int, int, int]:
    end = units.latest[unit]
    return (
        len(units) * 2 if end is None else end,
        -units.tails[unit],
        -seen[unit].bit_count(),
        -units.near[unit].bit_count(),
        unit,
    )


def settle(
    units: Units, count: int, start: Sequence[int | None] = (), steps: int = STEPS
) -> tuple[int, ...] | None:
    """All units in `count` turns, from where `start` has them; None where it did not come out."""
    board = Board(units, count)
    for unit, turn in enumerate(start):
        if turn is not None and turn in board.window(unit) and not board.in_the_way(unit, turn):
            board.put(unit, turn)
    chance, closed = random.Random(SEED), dict[tuple[int, int], int]()
    for step in range(steps):
        left = board.left_over
        if not left:
            return tuple(turn for turn in board.turn_of if turn is not None)
        unit = min(left, key=lambda each: (len(board.window(each)), chance.random()))
        _put_in(board, unit, step, chance, closed)
    return None


def _put_in(
    board: Board, unit: int, step: int, chance: random.Random, closed: dict[tuple[int, int], int]
) -> None:
    """Where it drives out least; what is pinned is never driven out."""
    pinned = sum(1 << each for each, pin in enumerate(board.units.pins) if pin is not None)
    choice = []
    for turn in board.window(unit):
        going = board.in_the_way(unit, turn)
        if going & pinned:
            continue
        waits = closed.get((unit, turn), 0) > step
        choice.append((waits, going.bit_count(), chance.random(), turn, going))
    if not choice:
        return
    _, _, _, turn, going = min(choice)
    for other in bits(going):
        closed[other, board.turn_of[other] or 0] = step + 5 + chance.randrange(10)
        board.take(other)
    board.put(unit, turn)
