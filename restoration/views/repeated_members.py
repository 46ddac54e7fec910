from dataclasses import asdict

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration import timber
from restoration.actions.members import make_members
from restoration.calc.groups import kinds_by_group
from restoration.calc.repeat_sentence import read_sentence
from restoration.calc.repeated_members import usual_side
from restoration.forms.repeated_members import RepeatedMembersForm, SentenceForm
from restoration.models import Vessel
from restoration.views.attempts import attempt
from timber_stock.web.pages import own_units

CHANGED = "Something was changed after the preview. Look through the new one, then store it."


def members_repeat(request, vessel_id):
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    line = SentenceForm(request.GET or None)
    form, unread = _form(request, vessel, line)
    wanted = request.method == "POST" and form.is_valid() and "make" in request.POST
    if wanted and (made := _make(form, vessel)):
        messages.success(request, f"{len(made)} members made: {made[0]} to {made[-1]}.")
        return redirect(vessel)
    context = {
        "vessel": vessel,
        "line": line,
        "form": form,
        "unread": unread,
        "glossary": kinds_by_group(),
    }
    page = "restoration/members_repeat.html"
    refused = request.method == "POST" and form.errors
    return render(request, page, context, status=422 if refused else 200)


def _form(request, vessel, line) -> tuple[RepeatedMembersForm, tuple[str, ...]]:
    options = {"vessel": vessel, "units": own_units(request)}
    if request.method == "POST":
        return RepeatedMembersForm(request.POST, **options), ()
    if not line.is_valid() or not line.cleaned_data["sentence"]:
        return RepeatedMembersForm(initial={"side": "C"}, **options), ()
    said, unread = _read(line.cleaned_data["sentence"])
    return RepeatedMembersForm(said, **options), unread


def _read(sentence: str) -> tuple[dict, tuple[str, ...]]:
    woods = {wood.common_name: wood.pk for wood in timber.woods()}
    said = asdict(read_sentence(sentence, woods))
    unread = said.pop("unread")
    side = said["side"] or (usual_side(said["kind"]) if said["kind"] else "C")
    return {**said, "wood": woods.get(said["wood"], ""), "side": side}, unread


def _make(form, vessel):
    if not form.was_previewed():
        form.add_error(None, CHANGED)
        return None
    said = form.cleaned_data
    return attempt(
        form,
        make_members,
        vessel=vessel,
        kind=said["kind"],
        planned=form.planned,
        as_typed=form.as_typed(),
        wood=said["wood"],
        material=said["material"],
    )
