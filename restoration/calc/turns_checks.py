"""An order as it stands, held against what is asked: after members were moved by hand."""

from collections.abc import Iterator, Sequence

from restoration.calc.turns_asked import APART, BEFORE, FIRST, PINNED, TOGETHER, Asked, Rule

Turns = Sequence[Sequence[str]]


def in_the_way(asked: Asked, turns: Turns, mark: str, to: int) -> tuple[str, ...]:
    """Why a member should not go to turn `to` (counted from 1): a sentence for each reason.

    What breaks anywhere else in the order is not told.
    """
    moved = [[each for each in turn if each != mark] for turn in turns]
    moved += [[] for _ in range(to - len(moved))]
    moved[to - 1] = [*moved[to - 1], mark]
    others = _turn_of(moved)
    rules = [rule for rule in asked.rules if mark in (rule.one, rule.other)]
    return (
        *_neighbours_out(asked, others, mark),
        *(said for rule in rules for said in _broken(asked, others, rule)),
        *_too_many(asked, moved, to),
    )


def breaches(asked: Asked, turns: Turns) -> tuple[str, ...]:
    """Everything in the order that is not as asked, each once."""
    turn_of = _turn_of(turns)
    told = [said for mark in asked.out for said in _neighbours_out(asked, turn_of, mark, True)]
    told += [said for rule in asked.rules for said in _broken(asked, turn_of, rule)]
    told += [said for n in range(1, len(turns) + 1) for said in _too_many(asked, turns, n)]
    return tuple(told)


def _turn_of(turns: Turns) -> dict[str, int]:
    return {mark: number for number, turn in enumerate(turns, 1) for mark in turn}


def _neighbours_out(
    asked: Asked, turn_of: dict[str, int], mark: str, first_only: bool = False
) -> Iterator[str]:
    for pair in asked.neighbours:
        if mark not in (pair.one, pair.other) or (first_only and mark != pair.one):
            continue
        other = pair.other if mark == pair.one else pair.one
        if mark in turn_of and turn_of.get(other) == turn_of[mark]:
            turn = turn_of[mark]
            yield f"{other} is out in turn {turn}, and is a neighbour of {mark}: {pair.why}."


def _broken(asked: Asked, turn_of: dict[str, int], rule: Rule) -> Iterator[str]:
    one, other = turn_of.get(rule.one), turn_of.get(rule.other)
    if rule.kind == PINNED and one is not None and one != rule.turn:
        yield f"{rule.one} is pinned to turn {rule.turn} and is in turn {one}."
    if rule.kind == FIRST and one is not None and one > asked.first_turn:
        yield f"{rule.one} is asked first and is in turn {one}."
    if one is None or other is None:
        return
    if rule.kind == BEFORE and one >= other:
        yield (
            f"{rule.one} is asked before {rule.other}, and is in turn {one}, {rule.other} in turn "
            f"{other}."
        )
    if rule.kind == TOGETHER and one != other:
        yield f"{rule.one} (turn {one}) and {rule.other} (turn {other}) are asked together."
    if rule.kind == APART and one == other:
        yield f"{rule.one} and {rule.other} are never to be out together; both are in turn {one}."


def _too_many(asked: Asked, turns: Turns, number: int) -> Iterator[str]:
    out = len(turns[number - 1])
    if asked.most_out is not None and out > asked.most_out:
        yield f"{out} out in turn {number}, and never more than {asked.most_out} are to be."
