"""Money: of a vessel, of one replacement with the entry of what was spent, and of a log."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from restoration import timber
from restoration.actions.costs import enter_cost, take_back_cost
from restoration.forms.money import CostForm
from restoration.models import Cost, CostBy, ReplacementSpec, Vessel
from restoration.reports.gather_money import spec_money as money_of_spec
from restoration.reports.gather_money import vessel_money as money_of_vessel
from restoration.reports.money import WHAT_IT_IS
from restoration.reports.money_log import log_money as money_of_log
from restoration.reports.money_timber import money_of_log as timber_of_log
from restoration.views.attempts import attempt
from timber_stock.web.pages import own_units


def vessel_money(request, vessel_id):
    return _show_vessel(request, _vessel(vessel_id))


@require_POST
def vessel_cost_new(request, vessel_id):
    vessel = _vessel(vessel_id)
    form = _form(request)
    if form.is_valid() and attempt(
        form, enter_cost, vessel=vessel, by=request.user, **form.cleaned_data
    ):
        messages.success(request, "It is entered for the vessel as a whole.")
        return redirect("restoration:vessel_money", vessel_id)
    return _show_vessel(request, vessel, form)


def _show_vessel(request, vessel, form=None):
    context = {
        "vessel": vessel,
        "money": money_of_vessel(vessel),
        "costs": vessel.costs.select_related("by", "taken_back_by"),
        "form": form or _form(request),
        "what_it_is": WHAT_IT_IS,
    }
    status = 422 if form else 200
    return render(request, "restoration/vessel_money.html", context, status=status)


def spec_money(request, spec_id):
    return _show_spec(request, _spec(spec_id))


@require_POST
def spec_cost_new(request, spec_id):
    spec, form = _spec(spec_id), _form(request)
    if form.is_valid() and attempt(
        form, enter_cost, spec=spec, by=request.user, **form.cleaned_data
    ):
        messages.success(request, "It is entered.")
        return redirect("restoration:spec_money", spec_id)
    return _show_spec(request, spec, form)


def _show_spec(request, spec, form=None):
    row, money = money_of_spec(spec.pk) or (None, None)
    context = {
        "spec": spec,
        "finding": spec.finding,
        "member": spec.finding.member,
        "vessel": spec.finding.member.vessel,
        "row": row,
        "money": money,
        "costs": spec.costs.select_related("by", "taken_back_by"),
        "form": form or _form(request),
        "what_it_is": WHAT_IT_IS,
    }
    status = 422 if form else 200
    return render(request, "restoration/spec_money.html", context, status=status)


@require_POST
def cost_take_back(request, pk):
    cost = get_object_or_404(Cost, pk=pk)
    try:
        take_back_cost(cost=cost, by=request.user, on=timezone.localdate())
        messages.success(request, "It is taken back, and in no sum any more.")
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    if cost.spec_id:
        return redirect("restoration:spec_money", cost.spec_id)
    return redirect("restoration:vessel_money", cost.vessel_id)


def log_money(request, log_id):
    log = timber.Log.objects.for_list().filter(pk=log_id).first()
    if log is None:
        raise Http404
    money = timber_of_log(log_id, by_worth=request.yard.cost_by == CostBy.WORTH)
    worths = log.boards.filter(worth__isnull=False).count()
    context = {
        "log": log,
        "money": money_of_log(money, log_id, worths),
        "what_it_is": WHAT_IT_IS,
    }
    return render(request, "restoration/log_money.html", context)


def _form(request) -> CostForm:
    posted = request.POST if request.method == "POST" else None
    usual = {"on": timezone.localdate()}
    currency = request.yard.currency
    return CostForm(posted, units=own_units(request), currency=currency, initial=usual)


def _vessel(vessel_id) -> Vessel:
    return get_object_or_404(Vessel.objects.select_related("client"), pk=vessel_id)


def _spec(spec_id) -> ReplacementSpec:
    return get_object_or_404(ReplacementSpec.objects.for_list(), pk=spec_id)
