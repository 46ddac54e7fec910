"""The plans of a log: asking for one, and looking at what was found."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.actions import begin_search, changes_since
from timber_stock.forms.plan import PlanForm, why_of
from timber_stock.models import CuttingList, Log, SawingPlan, request_for
from timber_stock.models.search_state import running_searches
from timber_stock.web.pages import own_units, signed_by

from .plan_shown import whole_plan


def plans(request, log_id):
    log = get_object_or_404(Log.objects.for_list(), pk=log_id)
    searches = running_searches().filter(log=log)
    context = {"log": log, "plans": log.plans.for_list(), "searches": searches}
    return render(request, "timber_stock/plans.html", context)


def plan_new(request, log_id):
    log = get_object_or_404(Log.objects.for_list(), pk=log_id)
    initial = {"cutting_list": request.GET.get("list")}
    form = PlanForm(request.POST or None, units=own_units(request), initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            search = _begin(request, log, form)
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            return redirect("timber_stock:plan_search", search.pk)
    context = {
        "form": form,
        "log": log,
        "lists": CuttingList.objects.open().exists(),
        "standing": log.plans.standing().first(),
        "sawn": not log.is_sawn_up and log.sawings.exists(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/plan_new.html", context, status=status)


def _begin(request, log, form):
    wanted = form.cleaned_data["cutting_list"]
    items = list(wanted.items.all())
    try:
        asked = request_for(log, items, form.saw())
    except ValueError as error:
        raise ValidationError(str(error)) from error
    for line, item in zip(asked["wanted"], items, strict=True):
        line["for"] = item.for_whom
    asked["settings"] = form.settings()
    asked["stock_sizes"] = form.stock_sizes()
    return begin_search(
        log=log, cutting_list=wanted, request=asked, seconds=form.seconds_allowed(),
        why=why_of(log, wanted), made_by=signed_by(request),
    )  # fmt: skip


def plan(request, pk):
    plan = get_object_or_404(SawingPlan.objects.for_list(), pk=pk)
    context = {
        "plan": plan,
        "log": plan.log,
        "cuts_made": plan.cuts_made.count(),
        "changes": changes_since(plan),
        **whole_plan(plan),
    }
    if request.GET.get("found"):
        messages.success(request, f"Plan {plan.number} of log {plan.log.tag} is kept.")
    return render(request, "timber_stock/plan.html", context)
