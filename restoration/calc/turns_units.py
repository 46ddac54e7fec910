"""What is asked, made ready to be reckoned with: members asked together become one unit.

Turns are counted from 0 in here.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from restoration.calc.turns_asked import (
    APART,
    BEFORE,
    FIRST,
    PINNED,
    TOGETHER,
    Asked,
    Contradiction,
    Rule,
    listed,
)
from restoration.calc.turns_contradictions import (
    refuse_groups,
    refuse_pins_that_clash,
    refuse_strange,
)


@dataclass(frozen=True)
class Units:
    """Units by number, in hull order. Sets of units are bit masks.

    marks: the members of each. near: with which it may not be out. after, ahead: which must come
    later, which earlier. pins: the turn it is pinned to. earliest: no earlier turn will do.
    tails: so many turns must follow. latest: no later turn will do, where a pin says so.
    most: never more members out.
    """

    marks: tuple[tuple[str, ...], ...]
    near: tuple[int, ...]
    after: tuple[int, ...]
    ahead: tuple[int, ...]
    pins: tuple[int | None, ...]
    earliest: tuple[int, ...]
    tails: tuple[int, ...]
    latest: tuple[int | None, ...]
    most: int | None

    @property
    def weights(self) -> tuple[int, ...]:
        return tuple(len(marks) for marks in self.marks)

    @property
    def any_order(self) -> bool:
        """Whether the turns may change places: nothing says which comes first."""
        return not any(self.after) and all(pin is None for pin in self.pins)

    def __len__(self) -> int:
        return len(self.marks)


def bits(mask: int) -> Iterator[int]:
    """The numbers in a bit mask, from low to high."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def units_of(asked: Asked) -> Units:
    """The units and their windows. Raises `Contradiction` with every reason found, and
    ValueError for a rule about a member that is not to be out or of a kind there is none of."""
    refuse_strange(asked)
    marks, unit_of = _put_together(asked)
    refuse_groups(asked, marks, unit_of)
    near = _near(asked, unit_of, len(marks))
    order = _in_order(asked, unit_of, len(marks))
    pins = _pins(asked, marks, unit_of)
    refuse_pins_that_clash(asked, marks, near, pins)
    return _with_windows(asked, marks, near, order, pins, unit_of)


def _put_together(asked: Asked) -> tuple[tuple[tuple[str, ...], ...], dict[str, int]]:
    head = {mark: mark for mark in asked.out}

    def root(mark: str) -> str:
        while head[mark] != mark:
            mark = head[mark]
        return mark

    place = {mark: number for number, mark in enumerate(asked.out)}
    for rule in asked.rules:
        if rule.kind == TOGETHER:
            one, other = sorted((root(rule.one), root(rule.other)), key=lambda m: place[m])
            head[other] = one
    held: dict[str, list[str]] = {}
    for mark in asked.out:
        held.setdefault(root(mark), []).append(mark)
    marks = tuple(tuple(group) for group in held.values())
    return marks, {mark: number for number, group in enumerate(marks) for mark in group}


def _near(asked: Asked, unit_of: dict[str, int], count: int) -> tuple[int, ...]:
    near = [0] * count
    pairs = [(pair.one, pair.other) for pair in asked.neighbours]
    pairs += [(rule.one, rule.other) for rule in asked.rules if rule.kind == APART]
    for one, other in pairs:
        if one in unit_of and other in unit_of:
            a, b = unit_of[one], unit_of[other]
            near[a] |= 1 << b
            near[b] |= 1 << a
    return tuple(near)


def _in_order(asked: Asked, unit_of: dict[str, int], count: int) -> list[int]:
    """Units so that each comes after those asked before it; refuses what goes in a circle."""
    rules = [rule for rule in asked.rules if rule.kind == BEFORE]
    ahead: list[set[int]] = [set() for _ in range(count)]
    for rule in rules:
        ahead[unit_of[rule.other]].add(unit_of[rule.one])
    left, order = set(range(count)), []
    while ready := sorted(unit for unit in left if not ahead[unit] & left):
        order += ready
        left -= set(ready)
    if left:
        raise Contradiction([_circle(rules, unit_of, ahead, left)])
    return order


def _circle(
    rules: Sequence[Rule], unit_of: dict[str, int], ahead: Sequence[set[int]], left: set[int]
) -> str:
    """Backwards from one that is never free: what comes again closes the circle."""
    walk = [min(left)]
    while walk.count(walk[-1]) < 2:
        walk.append(min(ahead[walk[-1]] & left))
    ring = walk[walk.index(walk[-1]) :][::-1]
    said = []
    for one, other in pairwise(ring):
        rule = next(r for r in rules if (unit_of[r.one], unit_of[r.other]) == (one, other))
        said.append(rule.in_words())
    return f"This goes round in a circle: {listed(said)}. Take one of them away."


def _pins(
    asked: Asked, marks: Sequence[tuple[str, ...]], unit_of: dict[str, int]
) -> tuple[int | None, ...]:
    pins: list[int | None] = [None] * len(marks)
    by: dict[int, Rule] = {}
    refused = []
    for rule in asked.rules:
        if rule.kind not in (FIRST, PINNED):
            continue
        unit, turn = unit_of[rule.one], (rule.turn or 0) - asked.first_turn
        turn = 0 if rule.kind == FIRST else turn
        if unit in by and pins[unit] != turn:
            told = " (they are asked together)" if by[unit].one != rule.one else ""
            refused.append(f"{by[unit].in_words()} and {rule.in_words()}{told}: not both can be.")
        pins[unit] = turn
        by.setdefault(unit, rule)
    if refused:
        raise Contradiction(refused)
    return tuple(pins)


def _with_windows(
    asked: Asked,
    marks: tuple[tuple[str, ...], ...],
    near: tuple[int, ...],
    order: Sequence[int],
    pins: tuple[int | None, ...],
    unit_of: dict[str, int],
) -> Units:
    count = len(marks)
    after, ahead = [0] * count, [0] * count
    for rule in asked.rules:
        if rule.kind == BEFORE:
            one, other = unit_of[rule.one], unit_of[rule.other]
            after[one] |= 1 << other
            ahead[other] |= 1 << one
    earliest = _earliest(asked, marks, order, ahead, pins)
    tails, latest = [0] * count, list(pins)
    for unit in reversed(order):
        tails[unit] = max((tails[other] + 1 for other in bits(after[unit])), default=0)
        ends = [end - 1 for other in bits(after[unit]) if (end := latest[other]) is not None]
        own = latest[unit]
        latest[unit] = min([*ends, *([] if own is None else [own])], default=None)
    return Units(
        marks, near, tuple(after), tuple(ahead), pins, earliest, tuple(tails), tuple(latest),
        asked.most_out,
    )  # fmt: skip


def _earliest(
    asked: Asked,
    marks: Sequence[tuple[str, ...]],
    order: Iterable[int],
    ahead: Sequence[int],
    pins: Sequence[int | None],
) -> tuple[int, ...]:
    earliest = [0] * len(marks)
    for unit in order:
        least = max((earliest[other] + 1 for other in bits(ahead[unit])), default=0)
        pin = pins[unit]
        if pin is not None and pin < least:
            last = max(bits(ahead[unit]), key=lambda other: earliest[other])
            raise Contradiction(
                [
                    f"{marks[unit][0]} is asked for turn {pin + asked.first_turn}, but "
                    f"{marks[last][0]} is asked before it and is not back before then: turn "
                    f"{least + asked.first_turn} at the earliest."
                ]
            )
        earliest[unit] = least if pin is None else pin
    return tuple(earliest)
