"""What an order of work is asked to be, and what is proposed: plain facts, no reckoning.

A *turn* is one stage of the work: its members are out of the hull at once, and no two of them
may be neighbours. Members are told apart by their marks, which are once a vessel.
"""

from collections.abc import Iterable
from dataclasses import dataclass

FIRST, BEFORE, TOGETHER, APART, PINNED = "first", "before", "together", "apart", "pinned"
OF_TWO = (BEFORE, TOGETHER, APART)


class Contradiction(ValueError):
    """What is asked cannot be had: one sentence for each reason."""

    def __init__(self, sentences: Iterable[str]):
        self.sentences = tuple(sentences)
        super().__init__(" ".join(self.sentences))


@dataclass(frozen=True)
class Neighbours:
    """Two members of which one must hold the hull while the other is out; `why` in words."""

    one: str
    other: str
    why: str


@dataclass(frozen=True)
class Rule:
    """Something the shipwright fixes about the order.

    kind: `first` (one is out in the first turn still to come), `before` (one is back before
    other is out), `together` (both in one turn), `apart` (never in one turn), `pinned` (one is
    out in the turn of this number, counted from 1).
    """

    kind: str
    one: str
    other: str = ""
    turn: int | None = None

    def in_words(self) -> str:
        if self.kind == FIRST:
            return f"{self.one} first"
        if self.kind == PINNED:
            return f"{self.one} in turn {self.turn}"
        said = {BEFORE: "before", TOGETHER: "together with", APART: "never together with"}
        return f"{self.one} {said[self.kind]} {self.other}"


@dataclass(frozen=True)
class Asked:
    """Which members are to be out, and all that stands between them.

    out: marks, in the order in which one walks the hull. most_out: never more than so many out
    at once; None where there is no limit. first_turn: the number of the first turn to propose,
    above 1 where turns before it are begun already.
    """

    out: tuple[str, ...]
    neighbours: tuple[Neighbours, ...] = ()
    rules: tuple[Rule, ...] = ()
    most_out: int | None = None
    first_turn: int = 1


@dataclass(frozen=True)
class Bound:
    """No order has fewer turns than this, and why not, in words."""

    turns: int
    why: str


@dataclass(frozen=True)
class Proposal:
    """Turns in their order, each the marks of its members; `proven` where no order has fewer.

    A turn may be empty only where a member is pinned to a later one and nothing can fill it.
    """

    turns: tuple[tuple[str, ...], ...]
    bound: Bound
    proven: bool

    def fewest(self) -> Bound:
        """The most that is known against fewer turns: by reckoning, or by having tried them all."""
        count = len(self.turns)
        if not self.proven or count <= self.bound.turns:
            return self.bound
        less = count - 1
        tried = f"every order of {less} turn{'s' * (less > 1)} was tried, and none keeps what is "
        return Bound(count, f"{tried}asked. By reckoning alone: {self.bound.why}")

    def turn_of(self) -> dict[str, int]:
        """The turn of each member, counted from 0."""
        return {mark: number for number, turn in enumerate(self.turns) for mark in turn}


def listed(marks: Iterable[str]) -> str:
    """`F1, F2 and F3`."""
    *most, last = marks
    return f"{', '.join(most)} and {last}" if most else last
