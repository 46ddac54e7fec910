"""Laying timbers out by hand: the section at any station, judged as it is changed."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from timber_stock.actions import begin_search, keep_plan, with_boards
from timber_stock.forms.layout_sheet import LayoutSheet, readable
from timber_stock.models import SawingPlan
from timber_stock.sawing.judge_layout import judge_layout
from timber_stock.sawing.ways_to_saw import kept_as
from timber_stock.web.pages import own_units, signed_by

from .hand_shown import judged_sheet

FILL_SECONDS = 6.0


def plan_by_hand(request, pk):
    plan = _plan(pk)
    try:
        sheet = LayoutSheet(plan, request.POST if request.method == "POST" else request.GET)
        context = _judged(request, plan, sheet)
    except ValueError as error:
        return _page(request, plan, _unread(request, plan, error), status=422)
    return _page(request, plan, context)


@require_POST
def plan_judge(request, pk):
    """The drawing and the figures alone, for a layout under the finger."""
    plan = _plan(pk)
    try:
        context = _judged(request, plan, LayoutSheet(plan, request.POST))
    except ValueError as error:
        return HttpResponse(str(error), status=422, content_type="text/plain; charset=utf-8")
    return render(request, "timber_stock/_by_hand_view.html", _around(request, plan, context))


@require_POST
def plan_keep(request, pk):
    """Keep the layout as a new version, or have the rest filled in round what is pinned."""
    plan = _plan(pk)
    try:
        sheet = LayoutSheet(plan, request.POST)
        done = (_fill if "fill" in request.POST else _keep)(request, plan, sheet)
    except ValueError as error:
        return _page(request, plan, _unread(request, plan, error), status=422)
    except ValidationError as error:
        context = _judged(request, plan, sheet) | {"refused": " ".join(error.messages)}
        return _page(request, plan, context, status=422)
    return done


def _plan(pk) -> SawingPlan:
    return get_object_or_404(SawingPlan.objects.for_list().select_related("log__species"), pk=pk)


def _judged(request, plan, sheet) -> dict:
    return judged_sheet(plan, sheet, own_units(request))


def _unread(request, plan, error: ValueError) -> dict:
    """The layout as it was sent, but for what cannot be read; else as it stands in the plan."""
    try:
        context = _judged(request, plan, LayoutSheet(plan, readable(plan, request.POST)))
    except ValueError:
        context = _judged(request, plan, LayoutSheet(plan))
    return context | {"refused": str(error)}


def _page(request, plan, context, status=200):
    page = _around(request, plan, context)
    return render(request, "timber_stock/plan_by_hand.html", page, status=status)


def _around(request, plan, context):
    wanted = plan.request["wanted"]
    can_change = not plan.is_superseded() and not plan.cuts_made.exists()
    return context | {
        "plan": plan, "log": plan.log, "wanted": wanted, "can_change": can_change,
        "units": own_units(request),
    }  # fmt: skip


def _keep(request, plan, sheet):
    _check_can_change(plan)
    layout = sheet.layout()
    judged = judge_layout(sheet.request, layout)
    if not judged.lawful:
        faults = [*judged.faults]
        faults += [f"{t.id} {fault}." for bolt in judged.bolts for t in bolt for fault in t.faults]
        raise ValidationError(["This layout cannot be kept yet.", *faults[:4]])
    new = kept_as(sheet.request, layout)
    if not any(cut["piece"] == "log" for cut in plan.cuts()):
        new["cuts"] = _apart(new["cuts"])
    new["bolts"] = with_boards(new["bolts"], plan.plan["bolts"])
    carried = {name: plan.plan[name] for name in ("sawn", "rest", "ways") if name in plan.plan}
    why = request.POST.get("why", "").replace("\0", "").strip()[:500] or "Laid out by hand."
    kept = keep_plan(
        log=plan.log, cutting_list=plan.cutting_list, request=plan.request,
        plan=new | carried | {"left_out": sheet.left_out}, made_by=signed_by(request), why=why,
        supersedes=plan, cuts_known=0,
    )  # fmt: skip
    messages.success(request, f"Plan {kept.number} of log {plan.log.tag} is kept.")
    return redirect(kept)


def _apart(cuts):
    kept = [cut for cut in cuts if cut["piece"] != "log"]
    return [cut | {"step": step} for step, cut in enumerate(kept, start=1)]


def _fill(request, plan, sheet):
    _check_can_change(plan)
    judged = judge_layout(sheet.request, sheet.layout(only_pinned=True))
    faults = [f"{t.id} {fault}." for bolt in judged.bolts for t in bolt for fault in t.faults]
    if faults or judged.faults:
        raise ValidationError(["What is pinned must be lawful first.", *judged.faults, *faults[:3]])
    carry = {name: plan.plan[name] for name in ("sawn", "rest") if name in plan.plan}
    search = begin_search(
        log=plan.log, cutting_list=plan.cutting_list, request=sheet.request_without_left_out(),
        seconds=FILL_SECONDS, why="Filled in round what was pinned by hand.",
        made_by=signed_by(request), supersedes=plan,
        start={
            "bolts": sheet.bolts_data(only_pinned=True),
            "apart": not any(cut["piece"] == "log" for cut in plan.cuts()),
            "cuts_known": 0,
            "carry": carry | {"left_out": sheet.left_out},
        },
    )  # fmt: skip
    return redirect("timber_stock:plan_search", search.pk)


def _check_can_change(plan):
    if plan.cuts_made.exists():
        raise ValidationError(
            "This plan is being sawn. Say what was met, and the rest is planned again; that can "
            "then be laid out by hand."
        )
