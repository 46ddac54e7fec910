"""Which members of a hull are neighbours: of two, one must hold the hull while the other is out.

The rule is our own, put together from common practice (from memory); the shipwright adds pairs
and takes pairs away. Two members are neighbours where

1. the register says that they are joined;
2. they are of one group (backbone, framing, longitudinals, deck), their sides meet and their
   stretches of the hull overlap or touch: a floor and the frames at its station, stem and stem
   foot, shelf and clamp;
3. they are of one kind and side and stand next to each other along the hull, no more than two
   stations apart; where stations are missing, those of following numbers;
4. they are strakes of one side that lie edge to edge, or end to end in one strake.

Port and starboard do not meet; a member on the centreline meets both. What gives the hull no
shape (rails, rudder, coamings and the like) is a neighbour only of what it is joined to.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from restoration.calc.turns_asked import Neighbours

RULE = (
    "Neighbours are members that are joined; members of one group whose stretches of the hull "
    "overlap or touch, on sides that meet; the next of one kind along one side, no more than two "
    "stations apart; and strakes that lie edge to edge or end to end. A rule of our own, from "
    "common practice: add pairs it does not see, and take away those it sees wrongly."
)
FURTHEST_STATIONS = 2.0
STRAKES = ("garboard", "broad_strake", "planking", "binder", "sheer_strake")
FRAMES = ("frame", "frame_steamed", "frame_sawn", "frame_laminated")
GIVES_NO_SHAPE = frozenset(
    [
        "toe_rail", "rubbing_strake", "coaming", "limber_board", "worm_shoe", "false_keel",
        "rudder", "rudder_stock", "rudder_trunk", "chainplate", "keel_bolt",
    ]
)  # fmt: skip


@dataclass(frozen=True)
class Standing:
    """A member where it stands. side: C, P, S or B (both); stations and number where known."""

    mark: str
    kind: str
    group: str
    side: str
    station_from: float | None = None
    station_to: float | None = None
    number: int | None = None

    def __post_init__(self) -> None:
        for at in (self.station_from, self.station_to):
            if at is not None and not math.isfinite(at):
                raise ValueError(f"A station of {self.mark} is no number.")
        if self.side not in ("C", "P", "S", "B"):
            raise ValueError(f"The side of {self.mark} is {self.side!r}; it must be C, P, S or B.")

    @property
    def stretch(self) -> tuple[float, float] | None:
        if self.station_from is None:
            return None
        end = self.station_from if self.station_to is None else self.station_to
        return self.station_from, max(end, self.station_from)


def neighbours(
    members: Sequence[Standing], joined: Iterable[tuple[str, str]] = ()
) -> tuple[Neighbours, ...]:
    """Every pair of neighbours among all the members of a hull, each once, with its reason.

    Pass the whole hull, not only what is to be out: which frame is next depends on all of them.
    joined: pairs of marks. Raises ValueError where a mark stands twice.
    """
    order = {member.mark: number for number, member in enumerate(members)}
    if len(order) < len(members):
        raise ValueError("Two members have the same mark.")
    found: dict[tuple[str, str], str] = {}
    shaping = [member for member in members if member.kind not in GIVES_NO_SHAPE]
    for one, other, why in (
        *((a, b, "joined") for a, b in joined if a in order and b in order and a != b),
        *_sharing_a_stretch(shaping),
        *_next_along(shaping),
        *_strakes_that_touch(shaping),
    ):
        pair = (one, other) if order[one] < order[other] else (other, one)
        found.setdefault(pair, why)
    pairs = sorted(found.items(), key=lambda item: (order[item[0][0]], order[item[0][1]]))
    return tuple(Neighbours(one, other, why) for (one, other), why in pairs)


Found = Iterator[tuple[str, str, str]]


def _sharing_a_stretch(members: Sequence[Standing]) -> Found:
    for one, other in combinations(members, 2):
        if one.group != other.group or one.group == "shell" or not _sides_meet(one, other):
            continue
        if _overlap(one, other):
            yield one.mark, other.mark, "their stretches of the hull meet"


def _sides_meet(one: Standing, other: Standing) -> bool:
    return one.side == other.side or bool({one.side, other.side} & {"C", "B"})


def _overlap(one: Standing, other: Standing) -> bool:
    if one.stretch is None or other.stretch is None:
        return False
    return one.stretch[0] <= other.stretch[1] and other.stretch[0] <= one.stretch[1]


def _next_along(members: Sequence[Standing]) -> Found:
    rows: dict[tuple[str, str], list[Standing]] = {}
    for member in members:
        if member.group == "shell":
            continue
        kind = FRAMES[0] if member.kind in FRAMES else member.kind
        for side in "PS" if member.side == "B" else member.side:
            rows.setdefault((kind, side), []).append(member)
    for row in rows.values():
        yield from _next_by_station([member for member in row if member.stretch])
        if any(member.stretch is None for member in row):
            yield from _next_by_number([member for member in row if member.number is not None])


def _next_by_station(row: Sequence[Standing]) -> Found:
    """For each member those at the nearest station aft of its end."""
    starts = sorted({member.stretch[0] for member in row if member.stretch})
    for member in row:
        assert member.stretch
        after = [at for at in starts if at > member.stretch[1]]
        if not after or after[0] - member.stretch[1] > FURTHEST_STATIONS:
            continue
        for other in row:
            if other.stretch and other.stretch[0] == after[0]:
                yield member.mark, other.mark, "next to each other along the hull"


def _next_by_number(row: Sequence[Standing]) -> Found:
    """Of following numbers; only where a station is missing, else stations have said it."""
    numbers = sorted({member.number for member in row if member.number is not None})
    following = {(one, other) for one, other in pairwise(numbers) if other - one == 1}
    for one, other in combinations(row, 2):
        if one.stretch and other.stretch:
            continue
        if (one.number, other.number) in following or (other.number, one.number) in following:
            yield one.mark, other.mark, "next to each other by number"


def _strakes_that_touch(members: Sequence[Standing]) -> Found:
    for kinds in (STRAKES, ("ceiling",)):
        for side in "PS":
            shell = [m for m in members if m.kind in kinds and m.side in (side, "B")]
            places = sorted({_strake(member) for member in shell})
            edges = {frozenset(pair) for pair in pairwise(places)}
            for one, other in combinations(shell, 2):
                if not _may_overlap(one, other):
                    continue
                if _strake(one) == _strake(other):
                    yield one.mark, other.mark, "end to end in one strake"
                elif frozenset((_strake(one), _strake(other))) in edges:
                    yield one.mark, other.mark, "edge to edge in the planking"


def _strake(member: Standing) -> tuple[int, int]:
    """Where a strake lies, counted from the keel."""
    rank = STRAKES.index(member.kind) if member.kind in STRAKES else 0
    return rank, member.number or 0


def _may_overlap(one: Standing, other: Standing) -> bool:
    """A strake of unknown stations is taken to run from stem to stern."""
    return one.stretch is None or other.stretch is None or _overlap(one, other)
