from functools import partial

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect
from django.utils.safestring import mark_safe

from restoration.actions.allotments import (
    allot_board,
    record_cut,
    withdraw_allotment,
)
from restoration.actions.out_now import track_now
from restoration.actions.work import fit_length
from restoration.drawings.board_bar import board_bar
from restoration.forms.allotment import AllotForm, DoneForm, FittedForm
from restoration.forms.replacement import ReasonForm
from restoration.models import Allotment, ReplacementSpec
from restoration.reports import board_choice
from restoration.reports.what_else import what_else
from restoration.views.attempts import attempt
from restoration.views.spec_page import show_spec
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_units, page_or_piece


def allot(request, spec_id):
    spec = get_object_or_404(
        ReplacementSpec.objects.with_stage().for_list().prefetch_related("other_woods"),
        pk=spec_id,
    )
    choosing = board_choice.Choosing.of(spec, own_units(request))
    choice = _chosen(choosing, request.POST.get("board") or request.GET.get("board"))
    form = _allot_form(request, choice)
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        board = given.pop("board")
        if attempt(form, allot_board, spec=spec, board_id=board.pk, by=request.user, **given):
            messages.success(request, f"A length of {board} is allotted.")
            return redirect("restoration:spec", spec_id)
        # Someone was quicker: what is free now?
        choice = choosing.one(board.pk)
    return _allot_page(request, choosing, choice, form)


def _chosen(choosing, board_id):
    if not board_id:
        return None
    number = row_number(board_id)
    if number is None and not (board_id.isascii() and board_id.isdecimal()):
        raise Http404
    return None if number is None else choosing.one(number)


def _allot_form(request, choice):
    if request.method != "POST" and not choice:
        return None
    initial = {"board": choice and choice.board.pk}
    if choice and choice.proposed:
        initial |= {"from_mm": choice.proposed.from_mm, "to_mm": choice.proposed.to_mm}
    return AllotForm(
        request.POST or None,
        initial=initial,
        units=own_units(request),
        free=choice.free if choice else (),
    )


def _allot_page(request, choosing, choice, form):
    asked, spec, serving = request.GET.get("tag"), choosing.spec, choosing.serving()
    context = {
        "spec": spec,
        "finding": spec.finding,
        "member": spec.finding.member,
        "vessel": spec.finding.member.vessel,
        "chosen": choice and _shown(choice),
        "form": form,
        "asked": asked,
        "most": board_choice.MOST_SHOWN,
        "gone": request.GET.get("board") and not choice,
        "serving": [_shown(each) for each in serving],
        "none_serve": None if serving else what_else(choosing),
        "others": []
        if asked is None
        else [_shown(each) for each in choosing.by_tag(asked.strip())],
    }
    status = 422 if form is not None and form.is_bound else 200
    return page_or_piece(
        request, "restoration/allot.html", "restoration/_allot_chosen.html", context, status=status
    )


def _shown(choice):
    """A choice with its drawing."""
    taken = [
        (board_choice.Stretch(a.from_mm, a.to_mm), board_choice.full_mark(a)) for a in choice.taken
    ]
    proposed = choice.proposed if choice.serves else None
    says = f"{choice.board}, from its butt end: what is taken and what is free"
    drawn = board_bar(choice.board.length_mm, taken, proposed, says=says)
    bar = mark_safe(drawn)  # escaped where it was drawn
    return {"choice": choice, "bar": bar, "beside": _beside(choice.taken, proposed)}


def _beside(taken, proposed):
    """The pieces that a proposed length touches: the saw's kerf is still to be left there."""
    if proposed is None:
        return []
    gaps = [(a, proposed.from_mm - a.to_mm, a.from_mm - proposed.to_mm) for a in taken]
    return [
        board_choice.full_mark(allotment)
        for allotment, before, after in gaps
        if min(abs(before), abs(after)) <= board_choice.HAIR_MM
    ]


def allotment_cut(request, pk):
    return _step(request, pk, "cut", DoneForm, record_cut)


def allotment_fitted(request, pk):
    """Into the hull: here too it waits for what it is to wait for."""
    allotment = get_object_or_404(Allotment, pk=pk)
    form = partial(FittedForm, held=bool(track_now(allotment.spec_id).held))
    return _step(request, pk, "fitted", form, partial(fit_length, recorded_by=request.user))


def allotment_withdraw(request, pk):
    return _step(request, pk, "withdraw", ReasonForm, withdraw_allotment)


DONE = {"cut": "is cut", "fitted": "is fitted", "withdraw": "is free again"}


def _step(request, pk, step, form_class, action):
    """One small form inside the specification's page: open it, refuse it, or do what it says."""
    allotment = get_object_or_404(Allotment.objects.select_related("board"), pk=pk)
    initial = {"by": request.user.full_name()}
    form = form_class(request.POST or None, units=own_units(request), initial=initial)
    if (
        request.method == "POST"
        and form.is_valid()
        and attempt(form, action, allotment=allotment, **form.cleaned_data)
    ):
        return _stepped(request, allotment, f"The length of {allotment.board} {DONE[step]}.")
    opened = {"pk": pk, "step": step, "form": form}
    status = 422 if form.errors else 200
    return show_spec(request, allotment.spec_id, opened=opened, status=status)


def _stepped(request, allotment, said):
    if request.htmx:
        return show_spec(request, allotment.spec_id, said=said)
    messages.success(request, said)
    return redirect("restoration:spec", allotment.spec_id)
