"""Photographs marked up, ordered and captioned, and held side by side over the years."""

from collections.abc import Iterable
from itertools import groupby, zip_longest

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST

from restoration.actions.photographs import mark_photograph, move_photograph
from restoration.calc.picture_marks import SCALE_CAUTION
from restoration.drawings.picture_marks import picture_marks_svg
from restoration.forms.photographs import CaptionForm, MarkForm
from restoration.models import Member, Photograph, PhotographMark
from restoration.views.attempts import attempt


def with_overlays(photographs: Iterable[Photograph]) -> list[Photograph]:
    """Each with its marks drawn, as `overlay`. Read them with `prefetch_related("marks")`."""
    found = list(photographs)
    for photograph in found:
        marks = [mark.as_mark() for mark in photograph.marks.all()]
        svg = picture_marks_svg(marks, photograph.width_px, photograph.height_px)
        photograph.overlay = mark_safe(svg)
    return found


def photograph_marks(request, pk):
    """The picture large, with what is marked on it, and the form for one mark more."""
    form = MarkForm(request.POST or None)
    photograph = _found(pk)
    if request.method == "POST" and form.is_valid() and _marked(request, photograph, form):
        return redirect("restoration:photograph_marks", pk)
    return _show(request, photograph, form=form, status=422 if form.errors else 200)


def _marked(request, photograph, form) -> PhotographMark | None:
    return attempt(
        form,
        mark_photograph,
        photograph=photograph,
        kind=form.cleaned_data["kind"],
        points=form.points(),
        text=form.cleaned_data["text"],
        by=request.user,
    )


@require_POST
def photograph_mark_delete(request, pk):
    mark = get_object_or_404(PhotographMark, pk=pk)
    mark.delete()
    messages.success(request, "The mark is taken away. The photograph is as it was.")
    return redirect("restoration:photograph_marks", mark.photograph_id)


@require_POST
def photograph_move(request, pk):
    photograph = get_object_or_404(Photograph, pk=pk)
    move_photograph(photograph=photograph, earlier=request.POST.get("to") != "later")
    return redirect(photograph.finding.get_absolute_url() + "#photographs")


@require_POST
def photograph_caption(request, pk):
    photograph = _found(pk)
    form = CaptionForm(request.POST)
    if not form.is_valid():
        return _show(request, photograph, caption=form, status=422)
    photograph.caption = form.cleaned_data["caption"]
    photograph.save(update_fields=["caption"])
    messages.success(request, "The caption is kept.")
    return redirect("restoration:photograph_marks", pk)


def member_photographs(request, pk):
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=pk)
    context = {"member": member, "surveys": _by_survey(member)}
    return render(request, "restoration/member_photographs.html", context)


def photographs_compare(request, member_id):
    """Two surveys of one member: their photographs in two columns, the first beside the first."""
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=member_id)
    surveys = _by_survey(member)
    left = _chosen(surveys, request.GET.get("left"), 1)
    right = _chosen(surveys, request.GET.get("right"), 0)
    context = {
        "member": member,
        "surveys": surveys,
        "left": left,
        "right": right,
        "pairs": list(zip_longest(left[1], right[1])) if left and right else [],
    }
    return render(request, "restoration/photographs_compare.html", context)


def _by_survey(member: Member) -> list[tuple]:
    """(survey, its photographs of the member), the newest survey first."""
    found = Photograph.objects.filter(finding__member=member).order_by(
        "-finding__survey__surveyed_on", "-finding__survey_id", "finding_id", "position", "pk"
    )
    found = found.select_related("finding__survey").prefetch_related("marks")
    groups = groupby(with_overlays(found), key=lambda photograph: photograph.finding.survey)
    return [(survey, list(photographs)) for survey, photographs in groups]


def _chosen(surveys: list[tuple], asked: str | None, otherwise: int) -> tuple | None:
    """The survey asked for; else the newest for the right and the one before it for the left."""
    for survey, photographs in surveys:
        if str(survey.pk) == asked:
            return survey, photographs
    return surveys[min(otherwise, len(surveys) - 1)] if surveys else None


def _found(pk) -> Photograph:
    found = Photograph.objects.select_related("finding__survey__vessel", "finding__member__vessel")
    return get_object_or_404(found, pk=pk)


def _show(request, photograph, *, form=None, caption=None, status=200):
    with_overlays([photograph])
    context = {
        "photograph": photograph,
        "finding": photograph.finding,
        "member": photograph.finding.member,
        "survey": photograph.finding.survey,
        "marks": photograph.marks.select_related("made_by"),
        "form": form or MarkForm(),
        "caption_form": caption or CaptionForm(initial={"caption": photograph.caption}),
        "caution": SCALE_CAUTION,
    }
    return render(request, "restoration/photograph_marks.html", context, status=status)
