"""An order of work: the fewest turns in which no two neighbours are out at once.

It is the colouring of a graph (members as points, neighbours as edges, turns as colours) with
what the shipwright fixes besides: orders, groups, pins and how many may be out. A lower bound
says what no order can beat; a greedy order, improved, says what can be had; where the two
differ an exact search tries to close the gap, from below and from above, within its budget.
Pure, and the same question always has the same answer.
"""

from restoration.calc.turns_asked import Asked, Bound, Contradiction, Proposal, listed
from restoration.calc.turns_bound import lower_bound
from restoration.calc.turns_exact import BUDGET, within
from restoration.calc.turns_level import levelled
from restoration.calc.turns_search import greedy, settle
from restoration.calc.turns_units import Units, units_of


def propose(asked: Asked, budget: int = BUDGET) -> Proposal:
    """The fewest turns found, and whether no order has fewer.

    budget: how long the exact search may go on, in its own steps. Raises `Contradiction` with
    sentences where what is asked cannot be had, ValueError where it names no such member.
    """
    units = units_of(asked)
    bound = lower_bound(units)
    found, count, proven = _fewest(units, bound, budget)
    turns = levelled(units, found, count)
    told = tuple(
        tuple(mark for unit, turn in enumerate(turns) if turn == number
              for mark in units.marks[unit])
        for number in range(count)
    )  # fmt: skip
    place = {mark: number for number, mark in enumerate(asked.out)}
    in_order = [tuple(sorted(turn, key=place.__getitem__)) for turn in told]
    if units.any_order:
        in_order = sorted(filter(None, in_order), key=lambda turn: place[turn[0]])
    return Proposal(tuple(in_order), bound, proven)


def _fewest(units: Units, bound: Bound, budget: int) -> tuple[tuple[int, ...], int, bool]:
    """Turns of the units, how many turns, and whether that is proven the fewest."""
    found, left = _first(units, bound, budget)
    count = _count(units, found)
    while count > bound.turns:
        if fewer := settle(units, count - 1, found):
            found, count = fewer, _count(units, fewer)
            continue
        answer = within(units, count - 1, left)
        if answer.turns is None:
            return found, count, answer.decided
        found, count = answer.turns, _count(units, answer.turns)
    return found, count, True


def _first(units: Units, bound: Bound, budget: int) -> tuple[tuple[int, ...], int]:
    """An order of however many turns. Where pins leave no room the exact search must say so."""
    board = greedy(units)
    if not board.left_over:
        return tuple(turn for turn in board.turn_of if turn is not None), budget
    count = max(bound.turns, _count(units, [turn for turn in board.turn_of if turn is not None]))
    for extra in range(3):
        if found := settle(units, count + extra, board.turn_of):
            return found, budget
    _refuse_if_impossible(units, budget)
    most = len(board.held)
    if found := settle(units, most, board.turn_of) or within(units, most, budget).turns:
        return found, budget
    raise Contradiction(["No order was found in which all that is fixed holds; fix less of it."])


def _refuse_if_impossible(units: Units, budget: int) -> None:
    """Only members with a last turn can be in one another's way for good: they alone are tried."""
    tight = [unit for unit, end in enumerate(units.latest) if end is not None]
    answer = within(_only(units, tight), max(units.latest[u] or 0 for u in tight) + 1, budget)
    if answer.turns is None and answer.decided:
        raise Contradiction([_no_room(units, tight)])


def _no_room(units: Units, tight: list[int]) -> str:
    pinned = [units.marks[unit][0] for unit in tight if units.pins[unit] is not None]
    others = [units.marks[unit][0] for unit in tight if units.pins[unit] is None]
    turns = "have the turn asked" if len(pinned) == 1 else "all have the turns asked"
    told = f", with {listed(others)} before" if others else ""
    return (
        f"{listed(pinned)} cannot {turns} for{told}: there is no room for it. Pin a later turn, "
        "or let more be out at once."
    )


def _only(units: Units, kept: list[int]) -> Units:
    place = {unit: number for number, unit in enumerate(kept)}

    def fewer(mask: int) -> int:
        return sum(1 << place[unit] for unit in kept if mask >> unit & 1)

    return Units(
        tuple(units.marks[u] for u in kept),
        tuple(fewer(units.near[u]) for u in kept),
        tuple(fewer(units.after[u]) for u in kept),
        tuple(fewer(units.ahead[u]) for u in kept),
        tuple(units.pins[u] for u in kept),
        tuple(units.earliest[u] for u in kept),
        tuple(0 for _ in kept),
        tuple(units.latest[u] for u in kept),
        units.most,
    )


def _count(units: Units, turns: tuple[int, ...] | list[int]) -> int:
    return max(turns, default=-1) + 1
