from datetime import datetime, time

from django.utils import timezone

from restoration.actions.order_facts import waiting_members
from restoration.actions.orders_of_work import accept_order, fix_rule, propose_order, set_neighbours
from restoration.actions.turns import keep_turn
from restoration.models import Member, RuleKind, User, Vessel, WorkOrder

from .read import flat, read


def load_orders() -> None:
    for row in read("orders_of_work")["order"]:
        load_order(row, User.objects.get(username="yard"))


def load_order(row: dict, yard: User) -> None:
    vessel = Vessel.objects.get(code=row["vessel"])
    members = {member.mark: member for member in vessel.members.all()}
    out = [*waiting_members(vessel), *(members[mark] for mark in row["more"])]
    order = propose_order(vessel=vessel, members=out, most_out=row["most_out"], by=yard)
    for one, other in row["no_neighbours"]:
        set_neighbours(
            order=order, one=members[one], other=members[other], are=False, by=yard
        )  # fmt: skip
    for kind in (RuleKind.FIRST, RuleKind.BEFORE, RuleKind.APART):
        for said in row[kind.value]:
            fix(order, kind, [said] if isinstance(said, str) else said, members, yard)
    order.refresh_from_db()
    order.made_at = timezone.make_aware(datetime.combine(row["made"], time(17)))
    order.save()
    accept_order(order=order, by=yard, on=row["accepted"])
    turn = order.turns.get(number=1)
    keep_turn(turn=turn, note=flat(row["note"]), begun_on=row["begun"])


def fix(order: WorkOrder, kind: str, marks: list[str], members: dict[str, Member], by: User):
    one, *others = (members[mark] for mark in marks)
    fix_rule(order=order, kind=kind, one=one, others=others, by=by)
