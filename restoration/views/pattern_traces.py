"""The outline traced on the true picture; everything ends in `keep_pattern`."""

import json

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.pattern_photographs import keep_drawing, keep_traced_pattern
from restoration.actions.patterns import usual_side
from restoration.calc.pattern import LINE_KINDS
from restoration.calc.rectify_sheet import sheet_of
from restoration.forms.pattern_trace import TraceForm
from restoration.models import Pattern
from restoration.views.attempts import attempt
from restoration.views.pattern_photographs import found, marks_version
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_units


def pattern_trace(request, pk):
    photograph = found(pk)
    board = photograph.settled()
    if board is None:
        messages.error(request, "Set the marks first: without them nothing can be measured.")
        return redirect(photograph)
    replaces = _replaced(request, photograph)
    later = request.POST.get("do") == "later"
    form = TraceForm(
        request.POST or None,
        later=later,
        units=own_units(request),
        initial=_first(photograph, replaces),
    )
    if request.method == "POST" and later:
        keep_drawing(photograph=photograph, drawing=form.drawing())
        messages.success(request, "The drawing is kept as far as it has come.")
        return redirect("restoration:pattern_trace", pk)
    if request.method == "POST" and form.is_valid() and form.read_pattern():
        kept = _kept(request, photograph, form, replaces)
        if kept:
            messages.success(request, f"The pattern “{kept.name}” is kept.")
            return redirect(kept)
    return _show(request, photograph, board, form, replaces)


def _kept(request, photograph, form, replaces):
    said = form.cleaned_data
    return attempt(
        form,
        keep_traced_pattern,
        photograph=photograph,
        pattern=form.pattern,
        drawing=form.drawing(),
        by=request.user,
        replaces=replaces,
        name=said["name"],
        side=said["side"],
        turns_over=said["turns_over"],
        note=said["note"],
    )


def _replaced(request, photograph) -> Pattern | None:
    """The pattern that this drawing makes a new version of, if the address names one."""
    asked = row_number(request.GET.get("replaces"))
    if asked is None:
        return None
    return get_object_or_404(Pattern, pk=asked, member=photograph.member)


def _first(photograph, replaces) -> dict:
    member = photograph.member
    first = {
        "name": f"{member.mark} from a photograph",
        "side": usual_side(member),
        "sided_mm": member.sided_mm,
        "grain_deg": 0,
        **photograph.drawing,
    }
    if replaces:
        first |= replaces.as_entered.get("drawing", {})
        first |= {"name": replaces.name, "side": replaces.side, "sided_mm": replaces.sided_mm}
    return first


def _show(request, photograph, board, form, replaces):
    sheet = sheet_of(board.fit.plane, photograph.as_marks())
    context = {
        "photograph": photograph,
        "member": photograph.member,
        "board": board,
        "form": form,
        "replaces": replaces,
        "sheet": sheet,
        "version": marks_version(photograph),
        "line_kinds": LINE_KINDS,
        "on_the_sheet": json.dumps(
            {
                "left": sheet.left_mm,
                "top": sheet.top_mm,
                "perPx": sheet.mm_per_px,
                "marks": [[mark.x_mm, mark.y_mm] for mark in photograph.as_marks()],
                "kinds": LINE_KINDS,
            }
        ),
    }
    status = 422 if form.errors else 200
    return render(request, "restoration/pattern_trace.html", context, status=status)
