"""As the log opens: what was met is entered, and the rest is planned again."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from timber_stock.actions import plan_rest_again
from timber_stock.forms.plan import MetForm
from timber_stock.models import SawingPlan
from timber_stock.models.plan_state import as_it_stands, over_mm_of
from timber_stock.sawing.guillotine import X
from timber_stock.sawing.saw_sheet import saw_sheet
from timber_stock.templatetags.measures import clock, length
from timber_stock.web.pages import own_units, signed_by

QUICK_SECONDS = 8.0


def opened(request, pk):
    plan = _plan(pk)
    form = MetForm(plan, request.POST or None, units=own_units(request))
    if request.method == "POST" and form.is_valid():
        try:
            search = _plan_again(request, plan, form)
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            return redirect("timber_stock:plan_search", search.pk)
    context = {"plan": plan, "log": plan.log, "form": form, "cuts_made": plan.cuts_made.count()}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/opened.html", context, status=status)


@require_POST
def replan(request, pk):
    """Nothing new was met: the rest is planned again from the cuts as they came."""
    plan = _plan(pk)
    try:
        search = plan_rest_again(
            plan=plan, log_as_met=plan.request["log"], seconds=QUICK_SECONDS,
            why="Planned again from the cuts as they came.", made_by=signed_by(request),
        )  # fmt: skip
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
        return redirect("timber_stock:saw_sheet", pk)
    return redirect("timber_stock:plan_search", search.pk)


def _plan(pk) -> SawingPlan:
    return get_object_or_404(SawingPlan.objects.for_list(), pk=pk)


def _plan_again(request, plan, form):
    if plan.is_superseded():
        raise ValidationError("A later version has taken the place of this plan: work from that.")
    return plan_rest_again(
        plan=plan, log_as_met=form.log_as_met(_bed_deg(plan)),
        seconds=float(form.cleaned_data["seconds"]), why=_why(form, own_units(request)),
        made_by=signed_by(request), again=list(form.cleaned_data["again"]),
    )  # fmt: skip


def _bed_deg(plan: SawingPlan) -> float:
    """How far the piece on the saw lies turned from the log's own marks."""
    told = as_it_stands(plan)
    stages = saw_sheet(told.request, told.layout, plan.cuts(), over_mm_of(plan))
    last = plan.next_step() or len(plan.cuts())
    for stage in stages:
        if stage.axis is not None and any(cut.step >= last for cut in stage.cuts):
            return told.layout[stage.bolt].roll_deg + (90.0 if stage.axis == X else 0.0)
    return 0.0


def _why(form: MetForm, units: str) -> str:
    met = form.cleaned_data
    by, at = length(met["by_mm"], units), length(met["from_mm"], units)
    said = {
        "heart": f"The heart lies {by} over towards {clock(met['clock'])}",
        "knot": f"A knot was met {at} from the butt towards {clock(met['clock'])}",
        "rot": f"A shake or hole was met from {at} on, {length(met['across_mm'], units)} across",
        "sizes": "Cuts came off their marks",
    }[met["what"]]
    if met["what"] == "heart" and met["end"] != "both":
        said += f" at the {met['end']}"
    if met["clock_by"] == "bed" and met["clock"] is not None:
        said += " as it lay on the saw"
    own = met["said"].strip().rstrip(".")
    return f"{said}. {own}." if own else f"{said}."
