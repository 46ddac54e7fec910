"""A vessel's lines and members as the hull sheet of a report needs them."""

from collections.abc import Iterable

from restoration.drawings.hull.assumed import highest
from restoration.drawings.hull.pieces import Piece
from restoration.models import Member, Vessel
from restoration.models.hull_lines import hull_lines_of
from restoration.reports.content import MemberState
from restoration.reports.hull_facts import HullFacts
from restoration.reports.links import finding_key

NEW = ("right", "new")
"""State and figure of a member that was replaced since it was found so."""


def hull_facts(
    vessel: Vessel, states: Iterable[MemberState], replaced: Iterable[str]
) -> tuple[HullFacts | None, str]:
    """What the sheet is drawn from; or None, and in words why she cannot be drawn yet.

    `replaced` are the marks of the members renewed since the survey.
    """
    found, renewed = {state.mark: state for state in states}, set(replaced)
    entered = hull_lines_of(vessel)
    pieces = tuple(
        _piece(member, found.get(member.mark), member.mark in renewed)
        for member in vessel.members.along_the_hull()
    )
    try:
        lines = entered.lines()
        stations = entered.stations(lines, highest(pieces))
    except ValueError as error:
        return None, str(error)
    return HullFacts(entered.hull, lines, stations, pieces, tuple(entered.assumed(lines))), ""


def _piece(member: Member, state: MemberState | None, is_new: bool) -> Piece:
    finding = state.finding if state else None
    condition = finding.condition if finding else ""
    words = finding.condition_word if finding else "no finding recorded"
    shown = NEW if is_new and condition else (condition, condition)
    side = {"P": ", port", "S": ", starboard"}.get(member.side, "")
    replaced = "; replaced since" if is_new else ""
    return Piece(
        key=member.mark,
        mark=member.mark,
        kind=member.kind,
        side=member.side,
        number=member.number,
        station_from=member.station_from,
        station_to=member.station_to,
        sided_mm=member.sided_mm,
        moulded_mm=member.moulded_mm,
        state=shown[0],
        badge=shown[1],
        title=f"{member.mark}, {member.term()}{side}: {condition} {words}{replaced}",
        href=f"#{finding_key(member.mark)}" if finding else "",
    )
