from dataclasses import asdict

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration import timber
from restoration.actions.setting_out import change_range
from restoration.calc.repeat_sentence import read_sentence
from restoration.forms.members_by_range import MembersByRangeForm
from restoration.forms.repeated_members import SentenceForm
from restoration.models import Vessel
from restoration.views.attempts import attempt
from timber_stock.web.pages import own_units

CHANGED = "Something was changed after the preview. Look through the new one, then change them."
READ = ("kind", "first", "last", "side", "sided", "moulded", "length")
NOT_FOR_A_RANGE = ("station_first", "station_last", "station_spacing", "moulded_ends")


def members_by_range(request, vessel_id):
    """Floors 4 to 9: sided 3 in. What each has and gets is shown before anything is changed."""
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    line = SentenceForm(request.GET or None)
    form, unread = _form(request, vessel, line)
    wanted = request.method == "POST" and form.is_valid() and "change" in request.POST
    if wanted and (changed := _change(form)):
        messages.success(request, f"{len(changed)} members changed.")
        return redirect(request.path)
    context = {"vessel": vessel, "line": line, "form": form, "unread": unread}
    refused = request.method == "POST" and form.errors
    page = "restoration/members_by_range.html"
    return render(request, page, context, status=422 if refused else 200)


def _form(request, vessel, line) -> tuple[MembersByRangeForm, tuple[str, ...]]:
    options = {"vessel": vessel, "units": own_units(request)}
    if request.method == "POST":
        return MembersByRangeForm(request.POST, **options), ()
    if not line.is_valid() or not line.cleaned_data["sentence"]:
        return MembersByRangeForm(**options), ()
    woods = {wood.common_name: wood.pk for wood in timber.woods()}
    said = asdict(read_sentence(line.cleaned_data["sentence"].replace(":", ","), woods))
    read = {name: said[name] for name in READ} | {"wood": woods.get(said["wood"], "")}
    read["side"] = read["side"] if read["side"] in ("P", "S") else ""
    read["last"] = read["last"] or read["first"]
    left_out = tuple(said[name] for name in NOT_FOR_A_RANGE if said[name])
    return MembersByRangeForm(read, **options), (*said["unread"], *left_out)


def _change(form):
    if not form.was_previewed():
        form.add_error(None, CHANGED)
        return None
    return attempt(
        form,
        change_range,
        members=form.chosen,
        changes=form.changes(),
        as_typed=form.as_typed(),
    )
