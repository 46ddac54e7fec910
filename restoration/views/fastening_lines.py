"""The lines of like fastenings in a layout, and their holes."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect

from restoration.actions.fastening_plans import keep_hole, keep_planned_fastening, lay_holes
from restoration.calc.fastening_layout import rows_of_holes
from restoration.forms.fastening_plans import HoleForm, HolesForm, PlannedFasteningForm
from restoration.models import FasteningPlan, PlannedFastening, PlannedHole
from restoration.views.fastening_plans import attempt_said, kept, plan_form, take_off
from timber_stock.web.pages import own_units


def planned_fastening_new(request, plan_id):
    plan = get_object_or_404(FasteningPlan.objects.whole(), pk=plan_id)
    fastening = PlannedFastening(plan=plan)
    form = PlannedFasteningForm(request.POST or None, instance=fastening, units=own_units(request))
    if request.method == "POST" and kept(request, form, keep_planned_fastening, "fastening"):
        messages.success(request, f"{fastening}: now lay out its holes.")
        return redirect("restoration:planned_holes_lay", fastening.pk)
    return plan_form(request, form, plan.joint, "Add fastenings", plan=plan)


def planned_fastening_edit(request, pk):
    fastening = _fastening(pk)
    form = PlannedFasteningForm(request.POST or None, instance=fastening, units=own_units(request))
    if request.method == "POST" and kept(request, form, keep_planned_fastening, "fastening"):
        messages.success(request, f"{fastening} is changed.")
        return redirect(fastening.plan)
    plan = fastening.plan
    return plan_form(request, form, plan.joint, "Change these fastenings", plan=plan)


def planned_fastening_delete(request, pk):
    fastening = _fastening(pk)
    if request.method == "POST":
        fastening.delete()
        messages.success(request, f"{fastening} is taken out of the layout.")
        return redirect(fastening.plan)
    count = fastening.holes.count()
    return take_off(request, fastening.plan, f"{fastening}, with {count} holes")


def planned_holes_lay(request, fastening_id):
    """Holes in rows, or one by itself; any of them off the timber and none is laid."""
    fastening = _fastening(fastening_id)
    form = HolesForm(request.POST or None, units=own_units(request))
    if request.method == "POST" and form.is_valid() and _laid(form, fastening, own_units(request)):
        messages.success(request, "The holes are laid out.")
        return redirect(fastening.plan)
    plan = fastening.plan
    title = f"Lay out holes: {fastening}"
    return plan_form(request, form, plan.joint, title, plan=plan, grouped=False, button="Lay out")


def planned_hole_edit(request, pk):
    hole = _hole(pk)
    form = HoleForm(request.POST or None, instance=hole, units=own_units(request))
    if request.method == "POST" and kept(request, form, keep_hole, "hole"):
        messages.success(request, "The hole is moved.")
        return redirect(hole.fastening.plan)
    plan = hole.fastening.plan
    title = f"Move a hole: {hole.fastening}"
    return plan_form(request, form, plan.joint, title, plan=plan, grouped=False, button="Move")


def planned_hole_delete(request, pk):
    hole = _hole(pk)
    plan = hole.fastening.plan
    if request.method == "POST":
        hole.delete()
        messages.success(request, "The hole is taken out.")
        return redirect(plan)
    numbers = {row.pk: drawn.number for row, drawn in plan.numbered}
    return take_off(request, plan, f"hole {numbers[hole.pk]} of the layout")


def _laid(form: HolesForm, fastening: PlannedFastening, units: str) -> bool:
    said = form.cleaned_data
    try:
        places = rows_of_holes(
            (said["first_x"], said["first_y"]),
            said["along"],
            said["along_apart"] or 0.0,
            said["rows"],
            said["rows_apart"] or 0.0,
            said["staggered"],
        )
    except ValueError as error:
        form.add_error(None, str(error))
        return False
    return attempt_said(form, units, lay_holes, fastening=fastening, places=places)


def _fastening(pk) -> PlannedFastening:
    rows = PlannedFastening.objects.select_related(
        "replaces", "plan__joint__one__vessel", "plan__joint__other__vessel"
    )
    return get_object_or_404(rows, pk=pk)


def _hole(pk) -> PlannedHole:
    rows = PlannedHole.objects.select_related(
        "fastening__plan__joint__one__vessel", "fastening__plan__joint__other__vessel"
    )
    return get_object_or_404(rows, pk=pk)
