"""Orders of work: proposed, changed while they are proposals, accepted, set aside."""

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.order_facts import OrderFacts, facts_of
from restoration.calc.turns import propose
from restoration.calc.turns_asked import (
    BEFORE,
    FIRST,
    OF_TWO,
    PINNED,
    TOGETHER,
    Asked,
    Contradiction,
    Proposal,
    Rule,
)
from restoration.models import (
    Member,
    OrderState,
    RuleKind,
    Turn,
    TurnMember,
    TurnRule,
    User,
    Vessel,
    WorkOrder,
)

UNORDERED = (RuleKind.TOGETHER, RuleKind.APART, RuleKind.NEIGHBOURS, RuleKind.NOT_NEIGHBOURS)


@transaction.atomic
def propose_order(
    *, vessel: Vessel, members: Collection[Member], most_out: int | None, by: User
) -> WorkOrder:
    """A proposal for these members to be out. One that is open already is changed; else a new one
    begins from the accepted order: what is fixed in it holds, and turns begun stay as they are.

    Refused, and then nothing is changed, where what is asked cannot be had.
    """
    Vessel.objects.select_for_update().get(pk=vessel.pk)
    order = vessel.work_orders.filter(state=OrderState.PROPOSED).first()
    if order is None:
        order = WorkOrder(vessel=vessel, made_by=by)
        order.full_clean()
        order.save()
        _begin_from(vessel.work_orders.in_force().first(), order)
    order.most_out = most_out
    order.full_clean()
    order.save()
    _reckon(order, {member.pk for member in members})
    return order


@transaction.atomic
def fix_rule(
    *,
    order: WorkOrder,
    kind: str,
    one: Member,
    others: Iterable[Member] = (),
    turn: int | None = None,
    by: User,
) -> list[str]:
    """Fix something about a member, or between it and each of the others; the turns are reckoned
    anew. Returns the marks of members whose move by hand had to be given up for it."""
    order = _open_proposal(order)
    for other in list(others) or [None]:
        _keep_rule(order, kind, one, other, turn, by)
    return _reckon(order)


@transaction.atomic
def drop_rule(*, rule: TurnRule) -> list[str]:
    """Take a rule away and reckon the turns anew."""
    order = _open_proposal(rule.order)
    rule.delete()
    return _reckon(order)


@transaction.atomic
def set_neighbours(
    *, order: WorkOrder, one: Member, other: Member, are: bool, by: User
) -> list[str]:
    """Say of two members that they are neighbours, or are not, whatever the rule says."""
    order = _open_proposal(order)
    pair = {member.pk for member in (one, other)}
    said = order.rules.filter(kind__in=(RuleKind.NEIGHBOURS, RuleKind.NOT_NEIGHBOURS))
    said.filter(one__in=pair, other__in=pair).delete()
    by_rule = {frozenset((each.one, each.other)) for each in facts_of(order).by_rule}
    if (frozenset((one.mark, other.mark)) in by_rule) != are:
        kind = RuleKind.NEIGHBOURS if are else RuleKind.NOT_NEIGHBOURS
        _keep_rule(order, kind, one, other, None, by)
    return _reckon(order)


@transaction.atomic
def accept_order(*, order: WorkOrder, by: User, on: date) -> WorkOrder:
    """The proposal is what will be done; the order accepted before it is set aside."""
    order = _open_proposal(order)
    before = order.vessel.work_orders.in_force().first()
    if before is not None:
        if _begun(before) != _begun(order):
            raise ValidationError(
                "Turns were begun or done since this was proposed. Set it aside, and propose anew."
            )
        before.state = OrderState.ASIDE
        before.save()
    order.state, order.accepted_by, order.accepted_on = OrderState.ACCEPTED, by, on
    order.full_clean()
    order.save()
    return order


@transaction.atomic
def set_aside(*, order: WorkOrder) -> WorkOrder:
    """A proposal that will not be done. It stays to be read."""
    order = _open_proposal(order)
    order.state = OrderState.ASIDE
    order.save()
    return order


def _open_proposal(order: WorkOrder) -> WorkOrder:
    order = WorkOrder.objects.select_for_update().get(pk=order.pk)
    if order.state != OrderState.PROPOSED:
        raise ValidationError(
            f"This order of work is {order.get_state_display()}: what is fixed in it stays. "
            "Propose one anew to change it."
        )
    return order


def _begun(order: WorkOrder) -> list[tuple]:
    turns = order.turns.filter(begun_on__isnull=False).order_by("number")
    return list(turns.values_list("number", "begun_on", "done_on"))


def _begin_from(before: WorkOrder | None, order: WorkOrder) -> None:
    """What was fixed, and the turns that are begun, go over into the new proposal."""
    if before is None:
        return
    for rule in before.rules.all():
        rule.pk, rule._state.adding, rule.order = None, True, order
        rule.save()
    last = facts_of(before).begun
    for turn in before.turns.filter(number__lte=last).prefetch_related("places"):
        places = list(turn.places.all())
        turn.pk, turn._state.adding, turn.order = None, True, order
        turn.save()
        for place in places:
            place.pk, place._state.adding, place.order, place.turn = None, True, order, turn
            place.save()


def _keep_rule(order, kind, one, other, turn, by) -> None:
    if other is not None and kind in UNORDERED:
        one, other = sorted((one, other), key=lambda member: member.pk)
    rule = TurnRule(order=order, kind=kind, one=one, other=other, turn=turn, made_by=by)
    rule.full_clean()
    rule.save()


def _reckon(order: WorkOrder, members: set[int] | None = None) -> list[str]:
    """Propose the turns after those begun, for these members or for those that are out now."""
    facts = facts_of(order)
    wanted = {member.pk for member in facts.out} if members is None else members
    begun = {
        place.member_id for turn in facts.turns if turn.number <= facts.begun
        for place in turn.listed
    }  # fmt: skip
    asked = _to_come(facts, wanted - begun)
    moves = _moves(facts, wanted)
    try:
        proposal, given_up = _proposed(asked, moves)
    except Contradiction as error:
        raise ValidationError(list(error.sentences)) from error
    _store(facts, proposal, {} if given_up else moves)
    return given_up


def _proposed(asked: Asked, moves: dict[str, TurnMember]) -> tuple[Proposal, list[str]]:
    """With what was moved by hand kept in its turn, if that can be; else without."""
    if moves:
        pins = [Rule(PINNED, mark, turn=place.turn.number) for mark, place in moves.items()]
        try:
            return propose(replace(asked, rules=(*asked.rules, *pins))), []
        except Contradiction:
            return propose(asked), list(moves)
    return propose(asked), []


def _moves(facts: OrderFacts, wanted: set[int]) -> dict[str, TurnMember]:
    """Places that a person chose, in turns not begun, with nothing against them."""
    fixed = {rule.one_id for rule in facts.rules if rule.kind in (RuleKind.FIRST, RuleKind.PINNED)}
    return {
        place.member.mark: place
        for turn in facts.turns if turn.number > facts.begun
        for place in turn.listed
        if place.moved_by_id and not place.override_reason
        and place.member_id in wanted - fixed
    }  # fmt: skip


def _to_come(facts: OrderFacts, wanted: set[int]) -> Asked:
    """What is asked of the turns that are not begun. A rule that a turn begun breaks for good is
    a contradiction; one that it has met rests."""
    begun = {pk: turn.number for pk, turn in facts.turn_of.items() if turn.number <= facts.begun}
    refused, rules = [], []
    for rule in facts.rules:
        if rule.kind not in (FIRST, PINNED, *OF_TWO):
            continue
        told = Rule(rule.kind, rule.one.mark, rule.other.mark if rule.other else "", rule.turn)
        ends = [pk for pk in (rule.one_id, rule.other_id) if pk]
        if all(pk in wanted for pk in ends):
            rules.append(told)
        elif _is_broken(told, rule, wanted, begun):
            refused.append(
                f"{told.in_words()} cannot be had any more: one of them is in a turn that is begun."
            )
    if refused:
        raise ValidationError(refused)
    marks = tuple(member.mark for member in facts.members if member.pk in wanted)
    return Asked(
        marks, facts.all_neighbours, tuple(rules), facts.order.most_out, facts.begun + 1
    )  # fmt: skip


def _is_broken(told: Rule, rule: TurnRule, wanted: set[int], begun: dict[int, int]) -> bool:
    """One end of it is begun and the other still to come, and that cannot be mended."""
    behind = rule.other_id in begun and rule.one_id in wanted
    ahead = rule.one_id in begun and rule.other_id in wanted
    return behind if told.kind == BEFORE else told.kind == TOGETHER and (behind or ahead)


def _store(facts: OrderFacts, proposal: Proposal, moves: dict[str, TurnMember]) -> None:
    """The turns to come as proposed; the yard's own notes stay with their numbers."""
    order, by_mark = facts.order, {member.mark: member for member in facts.members}
    order.places.filter(turn__number__gt=facts.begun).delete()
    last = facts.begun + len(proposal.turns)
    noted = order.turns.exclude(note="").order_by("number").last()
    order.turns.filter(number__gt=max(last, noted.number if noted else 0)).delete()
    held = {turn.number: turn for turn in order.turns.all()}
    for number, marks in enumerate(proposal.turns, facts.begun + 1):
        turn = held.get(number) or Turn.objects.create(order=order, number=number)
        places = [TurnMember(order=order, turn=turn, member=by_mark[mark]) for mark in marks]
        for place in places:
            if moved := moves.get(place.member.mark):
                place.moved_at, place.moved_by = moved.moved_at, moved.moved_by
        TurnMember.objects.bulk_create(places)
    fewest = proposal.fewest()
    order.bound_turns = facts.begun + fewest.turns
    besides = "Besides the turns that are begun: " if facts.begun else ""
    order.bound_why, order.is_proven = besides + fewest.why, proposal.proven
    order.save()
