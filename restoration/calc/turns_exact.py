"""Whether an order with so many turns exists: an exact search, as far as its budget reaches.

Branch and bound in the form usual for colouring: always on with the member that has the fewest
turns left to it (ties: most neighbours), each of its turns in order, and back as soon as some
member has none left. Turns that are still empty are alike unless something fixes their order;
then only the first of them is tried. The budget is counted in steps, not seconds, so that the
same question has the same answer on every machine.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.turns_units import Units, bits

BUDGET = 1_200_000
"""Steps times units: about a second on a slow machine, less on most."""
MOST_UNITS = 400


@dataclass(frozen=True)
class Answer:
    """turns: the turn of each unit, counted from 0, or None. decided: whether None means no."""

    turns: tuple[int, ...] | None
    decided: bool


class _Spent(Exception):
    """The budget is used up."""


def within(units: Units, count: int, budget: int = BUDGET) -> Answer:
    """An order of `count` turns, or none; undecided where the budget ran out first."""
    if not len(units):
        return Answer((), True)
    if len(units) > MOST_UNITS:
        return Answer(None, False)
    domains = [_window(units, unit, count) for unit in range(len(units))]
    if not all(domains):
        return Answer(None, True)
    search = _Search(units, count, budget)
    try:
        return Answer(search.run(domains), True)
    except _Spent:
        return Answer(None, False)


def _window(units: Units, unit: int, count: int) -> int:
    """The turns that a unit may take, as bits."""
    if (pin := units.pins[unit]) is not None:
        return 1 << pin if pin < count else 0
    last, end = count - 1 - units.tails[unit], units.latest[unit]
    last = last if end is None else min(last, end)
    return sum(1 << turn for turn in range(units.earliest[unit], last + 1))


class _Search:
    def __init__(self, units: Units, count: int, budget: int):
        self.units, self.count, self.left = units, count, budget
        self.turns: list[int | None] = [None] * len(units)
        self.used = [0] * count

    def run(self, domains: list[int]) -> tuple[int, ...] | None:
        self.left -= len(self.turns)
        if self.left < 0:
            raise _Spent
        open_units = [unit for unit, turn in enumerate(self.turns) if turn is None]
        if not open_units:
            return tuple(turn for turn in self.turns if turn is not None)
        unit = min(open_units, key=lambda each: self._hardness(domains, each))
        for turn in self._to_try(domains[unit]):
            narrowed = self._narrowed(domains, unit, turn)
            if narrowed is None:
                continue
            self._put(unit, turn, 1)
            if found := self.run(narrowed):
                return found
            self._put(unit, turn, -1)
        return None

    def _hardness(self, domains: Sequence[int], unit: int) -> tuple[int, int, int]:
        return domains[unit].bit_count(), -self.units.near[unit].bit_count(), unit

    def _put(self, unit: int, turn: int, way: int) -> None:
        self.turns[unit] = turn if way > 0 else None
        self.used[turn] += way * self.units.weights[unit]

    def _to_try(self, domain: int) -> list[int]:
        found, an_empty_one = [], False
        for turn in bits(domain):
            if self.units.any_order and not self.used[turn]:
                if an_empty_one:
                    continue
                an_empty_one = True
            found.append(turn)
        return found

    def _narrowed(self, domains: list[int], unit: int, turn: int) -> list[int] | None:
        """The turns left to the others once this unit has its turn; None where one has none."""
        units, most = self.units, self.units.most
        found = list(domains)
        found[unit] = 1 << turn
        room = None if most is None else most - self.used[turn] - units.weights[unit]
        for other, now in enumerate(self.turns):
            if now is not None or other == unit:
                continue
            if units.near[unit] >> other & 1 or (room is not None and units.weights[other] > room):
                found[other] &= ~(1 << turn)
            if units.after[unit] >> other & 1:
                found[other] &= -1 << (turn + 1)
            if units.ahead[unit] >> other & 1:
                found[other] &= (1 << turn) - 1
            if not found[other]:
                return None
        return found
