from django.contrib import messages
from django.db.models import ProtectedError
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.patterns import take_back_pattern
from restoration.calc.pattern_figures import figures
from restoration.calc.tiles import PAPERS
from restoration.models import Member, Pattern, ReplacementSpec, Vessel
from restoration.models.replacement import LACKING
from restoration.views.pattern_drawing import drawn_pattern
from restoration.views.pattern_needs import needs_brief
from timber_stock.measure import format_angle
from timber_stock.web.pages import own_units


def patterns(request, vessel_id):
    """Every pattern of a vessel that stands, in the order in which one walks her."""
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    rows = [
        (pattern, figures(pattern.shape()))
        for pattern in Pattern.objects.standing().of_vessel(vessel)
    ]
    specified = vessel.members.with_replacement().filter(is_specified=True, is_fitted=False)
    context = {
        "vessel": vessel,
        "rows": rows,
        "without": specified.filter(patterns=None).along_the_hull(),
    }
    return render(request, "restoration/patterns.html", context)


def pattern(request, pk):
    found = _pattern(pk)
    specs = ReplacementSpec.objects.open().with_stage()
    context = {
        "pattern": found,
        "spec": specs.filter(finding__member=found.member_id).order_by("-pk").first(),
        "lacking": LACKING,
        "member": found.member,
        "vessel": found.member.vessel,
        "shape": found.shape(),
        "figures": figures(found.shape()),
        "grain": _grain(found.shape().grain_deg),
        "bevels": [(bevel, format_angle(bevel.degrees)) for bevel in found.shape().bevels],
        "drawing": drawn_pattern(found, own_units(request)),
        "versions": found.versions()[1:],
        "newer": None if found.stands() else found.replaced_by,
        "needs": needs_brief(found, own_units(request)),
        "papers": PAPERS,
        "usual_paper": request.yard.paper,
    }
    return render(request, "restoration/pattern.html", context)


def pattern_new(request, member_id):
    """Which of the three ways to take it."""
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=member_id)
    context = {
        "member": member,
        "vessel": member.vessel,
        "patterns": member.patterns.standing().order_by("name"),
    }
    return render(request, "restoration/pattern_new.html", context)


def pattern_delete(request, pk):
    """Asks first; only the newest version goes, and all before it where that is asked."""
    found = _pattern(pk)
    reason = "" if found.stands() else "A newer version stands: remove that one first."
    if request.method == "POST" and not reason:
        everything = "all" in request.POST
        try:
            before = take_back_pattern(pattern=found, all_versions=everything)
        except ProtectedError:
            reason = "It stays: something else is made from it, such as a layout on a flitch."
        else:
            messages.success(request, _gone(found, before))
            return redirect(before or found.member)
    context = {
        "pattern": found,
        "member": found.member,
        "vessel": found.member.vessel,
        "reason": reason,
        "before": found.replaces,
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "restoration/pattern_delete.html", context, status=status)


def _gone(taken_back: Pattern, before: Pattern | None) -> str:
    if before is None:
        return f"{taken_back.name} is taken off the register."
    return (
        f"Version {taken_back.version} of {taken_back.name} is taken off the register: "
        f"version {before.version} stands again."
    )


def _grain(degrees: float) -> str:
    return f"{format_angle(degrees)} from along it" if degrees else "along it"


def _pattern(pk) -> Pattern:
    whole = Pattern.objects.select_related(
        "member__vessel", "by", "replaces", "replaced_by", "drawing"
    )
    return get_object_or_404(whole, pk=pk)
