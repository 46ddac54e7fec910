from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.members import keep_vessel
from restoration.calc.groups import by_group
from restoration.forms.vessels import VesselForm
from restoration.models import Vessel, VesselPicture
from restoration.views.attempts import attempt
from timber_stock.web.kept_pictures import picture_file
from timber_stock.web.pages import a_page_of, own_units


def vessels(request):
    listed = Vessel.objects.visible_to(request.user).select_related("client")
    if request.user.role != "client":
        listed = listed.with_progress()
    return render(request, "restoration/vessels.html", {"page": a_page_of(request, listed)})


def vessel(request, pk):
    seen = Vessel.objects.visible_to(request.user).select_related(
        "client", "planking_wood", "picture"
    )
    at_work = request.user.role != "client"
    vessel = get_object_or_404(seen.with_progress() if at_work else seen, pk=pk)
    reports = vessel.reports.select_related("survey", "superseded_by")
    context = {"vessel": vessel, "reports": reports}
    if at_work:
        context |= _work_on(vessel)
    return render(request, "restoration/vessel.html", context)


def _work_on(vessel) -> dict:
    """What those who work on her see besides, and a client does not."""
    members = vessel.members.along_the_hull().with_condition().with_replacement()
    groups = by_group(members.select_related("wood"))
    kinds = [kind for listed in groups.values() for kind, _ in listed]
    return {"groups": groups, "kinds": kinds, "surveys": vessel.surveys.newest_first()}


def vessel_picture(request, pk, size):
    """Her picture, to those whom the access table lets see her."""
    return picture_file(get_object_or_404(VesselPicture, vessel=pk), size)


def vessel_new(request):
    return _edit(request, Vessel())


def vessel_edit(request, pk):
    return _edit(request, get_object_or_404(Vessel, pk=pk))


def _edit(request, vessel):
    form = VesselForm(
        request.POST or None, request.FILES or None, instance=vessel, units=own_units(request)
    )
    if request.method == "POST" and form.is_valid():
        new_client = form.cleaned_data["new_client"]
        kept = attempt(
            form, keep_vessel, vessel=form.save(commit=False), new_client=new_client,
            **form.picture_said(),
        )  # fmt: skip
        if kept:
            messages.success(request, f"{kept.name} is kept.")
            return redirect(kept)
    status = 422 if form.errors else 200
    return render(request, "restoration/vessel_form.html", {"form": form}, status=status)
