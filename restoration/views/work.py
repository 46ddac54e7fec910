"""The work on one replacement: its stages, its hours, whose turn it is, what it waits for."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from restoration.actions.waiting import end_wait, set_wait
from restoration.actions.work import log_hours, plan_work, reach_stage, take_back_hours
from restoration.forms.work import PlanForm, WaitForm, WorkForm
from restoration.models import WorkStep, WorkWait
from restoration.models.work_track import people
from restoration.views.attempts import attempt
from restoration.views.tracks import track_or_404
from timber_stock.web.pages import own_units, page_or_piece, signed_by

PAGE, PIECE = "restoration/work.html", "restoration/_work.html"


def work(request, spec_id):
    return _show(request, spec_id)


@require_POST
def work_record(request, spec_id):
    held = bool(track_or_404(spec_id).held)
    form = WorkForm(request.POST, units=own_units(request), held=held)
    if form.is_valid() and _recorded(request, spec_id, form):
        return _kept(request, spec_id, "The work is recorded.")
    return _show(request, spec_id, work_form=form)


def _recorded(request, spec_id, form):
    given = dict(form.cleaned_data)
    given |= {"spec_id": spec_id, "recorded_by": request.user}
    finishes, passing_over = form.finishes(), given.pop("passing_over")
    del given["done"]
    if finishes:
        attempt(form, reach_stage, passing_over=passing_over, **given)
    else:
        given.pop("override_reason", None)
        attempt(form, log_hours, **given)
    return not form.errors


@require_POST
def work_plan(request, spec_id):
    form = PlanForm(
        request.POST,
        units=own_units(request),
        initial=_planned(track_or_404(spec_id)),
        people=people(),
    )
    if form.is_valid():
        attempt(form, plan_work, spec_id=spec_id, **form.cleaned_data)
        if not form.errors:
            given = "given" if form.cleaned_data["person"] else "nobody's yet"
            return _kept(request, spec_id, f"The next step is {given}.")
    return _show(request, spec_id, plan_form=form)


@require_POST
def work_wait_new(request, spec_id):
    spec = track_or_404(spec_id).spec
    form = WaitForm(request.POST, units=own_units(request), spec=spec)
    if form.is_valid() and attempt(
        form, set_wait, spec_id=spec_id, by=request.user, **form.cleaned_data
    ):
        return _kept(request, spec_id, "The wait is set down.")
    return _show(request, spec_id, wait_form=form)


@require_POST
def work_wait_over(request, pk):
    wait = get_object_or_404(WorkWait, pk=pk)
    try:
        end_wait(wait=wait, on=timezone.localdate(), by=signed_by(request))
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
        return redirect("restoration:work", wait.spec_id)
    return _kept(request, wait.spec_id, "It need not wait for that any more.")


@require_POST
def work_hours_take_back(request, pk):
    step = get_object_or_404(WorkStep, pk=pk)
    try:
        take_back_hours(step=step, by=request.user, on=timezone.localdate())
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
        return redirect("restoration:work", step.spec_id)
    return _kept(request, step.spec_id, "Those hours are taken back.")


def _kept(request, spec_id, said):
    if request.htmx:
        return _show(request, spec_id, said=said)
    messages.success(request, said)
    return redirect("restoration:work", spec_id)


def _planned(now):
    return {"person": now.plan.person_id, "wanted_on": now.plan.wanted_on} if now.plan else {}


def _show(request, spec_id, said="", **forms):
    now = track_or_404(spec_id)
    units, spec = own_units(request), now.spec
    usual = {"stage": now.next.key if now.next else "other", "by": signed_by(request)}
    context = {
        "now": now,
        "spec": spec,
        "finding": spec.finding,
        "member": spec.finding.member,
        "vessel": spec.finding.member.vessel,
        "steps": spec.steps_done,
        "said": said,
        "work_form": forms.get("work_form")
        or WorkForm(units=units, initial=usual, held=bool(now.held)),
        "plan_form": forms.get("plan_form")
        or PlanForm(units=units, initial=_planned(now), people=people()),
        "wait_form": forms.get("wait_form") or WaitForm(units=units, spec=spec),
        "waits_refused": "wait_form" in forms,
        "here": reverse("restoration:work", args=[spec_id]),
    }
    return page_or_piece(request, PAGE, PIECE, context, status=422 if forms else 200)
