"""The order of work in force of a vessel, from its rows into plain facts."""

from restoration.actions.order_facts import OrderFacts, facts_of
from restoration.calc.turns_neighbours import RULE
from restoration.calc.turns_notes import CAUTION, MEASURE, STANDING, proposed_notes
from restoration.models import Turn, Vessel
from restoration.reports.order_of_work import MemberOut, OrderOfWork, TurnTold


def order_of_work(vessel: Vessel) -> OrderOfWork | None:
    """The accepted one, or None; a proposal is nobody's decision yet and is not told."""
    order = vessel.work_orders.in_force().select_related("accepted_by").first()
    if order is None:
        return None
    order.vessel = vessel
    facts = facts_of(order)
    return OrderOfWork(
        accepted_on=order.accepted_on,
        accepted_by=order.accepted_by.full_name(),
        most_out=order.most_out,
        fewest=_fewest(facts),
        turns=tuple(_turn(turn) for turn in facts.turns),
        fixed=tuple(rule.in_words() for rule in facts.rules),
        not_as_asked=facts.breaches(),
        neighbour_rule=RULE,
        usual_standing=STANDING,
        measure=MEASURE,
        caution=CAUTION,
    )


def _fewest(facts: OrderFacts) -> str:
    order, count = facts.order, len(facts.turns)
    if order.is_proven and count == order.bound_turns and not facts.breaches():
        return f"No order has fewer turns than these {count}. {order.bound_why}"
    return f"At least {order.bound_turns} turns are needed. {order.bound_why}"


def _turn(turn: Turn) -> TurnTold:
    return TurnTold(
        number=turn.number,
        members=tuple(
            MemberOut(
                place.member.mark, place.member.one(), place.member.side,
                place.member.station_from, place.member.station_to, place.override_reason,
            )
            for place in turn.listed
        ),
        note=turn.note,
        usual=proposed_notes(place.member for place in turn.listed),
        begun_on=turn.begun_on,
        done_on=turn.done_on,
    )  # fmt: skip
