"""A pattern typed or pasted as a table of offsets; any pattern changed, by its tables."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.patterns import keep_pattern
from restoration.calc.vocabulary import member_kind
from restoration.forms.patterns import OffsetsForm
from restoration.models import Member, Pattern
from restoration.models.pattern import Taken
from restoration.views.attempts import attempt
from restoration.views.pattern_drawing import drawn
from timber_stock.web.pages import own_units


def pattern_offsets(request, member_id):
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=member_id)
    return _typed(request, member, None)


def pattern_edit(request, pk):
    """Keeps the next version; the one that is changed stays to be read."""
    whole = Pattern.objects.select_related("member__vessel", "replaced_by", "drawing")
    pattern = get_object_or_404(whole, pk=pk)
    if not pattern.stands():
        messages.error(request, "This version has been replaced already: change the newest.")
        return redirect(pattern)
    return _typed(request, pattern.member, pattern)


def _typed(request, member: Member, taken_from: Pattern | None):
    units = own_units(request)
    form = OffsetsForm(request.POST or None, member=member, taken_from=taken_from, units=units)
    context = {
        "member": member, "vessel": member.vessel, "form": form, "pattern": taken_from,
        "first_end": member_kind(member.kind).first_end,
    }  # fmt: skip
    if request.method == "POST" and form.is_valid():
        if "look" in request.POST:
            name = form.cleaned_data["name"]
            context["drawing"] = drawn(form.pattern, name, member, units)
        elif kept := attempt(form, keep_pattern, **_to_keep(request, form, member, taken_from)):
            messages.success(request, f"{kept.name} is kept.")
            return redirect(kept)
    status = 422 if form.errors else 200
    return render(request, "restoration/pattern_offsets.html", context, status=status)


def _to_keep(request, form, member, taken_from) -> dict:
    """A drawing or a photograph is still that when a figure of it has been changed."""
    typed = taken_from is None or taken_from.taken == Taken.OFFSETS
    return {
        "member": member,
        "pattern": form.pattern,
        "taken": Taken.OFFSETS if typed else taken_from.taken,
        "by": request.user,
        "as_entered": form.as_entered() if typed else taken_from.as_entered,
        "drawing": None if typed else taken_from.drawing,
        "replaces": taken_from,
        **form.facts(),
    }
