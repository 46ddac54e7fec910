from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.setting_out import set_out as store
from restoration.calc.vocabulary import member_kind
from restoration.drawings.hull.pieces import Piece
from restoration.forms.setting_out import SettingOutForm
from restoration.models import Vessel
from restoration.models.hull_lines import hull_lines_of
from restoration.views.attempts import attempt
from restoration.views.hull_drawing import Shown, draw
from restoration.views.hull_state import piece_of
from timber_stock.web.pages import own_units

CHANGED = "Something was changed after the preview. Look through the new one, then store it."


def set_out(request, vessel_id):
    """A usual set of members, seen on the hull sheet before any of it is stored."""
    vessel = get_object_or_404(Vessel.objects.select_related("hull_lines"), pk=vessel_id)
    units = own_units(request)
    lines = hull_lines_of(vessel)
    form = SettingOutForm(request.POST or None, vessel=vessel, lines=lines, units=units)
    context = {"vessel": vessel, "form": form, "lines": lines}
    if request.method == "POST" and form.is_valid():
        if "make" in request.POST and (made := _make(form)):
            messages.success(request, f"{len(made)} members are set out. Now give them sizes.")
            return redirect("restoration:members_by_range", vessel.pk)
        context |= draw(vessel, _shown(form), units, lines)
    status = 422 if form.errors else 200
    return render(request, "restoration/set_out.html", context, status=status)


def _make(form):
    if not form.was_previewed():
        form.add_error(None, CHANGED)
        return None
    lines = None if form.lines.pk else form.lines
    return attempt(form, store, vessel=form.vessel, proposed=form.new(), lines=lines)


def _shown(form) -> Shown:
    new = [_piece(number, member) for number, member in enumerate(form.new())]
    there = [
        piece_of(member, faint=True, title=f"{member.mark}: there already")
        for member in form.vessel.members.along_the_hull()
    ]
    legend = [("", "+", "to be made")]
    return Shown([*there, *new], "Proposed members, none stored yet", legend)


def _piece(number: int, member) -> Piece:
    return Piece(
        key=f"new-{number}",
        mark=member.mark,
        kind=member.kind,
        side=member.side,
        number=member.number,
        station_from=member.station_from,
        station_to=member.station_to,
        title=f"{member.mark}, {member_kind(member.kind).one}, proposed",
    )
