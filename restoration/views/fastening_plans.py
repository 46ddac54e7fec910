"""The layouts of a joint's new fastenings: listed, made, changed, drawn with their checks."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.safestring import mark_safe

from restoration.actions.fastening_plans import keep_plan
from restoration.calc.fastening_table import gathered
from restoration.calc.scarf import CAUTION as SCARF_CAUTION
from restoration.calc.scarf import scarf_checks
from restoration.drawings.fastening_layout import fastening_layout
from restoration.drawings.hull.paper import Sheet
from restoration.drawings.hull.svg import svg
from restoration.forms.fastening_plans import FasteningPlanForm
from restoration.models import FasteningPlan, Joint
from restoration.views.fastening_facts import (
    cautions_of,
    distances_of,
    lines_of,
    reach,
    woods_of,
)
from timber_stock.templatetags.measures import lengths_in
from timber_stock.web.fields import format_for
from timber_stock.web.pages import own_units


def joint_fastenings(request, joint_id):
    """A joint with its old fastenings and the layouts of new ones."""
    joint = get_object_or_404(_joints(), pk=joint_id)
    plans = joint.fastening_plans.prefetch_related("fastenings__holes")
    context = {
        "joint": joint,
        "vessel": joint.one.vessel,
        "plans": plans,
        "from_member": request.GET.get("member", ""),
        "cautions": cautions_of(joint),
    }
    return render(request, "restoration/joint_fastenings.html", context)


def fastening_plan_new(request, joint_id):
    joint = get_object_or_404(_joints(), pk=joint_id)
    plan = _begun(joint, request.GET.get("member"))
    form = FasteningPlanForm(request.POST or None, instance=plan, units=own_units(request))
    if request.method == "POST" and kept(request, form, keep_plan, "plan"):
        messages.success(request, "The face is laid out: add its fastenings.")
        return redirect(plan)
    return plan_form(request, form, joint, "Lay out new fastenings", plan=None)


def fastening_plan_edit(request, pk):
    plan = get_object_or_404(FasteningPlan.objects.whole(), pk=pk)
    form = FasteningPlanForm(request.POST or None, instance=plan, units=own_units(request))
    if request.method == "POST" and kept(request, form, keep_plan, "plan"):
        messages.success(request, "The layout is changed.")
        return redirect(plan)
    return plan_form(request, form, plan.joint, "Change the face and its timbers", plan=plan)


def fastening_plan_delete(request, pk):
    plan = get_object_or_404(FasteningPlan.objects.whole(), pk=pk)
    if request.method == "POST":
        plan.delete()
        messages.success(request, f"The layout of {plan.name} is taken away.")
        return redirect("restoration:joint_fastenings", plan.joint_id)
    what = f"the layout of {plan.name} with its {len(plan.holes())} holes"
    return take_off(request, plan, what)


def fastening_plan(request, pk):
    """The drawing, the schedule and every distance beside what is published."""
    plan = get_object_or_404(FasteningPlan.objects.whole(), pk=pk)
    woods = woods_of(plan)
    checked = distances_of(plan, woods)
    context = {
        **about(plan),
        "drawing": mark_safe(svg(drawing_of(plan, woods, own_units(request)), "fastening-layout")),
        "lines": lines_of(plan, woods, checked),
        "numbered": plan.numbered,
        "short": gathered(each for each in checked if not each.is_full),
        "short_count": sum(not each.is_full for each in checked),
        "checked": gathered(checked),
        "checked_count": len(checked),
        "reach": reach(plan),
        "unknown": woods.unknown,
        "metal": sorted(woods.metal),
        "scarf": _scarf(plan),
        "scarf_caution": SCARF_CAUTION,
    }
    return render(request, "restoration/fastening_plan.html", context)


def about(plan: FasteningPlan) -> dict:
    """What every page of a layout begins with, the caution among it."""
    return {
        "plan": plan,
        "joint": plan.joint,
        "vessel": plan.joint.one.vessel,
        "head": plan.head(),
        "point": plan.point(),
        "cautions": cautions_of(plan.joint),
    }


def kept(request, form, action, name: str, **more) -> bool:
    """Whether the form and the action took it; if not the form says why in the reader's units."""
    return form.is_valid() and attempt_said(
        form, own_units(request), action, **{name: form.instance}, **more
    )


def attempt_said(form, units: str, action, **what) -> bool:
    try:
        action(**what)
    except ValidationError as error:
        said = [lengths_in(sentence, units) for sentence in error.messages]
        form.add_error(None, said)
        return False
    return True


def plan_form(request, form, joint, title, *, plan, grouped=True, button="Keep"):
    """Any form of a layout; refused it comes back with everything typed."""
    context = {
        "form": form,
        "joint": joint,
        "vessel": joint.one.vessel,
        "plan": plan,
        "title": title,
        "grouped": grouped,
        "button": button,
        "cautions": cautions_of(joint),
        "back": plan.get_absolute_url() if plan and plan.pk else None,
    }
    status = 422 if form.errors else 200
    return render(request, "restoration/fastening_plan_form.html", context, status=status)


def take_off(request, plan, what: str):
    return render(request, "restoration/fastening_take_off.html", {**about(plan), "what": what})


def _joints():
    return Joint.objects.select_related(
        "one__vessel", "one__wood", "other__vessel", "other__wood"
    ).prefetch_related("fastenings")


def _begun(joint: Joint, member_id: str | None) -> FasteningPlan:
    """A layout to fill in, with the sizes that the members have already."""
    plan = FasteningPlan(joint=joint, head_in_other=member_id == str(joint.other_id))
    plan.head_thickness_mm = plan.head().moulded_mm
    plan.point_thickness_mm = plan.point().moulded_mm
    return plan


def drawing_of(plan: FasteningPlan, woods, units: str) -> Sheet:
    """The layout as plain shapes, lengths in the reader's own units."""

    def say(mm: float) -> str:
        return format_for(mm, units)

    return fastening_layout(plan.face(), woods.both, plan.holes(), plan.load_deg, say, woods.metal)


def _scarf(plan: FasteningPlan):
    if not plan.scarf_of or not plan.scarf_depth_mm:
        return ()
    return scarf_checks(plan.length_mm, plan.scarf_depth_mm, plan.scarf_of)
