"""An order of work read for reckoning: a hull, what is fixed, and which member is out when."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from django.db.models import Prefetch

from restoration.calc.turns_asked import OF_TWO, Asked, Neighbours, Rule
from restoration.calc.turns_checks import breaches, in_the_way
from restoration.calc.turns_neighbours import Standing, neighbours
from restoration.models import (
    Joint,
    Member,
    ReplacementSpec,
    RuleKind,
    Turn,
    TurnMember,
    TurnRule,
    Vessel,
    WorkOrder,
)
from restoration.models.replacement import Stage

BY_HAND = "set down as neighbours by hand"


def waiting_members(vessel: Vessel) -> list[Member]:
    """Those with an open specification that is not fitted, along the hull, each with its `stage`
    in words; of several specifications the one that has come least far."""
    specs = ReplacementSpec.objects.open().with_stage().filter(finding__member__vessel=vessel)
    order = list(Stage)
    stages: dict[int, Stage] = {}
    for member, found in specs.values_list("finding__member", "stage"):
        stage = Stage(found)
        stages[member] = min(stage, stages.get(member, stage), key=order.index)
    kept = {pk: stage for pk, stage in stages.items() if stage != Stage.FITTED}
    members = list(vessel.members.along_the_hull().filter(pk__in=kept))
    for member in members:
        member.stage = kept[member.pk].label
    return members


def standing(member: Member) -> Standing:
    return Standing(
        member.mark, member.kind, member.group(), member.side,
        member.station_from, member.station_to, member.number,
    )  # fmt: skip


def neighbours_by_rule(vessel: Vessel, members: Sequence[Member]) -> tuple[Neighbours, ...]:
    """Of all the members of a vessel, by the rule and her joints."""
    joints = Joint.objects.filter(one__vessel=vessel).values_list("one", "other")
    return neighbours_by_rule_of(members, joints)


def neighbours_by_rule_of(
    members: Sequence[Member], joints: Iterable[tuple[int, int]]
) -> tuple[Neighbours, ...]:
    """Of all the members of a vessel, along the hull; joints: pairs of their ids."""
    marks = {member.pk: member.mark for member in members}
    joined = [(marks[one], marks[other]) for one, other in joints]
    return neighbours([standing(member) for member in members], joined)


@dataclass(frozen=True)
class OrderFacts:
    """members: all of the vessel, along the hull. turns: in order, with their `listed` places."""

    order: WorkOrder
    members: Sequence[Member]
    turns: Sequence[Turn]
    rules: Sequence[TurnRule]
    by_rule: tuple[Neighbours, ...]

    @cached_property
    def turn_of(self) -> dict[int, Turn]:
        """By the member's id."""
        return {place.member_id: turn for turn in self.turns for place in turn.listed}

    @cached_property
    def out(self) -> list[Member]:
        return [member for member in self.members if member.pk in self.turn_of]

    @cached_property
    def begun(self) -> int:
        """The number of the last turn that is begun."""
        return max((turn.number for turn in self.turns if turn.begun_on), default=0)

    @cached_property
    def all_neighbours(self) -> tuple[Neighbours, ...]:
        """By the rule, less the pairs taken away, and the pairs added."""
        gone = self._pairs(RuleKind.NOT_NEIGHBOURS)
        kept = [each for each in self.by_rule if frozenset((each.one, each.other)) not in gone]
        seen = {frozenset((each.one, each.other)) for each in kept}
        added = self._pairs(RuleKind.NEIGHBOURS) - seen
        by_hand = sorted(tuple(sorted(pair)) for pair in added)
        return (*kept, *(Neighbours(one, other, BY_HAND) for one, other in by_hand))

    def neighbours_among(self, marks: set[str]) -> list[Neighbours]:
        return [each for each in self.all_neighbours if {each.one, each.other} <= marks]

    def asked(self) -> Asked:
        """All that are out and all that is fixed about them; rules about others rest."""
        marks = tuple(member.mark for member in self.out)
        rules = tuple(rule_of(rule) for rule in self.rules if self.is_in_use(rule))
        return Asked(marks, self.all_neighbours, rules, self.order.most_out, self.begun + 1)

    def is_in_use(self, rule: TurnRule) -> bool:
        marks = {member.pk for member in self.out}
        return (
            rule.kind not in (RuleKind.NEIGHBOURS, RuleKind.NOT_NEIGHBOURS)
            and rule.one_id in marks
            and (rule.other_id is None or rule.other_id in marks)
        )

    def in_turns(self) -> list[list[str]]:
        return [[place.member.mark for place in turn.listed] for turn in self.turns]

    def breaches(self) -> tuple[str, ...]:
        return breaches(self.asked(), self.in_turns())

    def breaches_in(self, turn: Turn) -> list[str]:
        """What of `breaches` concerns those who are out in this turn."""
        near = {
            said for place in turn.listed for said in self.in_the_way(place.member, turn.number)
        }
        return [said for said in self.breaches() if said in near]

    def in_the_way(self, member: Member, to: int) -> tuple[str, ...]:
        return in_the_way(self.asked(), self.in_turns(), member.mark, to)

    def _pairs(self, kind: str) -> set[frozenset[str]]:
        return {
            frozenset((rule.one.mark, rule.other.mark)) for rule in self.rules if rule.kind == kind
        }


def rule_of(rule: TurnRule) -> Rule:
    other = rule.other.mark if rule.kind in OF_TWO else ""
    return Rule(rule.kind, rule.one.mark, other, rule.turn)


def facts_of(order: WorkOrder) -> OrderFacts:
    """In five queries, however large the hull."""
    members = list(order.vessel.members.along_the_hull())
    place = {member.pk: number for number, member in enumerate(members)}
    by_pk = {member.pk: member for member in members}
    listed = Prefetch(
        "places", TurnMember.objects.select_related("moved_by").order_by("pk"), to_attr="listed"
    )
    turns = list(order.turns.order_by("number").prefetch_related(listed))
    for turn in turns:
        turn.order = order
        turn.listed.sort(key=lambda each: place[each.member_id])
        for each in turn.listed:
            each.member = by_pk[each.member_id]
    rules = list(order.rules.order_by("pk"))
    for rule in rules:
        rule.one = by_pk[rule.one_id]
        rule.other = by_pk[rule.other_id] if rule.other_id else None
    return OrderFacts(order, members, turns, rules, neighbours_by_rule(order.vessel, members))
