"""In what order a survey goes round its members: the ways offered, and what each part is called."""

from collections.abc import Iterable

from restoration.calc import round_order
from restoration.calc.groups import GROUP_TITLES
from restoration.models.member import Member, Side

AREA, SIDES, STATIONS = "area", "sides", "stations"
ORDERS = {
    AREA: "by area",
    SIDES: "one side, then the other",
    STATIONS: "forward to aft",
}
_WALKED = {
    AREA: round_order.by_area,
    SIDES: round_order.by_side,
    STATIONS: round_order.by_station,
}
_PASSES = {Side.PORT: "Port side", Side.STARBOARD: "Starboard side"}


def in_order(members: Iterable[Member], order: str = AREA) -> list[Member]:
    """The members as the round in this order comes to them.

    Members at one place stay in the order given: let that be `along_the_hull`.
    """
    by_key = {str(member.pk): member for member in members}
    walked = _WALKED[order]([stop_of(member) for member in by_key.values()])
    return [by_key[stop.key] for stop in walked]


def stop_of(member: Member) -> round_order.Stop:
    return round_order.Stop(
        key=str(member.pk),
        area=member.group(),
        kind=member.kind,
        side=member.side,
        station=member.station_from,
        number=member.number,
    )


def part_of_the_round(member: Member, order: str) -> str:
    """The heading under which a member stands in a round of this order."""
    if order == AREA:
        return GROUP_TITLES[member.group()]
    if order == SIDES:
        return _PASSES.get(member.side, "Centreline and across")
    return "Forward to aft" if member.station_from is not None else "Place not recorded"
