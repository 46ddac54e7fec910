"""Boards matched to replacements: what a board could become, and a proposal for the whole yard."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST

from restoration import timber
from restoration.actions.matching import accept_proposed
from restoration.calc.free_length import Stretch
from restoration.drawings.board_bar import board_bar
from restoration.forms.matching import AcceptForm, MatchForm
from restoration.models import Vessel
from restoration.reports.board_choice import full_mark
from restoration.reports.board_uses import board_uses as uses_of
from restoration.reports.yard_match import Wish, yard_match
from timber_stock.web.pages import own_units

UNREADABLE = "What was sent is no proposed length. Open the page again and accept from there."


def board_uses(request, board_id):
    row = get_object_or_404(
        timber.boards_of_any_state().select_related("species", "log"), pk=board_id
    )
    if not row.is_in_stock():
        context = {"board": row, "pieces": timber.pieces_out_of(row)}
        found = 200 if row.state == "resawn" else 404  # its pieces lead on; else nothing is there
        return render(request, "restoration/board_no_more.html", context, status=found)
    found = uses_of(row, own_units(request))
    taken = [(Stretch(a.from_mm, a.to_mm), full_mark(a)) for a in found.board.taken]
    says = f"{row}, from its butt end: what is taken and what is free"
    bar = mark_safe(board_bar(row.length_mm, taken, says=says))  # escaped where it was drawn
    return render(
        request, "restoration/board_uses.html", {"found": found, "board": row, "bar": bar}
    )


def matching(request):
    form = MatchForm(
        request.GET if "kerf_mm" in request.GET else None,
        units=own_units(request),
        vessels=Vessel.objects.visible_to(request.user),
    )
    refused = form.is_bound and not form.is_valid()
    wish = Wish() if not form.is_bound else None if refused else form.wish()
    found = yard_match(own_units(request), wish) if wish else None
    context = {"form": form, "found": found, "wish": wish}
    return render(request, "restoration/matching.html", context, status=422 if refused else 200)


@require_POST
def matching_accept(request):
    """One of them, or those that are ticked, each by itself: one refused holds up no other."""
    one = request.POST.get("one")
    for token in [one] if one else request.POST.getlist("take"):
        _accept_one(request, token)
    if not (one or request.POST.getlist("take")):
        messages.error(request, "Tick what is to be accepted, or accept one by its own button.")
    asked = request.GET.urlencode()
    return redirect(reverse("restoration:matching") + (f"?{asked}" if asked else ""))


def _accept_one(request, token: str) -> None:
    form = AcceptForm.of(token)
    if not form.is_valid():
        messages.error(request, UNREADABLE)
        return
    try:
        made = accept_proposed(by=request.user, on=timezone.localdate(), **form.cleaned_data)
    except timber.Board.DoesNotExist:
        messages.error(request, UNREADABLE)
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    else:
        messages.success(request, f"A length of {made.board} is allotted to {full_mark(made)}.")
