"""What is known of every member of a vessel, gathered in a few queries for the hull sheet."""

from dataclasses import dataclass, field
from datetime import date

from restoration.calc import grading
from restoration.drawings.hull.pieces import Piece
from restoration.models import Finding, FindingCause, Member, Survey, Vessel
from restoration.views.replaced import fitted_days
from timber_stock.web.days import day_said

REPLACEMENTS = {
    "to_replace": "to replace, not yet specified",
    "specified": "specified, no timber yet",
    "timber": "timber found",
    "fitted": "fitted",
    "none": "no replacement",
}


@dataclass
class Known:
    """A member with the finding that stands for it, its causes, and how far it is replaced.

    fitted_on: the day of its replacement, if that was on or after the survey that found it so.
    """

    member: Member
    finding: Finding | None = None
    causes: list[str] = field(default_factory=list)
    fitted_on: date | None = None

    @property
    def condition(self) -> str:
        return self.finding.condition if self.finding else ""

    @property
    def replacement(self) -> str:
        member = self.member
        if member.is_fitted:
            return "fitted"
        if member.has_timber:
            return "timber"
        if member.is_specified:
            return "specified"
        replace = self.finding is not None and self.finding.measure == 3
        return "to_replace" if replace else "none"

    def words(self) -> str:
        side = {"P": ", port", "S": ", starboard"}.get(self.member.side, "")
        replaced = "" if self.replacement == "none" else f"; {REPLACEMENTS[self.replacement]}"
        if self.fitted_on:
            replaced = f"; replaced {day_said(self.fitted_on)}"
        return f"{self.member.term()}{side}: {in_words(self.condition)}{replaced}"

    def in_words(self) -> str:
        return f"{self.member.mark}, {self.words()}"


def in_words(condition: str) -> str:
    if not condition:
        return "no finding"
    label = grading.condition(condition).label
    return label if condition == "NE" else f"class {condition}, {label}"


def known_of(vessel: Vessel, survey: Survey | None = None) -> list[Known]:
    """Every member along the hull; by one survey's findings, or by the newest of each member."""
    members = vessel.members.along_the_hull().with_replacement()
    known = {member.pk: Known(member) for member in members}
    findings = Finding.objects.filter(member__vessel=vessel)
    if survey is not None:
        findings = findings.filter(survey=survey)
    days = dict(vessel.surveys.order_by().values_list("pk", "surveyed_on"))
    standing = findings.newest_first().only("survey", "member", "condition", "measure")
    for finding in standing:
        each = known[finding.member_id]
        each.finding = each.finding or finding
    for member, day in fitted_days(vessel.pk).items():
        each = known[member]
        if each.finding and day >= days[each.finding.survey_id]:
            each.fitted_on = day
    by_finding = {each.finding.pk: each for each in known.values() if each.finding}
    causes = FindingCause.objects.filter(finding__in=findings.order_by().values("pk"))
    for cause in causes.only("finding_id", "cause"):
        if each := by_finding.get(cause.finding_id):
            each.causes.append(cause.cause)
    return list(known.values())


def piece_of(member: Member, **more) -> Piece:
    return Piece(
        key=str(member.pk),
        mark=member.mark,
        kind=member.kind,
        side=member.side,
        number=member.number,
        station_from=member.station_from,
        station_to=member.station_to,
        sided_mm=member.sided_mm,
        moulded_mm=member.moulded_mm,
        href=member.get_absolute_url(),
        **more,
    )
