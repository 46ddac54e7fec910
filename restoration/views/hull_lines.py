from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.hull_lines import keep_hull_lines
from restoration.forms.hull_lines import HullLinesForm
from restoration.models import Vessel
from restoration.models.hull_lines import hull_lines_of
from restoration.views.attempts import attempt
from restoration.views.hull_drawing import Shown, draw
from restoration.views.hull_state import piece_of
from timber_stock.web.pages import own_units


def hull_lines(request, vessel_id):
    """Her lines and stations; "look" draws them without keeping them."""
    vessel = get_object_or_404(Vessel.objects.select_related("hull_lines"), pk=vessel_id)
    units = own_units(request)
    form = HullLinesForm(request.POST or None, instance=hull_lines_of(vessel), units=units)
    context = {"vessel": vessel, "form": form}
    if request.method == "POST" and form.is_valid():
        lines = form.save(commit=False)
        if "look" in request.POST:
            context |= _drawn(vessel, lines, units)
        elif attempt(form, keep_hull_lines, lines=lines):
            messages.success(request, f"The lines of {vessel.name} are kept.")
            return redirect("restoration:hull_sheet", vessel.pk)
    status = 422 if form.errors else 200
    return render(request, "restoration/hull_lines.html", context, status=status)


def _drawn(vessel, lines, units) -> dict:
    pieces = [piece_of(member, title=member.mark) for member in vessel.members.along_the_hull()]
    return {"looked": True, **draw(vessel, Shown(pieces, "Not kept yet"), units, lines)}
