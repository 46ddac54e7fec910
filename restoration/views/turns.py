"""The turns of an order of work: stepped through, moved about in, begun and done."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from restoration.actions.order_facts import OrderFacts, facts_of
from restoration.actions.orders_of_work import drop_rule, fix_rule, set_neighbours
from restoration.actions.turns import against_move, keep_turn, move_member, why_none_leaves
from restoration.forms.orders_of_work import MoveForm, PairForm, RuleForm, TurnForm
from restoration.models import Turn, TurnMember, TurnRule
from restoration.views.attempts import attempt
from restoration.views.order_drawing import holding_of, turn_drawing
from restoration.views.orders_of_work import order_or_404, told, try_or_say
from timber_stock.web.pages import own_units, page_or_piece

GIVEN_UP = "Moved by hand before, and given up for this: {}."


def turn(request, order_id, number):
    """One turn on the hull sheet, with the way to the one before and the one after."""
    facts = facts_of(order_or_404(order_id))
    if not 1 <= number <= len(facts.turns):
        raise Http404(f"There is no turn {number}.")
    shown = facts.turns[number - 1]
    against = facts.breaches_in(shown)
    context = {
        **told(facts),
        **turn_drawing(request, facts, shown, against),
        "turn": shown,
        "against": against,
        "holding": holding_of(facts, shown),
        "before": facts.turns[number - 2] if number > 1 else None,
        "after": facts.turns[number] if number < len(facts.turns) else None,
        "asked": f"?{request.GET.urlencode()}" if request.GET else "",
    }
    return page_or_piece(request, "restoration/turn.html", "restoration/_turn.html", context)


def turn_edit(request, pk):
    turn = get_object_or_404(Turn.objects.select_related("order__vessel"), pk=pk)
    facts = facts_of(turn.order)
    shown = facts.turns[turn.number - 1]
    form = TurnForm(request.POST or None, instance=turn)
    if request.method == "POST" and form.is_valid():
        kept = attempt(form, keep_turn, turn=turn, **form.cleaned_data)
        if kept:
            messages.success(request, f"Turn {kept.number} is kept.")
            return redirect(turn)
    context = {**told(facts), "form": form, "turn": shown}
    return _page(request, "restoration/turn_form.html", form, context)


def turn_member_move(request, pk):
    places = TurnMember.objects.select_related("order__vessel", "turn", "member")
    place = get_object_or_404(places, pk=pk)
    facts = facts_of(place.order)
    if place.member_id not in facts.turn_of:
        raise Http404  # taken away in this moment
    against = _against_each(facts, place)
    form = MoveForm(
        request.POST or None, turns=facts.turns, against=against, units=own_units(request)
    )  # fmt: skip
    if request.method == "POST" and form.is_valid():
        moved = attempt(form, move_member, place=place, by=request.user, **form.cleaned_data)
        if moved:
            messages.success(request, f"{place.member.mark} is out in turn {moved.turn.number}.")
            return redirect(place.order)
    seen = {"place": place, "against": against, "stays": why_none_leaves(facts, place.turn)}
    context = {**told(facts), "form": form, **seen}
    return _page(request, "restoration/turn_member_move.html", form, context)


def _against_each(facts: OrderFacts, place: TurnMember) -> dict[int, list[str]]:
    """What stands against a move, for every turn that is not done and a new one after the last."""
    offered = [each.number for each in facts.turns if each != place.turn and not each.done_on]
    offered.append(len(facts.turns) + 1)
    return {to: against_move(facts, place.member, to) for to in offered}


def turn_rule_new(request, order_id):
    order = order_or_404(order_id)
    facts = facts_of(order)
    form = RuleForm(request.POST or None, out=facts.out, units=own_units(request))
    if request.method == "POST" and form.is_valid():
        given_up = attempt(form, fix_rule, order=order, by=request.user, **form.cleaned_data)
        if given_up is not None:
            _say_given_up(request, given_up, "That is fixed, and the turns are reckoned anew.")
            return redirect(order)
    return _page(request, "restoration/turn_rule_form.html", form, {**told(facts), "form": form})


@require_POST
def turn_rule_delete(request, pk):
    rules = TurnRule.objects.select_related("order")
    rule = get_object_or_404(rules, pk=pk)
    order = rule.order
    try_or_say(request, drop_rule, rule=rule)
    return redirect(order)


@require_safe
def turn_neighbours(request, order_id):
    """Which of those out are neighbours, and why."""
    facts = facts_of(order_or_404(order_id))
    return _neighbours_page(request, facts, PairForm(members=facts.members))


@require_POST
def turn_neighbours_set(request, order_id):
    """A pair added, or taken away."""
    facts = facts_of(order_or_404(order_id))
    form = PairForm(request.POST, members=facts.members, units=own_units(request))
    if form.is_valid():
        given_up = attempt(
            form, set_neighbours, order=facts.order, are=request.POST.get("are") != "no",
            by=request.user, **form.cleaned_data,
        )  # fmt: skip
        if given_up is not None:
            _say_given_up(request, given_up, "The turns are reckoned anew with that.")
            return redirect("restoration:turn_neighbours", order_id)
    return _neighbours_page(request, facts, form)


def _neighbours_page(request, facts: OrderFacts, form: PairForm):
    marks = {member.mark for member in facts.out}
    by_hand = [rule for rule in facts.rules if rule.kind in ("near", "not_near")]
    context = {
        **told(facts), "form": form, "pairs": facts.neighbours_among(marks), "by_hand": by_hand,
    }  # fmt: skip
    return _page(request, "restoration/turn_neighbours.html", form, context)


def _say_given_up(request, marks: list[str], done: str) -> None:
    messages.success(request, done)
    if marks:
        messages.warning(request, GIVEN_UP.format(", ".join(marks)))


def _page(request, template: str, form, context: dict):
    return render(request, template, context, status=422 if form.errors else 200)
