"""A pattern from a photograph: sent, its marks set, made true, and traced."""

import hashlib

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.pattern_photographs import (
    keep_pattern_photograph,
    remove_pattern_photograph,
    set_marks,
    why_it_stays,
)
from restoration.calc.rectify_sheet import sheet_of
from restoration.drawings.rectified import rectified_jpeg
from restoration.forms.pattern_photographs import MarksForm, PatternPhotographForm
from restoration.models import Member, PatternPhotograph
from restoration.views.attempts import attempt
from timber_stock.web.kept_pictures import for_this_reader, picture_file
from timber_stock.web.pages import own_units


def pattern_photograph_new(request, member_id):
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=member_id)
    form = PatternPhotographForm(
        request.POST or None, request.FILES or None, units=own_units(request)
    )
    if request.method == "POST" and form.is_valid():
        kept = attempt(
            form,
            keep_pattern_photograph,
            member=member,
            picture=form.cleaned_data["photograph"],
            above_mm=form.cleaned_data["above_mm"],
            by=request.user,
        )
        if kept:
            return redirect(kept)
    context = {
        "member": member,
        "form": form,
        "photographs": member.pattern_photographs.select_related("kept_by"),
    }
    status = 422 if form.errors else 200
    return render(request, "restoration/pattern_photograph_new.html", context, status=status)


def pattern_photograph(request, pk):
    """The marks: tapped on the picture or typed, and how well they agree."""
    photograph = found(pk)
    form = MarksForm(
        request.POST or None,
        photograph=photograph,
        units=own_units(request),
        initial={"above_mm": photograph.above_mm, **photograph.as_entered},
    )
    if request.method == "POST" and form.is_valid() and _marks_set(photograph, form):
        messages.success(request, "The marks are kept. See how well they agree.")
        return redirect(f"{photograph.get_absolute_url()}#agreement")
    context = {
        "photograph": photograph,
        "member": photograph.member,
        "form": form,
        "board": photograph.settled(),
        "words": photograph.as_entered.get("words", ""),
    }
    status = 422 if form.errors else 200
    return render(request, "restoration/pattern_photograph.html", context, status=status)


def _marks_set(photograph, form) -> bool:
    said = form.cleaned_data
    attempt(
        form,
        set_marks,
        photograph=photograph,
        marks=said["marks"],
        above_mm=said["above_mm"],
        as_entered=form.typed() | said["corners"],
    )
    return not form.errors


def pattern_photograph_delete(request, pk):
    """Asks first; one that a pattern was traced on stays."""
    photograph = found(pk)
    reason = why_it_stays(photograph)
    if request.method == "POST" and not reason:
        remove_pattern_photograph(photograph=photograph)
        messages.success(request, "The photograph is removed.")
        return redirect("restoration:pattern_photograph_new", photograph.member_id)
    context = {"photograph": photograph, "member": photograph.member, "reason": reason}
    status = 422 if request.method == "POST" else 200
    return render(request, "restoration/pattern_photograph_delete.html", context, status=status)


def pattern_rectified(request, pk):
    """The board as it truly is. Its address changes with its marks, so it may be remembered."""
    photograph = found(pk)
    board = photograph.settled()
    if board is None:
        raise Http404
    sheet = sheet_of(board.fit.plane, photograph.as_marks())
    try:
        with photograph.image.open("rb") as file:
            jpeg = rectified_jpeg(file, board.fit.plane, sheet)
    except (FileNotFoundError, ValueError) as error:  # lost from the disk, or never there
        raise Http404 from error
    return for_this_reader(HttpResponse(jpeg, content_type="image/jpeg"))


def pattern_photograph_file(request, pk, size):
    """The photograph itself, to those whom the access table lets in; nothing else serves it."""
    return picture_file(get_object_or_404(PatternPhotograph, pk=pk), size)


def found(pk) -> PatternPhotograph:
    return get_object_or_404(PatternPhotograph.objects.select_related("member__vessel"), pk=pk)


def marks_version(photograph) -> str:
    """Changes whenever a mark does."""
    return hashlib.sha256(repr(photograph.marks).encode()).hexdigest()[:12]
