"""In what order a survey goes round the hull, and what is left to look at.

The order is for someone who has to crawl: forward to aft down one side and back up the other, or
area by area. It works on plain records, so that members, photographs or anything with a place
and a side can be put in it.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import groupby

AREAS = ("backbone", "transverse", "longitudinal", "shell", "deck")
"""The groups of the member table, in the order in which a round by area takes them."""

CENTRELINE_SIDES = ("C", "B")


@dataclass(frozen=True)
class Stop:
    """One member on the round. key: whatever the caller knows it by. side: C, P, S or B.

    area: the part of the hull it belongs to; kind: so that neighbours are of one kind. station
    is None where nobody knows it: such members come last in their pass.
    """

    key: str
    area: str
    kind: str
    side: str
    station: float | None
    number: int | None = None


def by_side(
    stops: Sequence[Stop], first_side: str = "P", come_back: bool = True
) -> tuple[Stop, ...]:
    """The centreline from forward to aft, then one side, then the other.

    come_back: each pass begins where the last one ended, so that nobody crawls the length of the
    boat for nothing: the first side is then taken from aft to forward. Raises ValueError for a
    first side that is neither P nor S.
    """
    if first_side not in ("P", "S"):
        raise ValueError("The first side is port (P) or starboard (S).")
    other = "S" if first_side == "P" else "P"
    passes = [CENTRELINE_SIDES, (first_side,), (other,)]
    found: list[Stop] = []
    going_aft = True
    for sides in passes:
        walked = [stop for stop in stops if stop.side in sides]
        found.extend(sorted(walked, key=lambda stop: _along(stop, going_aft)))
        if walked and come_back:
            going_aft = not going_aft
    return _complete(stops, found)


def by_station(stops: Sequence[Stop], first_side: str = "P") -> tuple[Stop, ...]:
    """Once through the boat from forward to aft, both sides and the centreline at each place."""
    if first_side not in ("P", "S"):
        raise ValueError("The first side is port (P) or starboard (S).")

    def place(stop: Stop) -> tuple[float, int]:
        return _along(stop, True)[0], _side_rank(stop, first_side)

    return tuple(sorted(stops, key=place))


def by_area(
    stops: Sequence[Stop], areas: Sequence[str] = AREAS, first_side: str = "P"
) -> tuple[Stop, ...]:
    """One area after another in the order given, each by side and coming back.

    Areas that are not named come after the others, in alphabetical order.
    """
    rank = {area: number for number, area in enumerate(areas)}
    ordered = sorted(stops, key=lambda stop: (rank.get(stop.area, len(rank)), stop.area))
    found: list[Stop] = []
    for _, held in groupby(ordered, key=lambda stop: stop.area):
        found.extend(by_side(list(held), first_side))
    return tuple(found)


def _along(stop: Stop, going_aft: bool) -> tuple[float, int, int]:
    """Sort key along the hull; members that stand at one place go by area, then by number."""
    if stop.station is None:
        return float("inf"), _area_rank(stop), stop.number or 0
    station = stop.station if going_aft else -stop.station
    return station, _area_rank(stop), stop.number or 0


def _area_rank(stop: Stop) -> int:
    return AREAS.index(stop.area) if stop.area in AREAS else len(AREAS)


def _side_rank(stop: Stop, first_side: str) -> int:
    if stop.side in CENTRELINE_SIDES:
        return 0
    return 1 if stop.side == first_side else 2


def _complete(stops: Sequence[Stop], found: Sequence[Stop]) -> tuple[Stop, ...]:
    """A side that is none of C, P, S and B would drop a member out of the round in silence."""
    if len(found) < len(stops):
        lost = next(stop for stop in stops if stop not in found)
        raise ValueError(f"The side of {lost.key} is {lost.side!r}; it must be C, P, S or B.")
    return tuple(found)


@dataclass(frozen=True)
class Progress:
    """How far a round has come: the stops still to make, in order, and the counts."""

    left: tuple[Stop, ...]
    done: int
    total: int


def progress(order: Sequence[Stop], done: Collection[str]) -> Progress:
    """What is left of a round, given the keys of the stops made. Not examined counts as made."""
    left = tuple(stop for stop in order if stop.key not in done)
    return Progress(left, len(order) - len(left), len(order))


def neighbours(stop: Stop, stops: Sequence[Stop]) -> tuple[Stop, ...]:
    """The stops of the same kind and side next forward and next aft: to copy a finding to.

    By station, and by number where stations are not known or the same.
    """
    row = sorted(
        (each for each in stops if (each.kind, each.side) == (stop.kind, stop.side)),
        key=lambda each: (_along(each, True)[0], each.number or 0),
    )
    if stop not in row:
        return ()
    at = row.index(stop)
    return tuple(row[max(0, at - 1) : at] + row[at + 1 : at + 2])
