"""What is asked and cannot be had, told in plain words before anything is searched."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from restoration.calc.turns_asked import (
    APART,
    BEFORE,
    FIRST,
    OF_TWO,
    PINNED,
    TOGETHER,
    Asked,
    Contradiction,
    listed,
)


def refuse_strange(asked: Asked) -> None:
    """ValueError for a member or a kind of rule that is not there; else Contradiction."""
    out = set(asked.out)
    if len(out) < len(asked.out):
        raise ValueError("A member is named twice among those to be out.")
    if asked.most_out is not None and asked.most_out < 1:
        raise Contradiction(
            [f"Never more than {asked.most_out} out means that nothing is done: at least one."]
        )
    for rule in asked.rules:
        if rule.kind not in (FIRST, PINNED, *OF_TWO):
            raise ValueError(f"There is no rule of the kind {rule.kind!r}.")
        for mark in (rule.one, rule.other) if rule.kind in OF_TWO else (rule.one,):
            if mark not in out:
                raise ValueError(f"{mark or 'A member'} is not among those to be out.")
        if rule.kind in OF_TWO and rule.one == rule.other:
            raise Contradiction([f"{rule.in_words()}: a member cannot stand against itself."])


def refuse_groups(asked: Asked, marks: Sequence[tuple[str, ...]], unit_of: dict[str, int]) -> None:
    """Groups asked together that something else tears apart, and turns that there are not."""
    refused = [
        *_torn_apart(asked, unit_of),
        *_crowded(asked, marks),
        *_turns_that_are_not(asked, len(marks)),
    ]
    if refused:
        raise Contradiction(refused)


def _torn_apart(asked: Asked, unit_of: dict[str, int]) -> Iterator[str]:
    """Asked to be out together, and something else says that they cannot be."""
    for pair in asked.neighbours:
        if pair.one in unit_of and unit_of[pair.one] == unit_of.get(pair.other):
            yield (
                f"{pair.one} and {pair.other} are neighbours ({pair.why}) and are asked to be out "
                f"{_together(asked, pair.one, pair.other)}."
            )
    for rule in asked.rules:
        if rule.kind in (APART, BEFORE) and unit_of[rule.one] == unit_of[rule.other]:
            said = "never out together" if rule.kind == APART else "out one before the other"
            yield (
                f"{rule.one} and {rule.other} are asked to be {said}, and also "
                f"{_together(asked, rule.one, rule.other)}."
            )


def _together(asked: Asked, one: str, other: str) -> str:
    """Whether two were asked together outright, or only each with a third."""
    pairs = {frozenset((r.one, r.other)) for r in asked.rules if r.kind == TOGETHER}
    return "together" if {one, other} in pairs else "together by way of others"


def _crowded(asked: Asked, marks: Sequence[tuple[str, ...]]) -> Iterator[str]:
    for group in marks:
        if asked.most_out is not None and len(group) > asked.most_out:
            yield (
                f"{listed(group)} are asked to be out together, which is {len(group)}; and never "
                f"more than {asked.most_out} are to be out."
            )


def _turns_that_are_not(asked: Asked, most: int) -> Iterator[str]:
    last = asked.first_turn - 1 + most
    for rule in asked.rules:
        if rule.kind != PINNED:
            continue
        if rule.turn is None or rule.turn < 1:
            pinned = f"{rule.one} is pinned to turn {rule.turn}"
            yield f"{pinned}, which there is not: turns count from 1."
        elif rule.turn < asked.first_turn:
            yield (
                f"{rule.one} is pinned to turn {rule.turn}, which is begun; the first still to "
                f"come is turn {asked.first_turn}."
            )
        elif rule.turn > last:
            yield (
                f"{rule.one} is pinned to turn {rule.turn}, which there is not: with what is to be "
                f"out there can be no turn after turn {last}."
            )


def refuse_pins_that_clash(
    asked: Asked,
    marks: Sequence[tuple[str, ...]],
    near: Sequence[int],
    pins: Sequence[int | None],
) -> None:
    """near: bit masks of the units that each unit may not be out with."""
    pinned = [(unit, pin) for unit, pin in enumerate(pins) if pin is not None]
    refused = [
        f"{marks[one][0]} and {marks[other][0]} may not be out together, and both are asked for "
        f"turn {pin + asked.first_turn}."
        for (one, pin), (other, same) in combinations(pinned, 2)
        if pin == same and near[one] >> other & 1
    ]
    for pin in sorted({pin for _, pin in pinned}):
        held = [mark for unit, at in pinned if at == pin for mark in marks[unit]]
        if asked.most_out is not None and len(held) > asked.most_out:
            refused.append(
                f"{listed(held)} are all asked for turn {pin + asked.first_turn}, and never more "
                f"than {asked.most_out} are to be out."
            )
    if refused:
        raise Contradiction(refused)
