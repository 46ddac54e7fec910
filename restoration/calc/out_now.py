"""Which members are not to come out now, because of those that are out.

A member is *out* from the day it is taken out of the hull until its replacement is fastened. It is
known to be out where that is recorded, where a new piece stands loose in its place (dry fitted or
fitted), or where its turn in the order of work is begun and not done. While it is out its
neighbours hold the hull (rule of `turns_neighbours`).
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from restoration.calc.turns_asked import BEFORE, TOGETHER, Asked


@dataclass(frozen=True)
class Hold:
    """Why a member is not to come out: `by` is the mark of who stands in its way, "" where it is
    their number."""

    by: str
    why: str


def holds(
    mark: str,
    out: Collection[str],
    not_back: Collection[str],
    asked: Asked,
    turn_of: Mapping[str, int],
) -> tuple[Hold, ...]:
    """What stands against taking this member out now; nothing where it is out already.

    out: marks of those that are out. not_back: of those that are still to come out, or out.
    turn_of: the turn of each that has one. Two that are of one turn, or asked together, do not
    hold each other back: somebody decided that.
    """
    if mark in out:
        return ()
    return (
        *neighbours_out(mark, out, asked, turn_of),
        *_asked_before(mark, not_back, asked),
        *_enough_out(out, asked),
    )


def neighbours_out(
    mark: str, out: Collection[str], asked: Asked, turn_of: Mapping[str, int]
) -> Iterator[Hold]:
    """Neighbours that are out and of no turn with it, whether it is out itself or not."""
    together = {frozenset((rule.one, rule.other)) for rule in asked.rules if rule.kind == TOGETHER}
    for pair in asked.neighbours:
        if mark not in (pair.one, pair.other):
            continue
        other = pair.other if mark == pair.one else pair.one
        turn = turn_of.get(mark)
        same = turn is not None and turn == turn_of.get(other)
        if other in out and not same and frozenset((mark, other)) not in together:
            yield Hold(other, f"it is out, and a neighbour: {pair.why}")


def _asked_before(mark: str, not_back: Collection[str], asked: Asked) -> Iterator[Hold]:
    for rule in asked.rules:
        if rule.kind == BEFORE and rule.other == mark and rule.one in not_back:
            yield Hold(rule.one, "the order of work asks for it first")


def _enough_out(out: Collection[str], asked: Asked) -> Iterator[Hold]:
    if asked.most_out is not None and len(out) >= asked.most_out:
        are = "is" if len(out) == 1 else "are"
        yield Hold(
            "", f"{len(out)} {are} out, and never more than {asked.most_out} are to be out at once"
        )
