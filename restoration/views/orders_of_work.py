"""The order of work of a vessel: proposed, looked at, accepted, printed."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db.models import Count
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from restoration.actions.order_facts import OrderFacts, facts_of, waiting_members
from restoration.actions.orders_of_work import accept_order, propose_order, set_aside
from restoration.actions.out_now import marks_out
from restoration.calc.turns_neighbours import RULE
from restoration.calc.turns_notes import CAUTION, MEASURE, STANDING, proposed_notes
from restoration.forms.orders_of_work import OutForm
from restoration.models import OrderState, Vessel, WorkOrder
from restoration.views.attempts import attempt
from timber_stock.web.pages import own_units


def vessel_order(request, vessel_id):
    """To the order in force, or the one proposed; else how to begin."""
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    order = vessel.work_orders.the_accepted_first().first()
    if order is not None and order.is_open():
        return redirect(order)
    context = {"vessel": vessel, "waiting": waiting_members(vessel), "rule": RULE}
    return render(request, "restoration/order_of_work_none.html", context)


def work_order(request, pk):
    facts = facts_of(order_or_404(pk))
    others = facts.order.vessel.work_orders.exclude(pk=pk).annotate(count=Count("turns"))
    context = {
        **told(facts),
        "out_now": _out_now(facts),
        "others": others.newest_first(),
        "rules": [(rule, facts.is_in_use(rule)) for rule in facts.rules],
    }
    return render(request, "restoration/order_of_work.html", context)


def work_order_print(request, pk):
    facts = facts_of(order_or_404(pk))
    context = told(facts) | {"out_now": _out_now(facts)}
    return render(request, "restoration/order_of_work_print.html", context)


def work_order_propose(request, vessel_id):
    """Which members are to be out, and how many at once."""
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    order = vessel.work_orders.filter(state=OrderState.PROPOSED).first()
    order = order or vessel.work_orders.in_force().first()
    facts = facts_of(order) if order else None
    offered = _offered(vessel, facts)
    members = facts.members if facts else list(vessel.members.along_the_hull())
    form = OutForm(
        request.POST or None, offered=offered, members=members, units=own_units(request),
        initial=_chosen(facts, offered),
    )  # fmt: skip
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        made = attempt(
            form, propose_order, vessel=vessel, members=said["out"], most_out=said["most_out"],
            by=request.user,
        )  # fmt: skip
        if made:
            messages.success(request, "The turns are proposed.")
            return redirect(made)
    context = {"vessel": vessel, "form": form, "offered": offered, "order": order, "rule": RULE}
    status = 422 if form.errors else 200
    return render(request, "restoration/order_of_work_propose.html", context, status=status)


@require_POST
def work_order_accept(request, pk):
    order = order_or_404(pk)
    try_or_say(request, accept_order, order=order, by=request.user, on=timezone.localdate())
    return redirect(order)


@require_POST
def work_order_aside(request, pk):
    order = order_or_404(pk)
    try_or_say(request, set_aside, order=order)
    return redirect("restoration:vessel_order", order.vessel_id)


def order_or_404(pk: int) -> WorkOrder:
    with_all = WorkOrder.objects.select_related("vessel__hull_lines", "made_by", "accepted_by")
    return get_object_or_404(with_all, pk=pk)


def told(facts: OrderFacts) -> dict:
    """What every page of an order says of it and of its turns."""
    for turn in facts.turns:
        turn.proposed_notes = proposed_notes(place.member for place in turn.listed)
    return {
        "order": facts.order,
        "vessel": facts.order.vessel,
        "turns": facts.turns,
        "out": facts.out,
        "breaches": facts.breaches(),
        "may_change": facts.order.state == OrderState.PROPOSED,
        "rule": RULE,
        "standing": STANDING,
        "measure": MEASURE,
        "caution": CAUTION,
    }


def _out_now(facts: OrderFacts) -> list:
    """Whom the yard board knows to be out, along the hull; nobody where the order is set aside."""
    if not facts.order.is_open():
        return []
    marks = marks_out(facts.order.vessel_id)
    return [member for member in facts.members if member.mark in marks]


def _offered(vessel: Vessel, facts: OrderFacts | None) -> list:
    """Those that wait for a replacement, and those that are in the order already."""
    waiting = waiting_members(vessel)
    known = {member.pk for member in waiting}
    more = [member for member in facts.out if member.pk not in known] if facts else []
    for member in more:
        member.stage = "added by hand"
    return [*waiting, *more]


def _chosen(facts: OrderFacts | None, offered: list) -> dict:
    kept = [member.pk for member in (facts.out if facts else offered)]
    return {"members": kept, "most_out": facts.order.most_out if facts else None}


def try_or_say(request, action, **what) -> None:
    """For a button without a form of its own: what is refused is said on the next page."""
    try:
        action(**what)
    except ValidationError as error:
        for sentence in error.messages:
            messages.error(request, sentence)
