"""The round of a survey: her members in the order chosen, done and still to do."""

from collections import Counter
from dataclasses import dataclass, field
from itertools import groupby

from restoration.models import Finding, Member, Survey
from restoration.models.round import AREA, ORDERS, in_order, part_of_the_round

REMEMBERED = "round_orders"


@dataclass
class Stop:
    """One member on the round, with what this survey and the ones before say of it."""

    member: Member
    finding: Finding | None = None
    earlier: Finding | None = None
    count: int = 0
    made_apart: bool = False


@dataclass
class Round:
    stops: list[Stop] = field(default_factory=list)
    order: str = AREA

    def in_parts(self) -> list[tuple[str, list[Stop]]]:
        parts = groupby(self.stops, key=lambda stop: part_of_the_round(stop.member, self.order))
        return [(part, list(stops)) for part, stops in parts]

    def counts(self) -> dict:
        """How many are graded, how many are marked as not examined, and how many are left."""
        classes = Counter(stop.finding.condition for stop in self.stops if stop.finding)
        not_examined = classes.pop("NE", 0)
        graded = sum(classes.values())
        return {
            "all": len(self.stops),
            "graded": graded,
            "not_examined": not_examined,
            "left": len(self.stops) - graded - not_examined,
            "done": graded + not_examined,
        }

    def next_left(self) -> Member | None:
        return next((stop.member for stop in self.stops if not stop.finding), None)


def order_of(request, survey: Survey) -> str:
    """The order asked for in the address, which is remembered for this survey; else that one."""
    remembered = request.session.get(REMEMBERED, {})
    key = str(survey.pk)
    asked = request.GET.get("order")
    if asked in ORDERS and remembered.get(key, AREA) != asked:
        request.session[REMEMBERED] = remembered | {key: asked}
    return asked if asked in ORDERS else remembered.get(key, AREA)


def round_of(survey: Survey, order: str = AREA) -> Round:
    """The whole round in two queries, however many members and findings there are."""
    members = survey.vessel.members.along_the_hull().select_related("wood")
    stops = {member.pk: Stop(member) for member in in_order(members, order)}
    findings = Finding.objects.filter(member__vessel=survey.vessel_id).select_related("survey")
    for finding in findings.newest_first().defer("seen"):
        stop = stops[finding.member_id]
        if finding.survey_id == survey.pk:
            stop.finding = stop.finding or finding
            stop.count += 1
            stop.made_apart |= finding.made_apart_from_id is not None
        elif finding.survey.surveyed_on <= survey.surveyed_on:
            stop.earlier = stop.earlier or finding
    return Round(list(stops.values()), order)


def what_is_left(survey: Survey, after: Member, order: str = AREA) -> tuple[Member | None, int]:
    """The next member without a finding, on from this one and round again; and how many are left.

    This one itself is not the next, even while it has none.
    """
    columns = ("mark", "kind", "vessel", "side", "station_from", "number")
    members = in_order(survey.vessel.members.along_the_hull().only(*columns), order)
    done = set(survey.findings.values_list("member_id", flat=True))
    place = next(n for n, other in enumerate(members) if other.pk == after.pk)
    onward = members[place + 1 :] + members[:place]
    nearest = next((other for other in onward if other.pk not in done), None)
    return nearest, sum(member.pk not in done for member in members)
