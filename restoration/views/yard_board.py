"""The yard board, and the one tap that moves a replacement to its next stage."""

from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from restoration.actions.work import reach_stage, take_back_stage
from restoration.calc import stages
from restoration.forms.work import BoardFilter, OneTapForm
from restoration.models import ReplacementSpec, Vessel
from restoration.models.work_track import for_tracks, people, track
from restoration.reports.yard_board import yard_board as board_of
from restoration.views.attempts import attempt
from restoration.views.tracks import track_or_404
from timber_stock.web.pages import own_units, page_or_piece, signed_by

PAGE, PIECE = "restoration/yard_board.html", "restoration/_yard_board.html"
FINISHED_PAGE = 100


def yard_board(request):
    return _show(request, request.GET)


def yard_board_finished(request):
    """Those that need nothing more, the last fastened first."""
    specs = ReplacementSpec.objects.finished().fastened_last_first()
    page = Paginator(for_tracks(specs), FINISHED_PAGE).get_page(request.GET.get("page"))
    tracks = [track(spec) for spec in page]
    return render(request, "restoration/yard_finished.html", {"page": page, "tracks": tracks})


@require_POST
def work_reach(request, spec_id):
    """From a card of the board: done today, by whoever is signed in."""
    now = track_or_404(spec_id)
    form = OneTapForm(request.POST, units=own_units(request))
    if form.is_valid():
        given = form.cleaned_data
        attempt(form, reach_stage, spec_id=spec_id, recorded_by=request.user, **given)
    if form.errors:
        said = " ".join(message for errors in form.errors.values() for message in errors)
        return _refused(request, now, said)
    stage = stages.stage(form.cleaned_data["stage"])
    return _done(request, f"{now.full_mark} is {stage.word}.", undo=(spec_id, stage.key))


@require_POST
def work_take_back(request, spec_id):
    now, stage = track_or_404(spec_id), request.POST.get("stage", "")
    if stage not in stages.BY_KEY:
        raise Http404
    today = timezone.localdate()
    try:
        take_back_stage(spec_id=spec_id, stage=stage, by=request.user, on=today)
    except ValidationError as error:
        return _refused(request, now, " ".join(error.messages))
    said = f"{now.full_mark} is not {stages.stage(stage).word} after all: taken back."
    if request.POST.get("from") == "board":
        return _done(request, said)
    messages.success(request, said)
    return redirect("restoration:work", spec_id)


def _done(request, said, undo=None):
    if request.htmx:
        return _show(request, request.POST, said=said, undo=undo)
    messages.success(request, said)
    return redirect(f"{reverse('restoration:yard_board')}?{_query(request.POST)}")


def _refused(request, now, said):
    if request.htmx:
        return _show(request, request.POST, refused=said, about=now, status=422)
    messages.error(request, said)
    return redirect("restoration:work", now.spec.pk)


def _show(request, asked, *, status=200, **more):
    form = BoardFilter(
        {name: asked.get(name, "") for name in ("vessel", "person")},
        units=own_units(request),
        vessels=Vessel.objects.visible_to(request.user),
        people=people(),
    )
    chosen = form.cleaned_data if form.is_valid() else {}
    vessel, person = chosen.get("vessel"), chosen.get("person")
    context = {
        "form": form,
        "board": board_of(vessel, person),
        "vessel": vessel,
        "person": person,
        "today": timezone.localdate(),
        "me": signed_by(request),
        **more,
    }
    return page_or_piece(request, PAGE, PIECE, context, status=status)


def _query(asked):
    kept = {name: asked[name] for name in ("vessel", "person") if asked.get(name)}
    return urlencode(kept)
