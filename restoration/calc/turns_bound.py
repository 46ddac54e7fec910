"""So many turns at least: what no order can beat, and why not.

The greatest of three: neighbours that are all neighbours of each other need a turn each (a
clique, found greedily from every member); members asked one before the other need a turn each
(the longest chain); and so many members need so many turns where only n may be out. Each takes
the turns into account that must come before or after: the reckoning of heads and tails usual
in scheduling.
"""

from collections.abc import Sequence

from restoration.calc.turns_asked import Bound, listed
from restoration.calc.turns_units import Units, bits


def lower_bound(units: Units) -> Bound:
    """The greatest lower bound found; 0 where nothing is to be out."""
    if not len(units):
        return Bound(0, "Nothing is to be out.")
    return max((_chain(units), _capacity(units), _clique(units)), key=lambda bound: bound.turns)


def _chain(units: Units) -> Bound:
    """Longest through any unit, pins included."""
    count, unit = max(
        (units.earliest[unit] + 1 + units.tails[unit], -unit) for unit in range(len(units))
    )
    last = units.marks[-unit]
    if count == 1:
        return Bound(1, "What is to be out needs a turn.")
    if units.pins[-unit] is not None and not units.tails[-unit]:
        return Bound(count, f"{last[0]} is asked for the {_th(count)} of the turns to come.")
    told = f"{count} turns follow from what is asked before what: {last[0]} is one of that row."
    return Bound(count, told)


def _capacity(units: Units) -> Bound:
    """All of them by n at a time; and those that cannot come early, or late, by themselves."""
    if units.most is None:
        return Bound(0, "")
    best = Bound(0, "")
    for ends, words in ((units.earliest, "after"), (units.tails, "before")):
        for spare in sorted(set(ends)):
            held = sum(w for w, end in zip(units.weights, ends, strict=True) if end >= spare)
            turns = spare - (-held // units.most)
            told = f", with {spare} turn{'s' * (spare > 1)} {words} them" if spare else ""
            why = f"{held} members, never more than {units.most} out{told}: {turns} turns."
            best = max(best, Bound(turns, why), key=lambda bound: bound.turns)
    return best


def _clique(units: Units) -> Bound:
    """The largest found, and the one that heads and tails make longest."""
    best = Bound(0, "")
    for unit in range(len(units)):
        clique = _clique_from(units, unit)
        turns = (
            min(units.earliest[each] for each in clique)
            + len(clique)
            + min(units.tails[each] for each in clique)
        )
        if turns > best.turns:
            best = Bound(turns, _clique_words(units, clique, turns))
    return best


def _clique_from(units: Units, unit: int) -> Sequence[int]:
    """Always on with the neighbour that leaves most to choose from."""
    clique, choice = [unit], units.near[unit]
    while choice:
        following = max(
            bits(choice), key=lambda each: ((units.near[each] & choice).bit_count(), -each)
        )
        clique.append(following)
        choice &= units.near[following]
    return sorted(clique)


def _clique_words(units: Units, clique: Sequence[int], turns: int) -> str:
    if len(clique) == 1:
        return "What is to be out needs a turn."
    names = listed(units.marks[each][0] for each in clique)
    if turns > len(clique):
        return f"{names} may not be out with one another, and other turns must come besides."
    return f"{names} may not be out with one another: a turn for each."


def _th(number: int) -> str:
    words = ("first", "second", "third", "fourth", "fifth", "sixth")
    return words[number - 1] if number <= len(words) else f"number {number}"
