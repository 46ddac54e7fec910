"""What a board's section will do, on its page, and the small form that says where its heart is."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.actions import correct_board
from timber_stock.drawings.section_pictures import drawn_ends
from timber_stock.forms.board_heart import HeartForm
from timber_stock.forms.board_section import BoardSectionForm
from timber_stock.models import Board
from timber_stock.models.board import State
from timber_stock.web.pages import own_ring_limits, own_units

NO_LONGER_A_BOARD = {State.RESAWN, State.GONE}


def section_context(request, board: Board, figures, readings) -> dict:
    """`readings` are the counted ones, the last first. Nothing for what is resawn or gone."""
    if board.state in NO_LONGER_A_BOARD:
        return {}
    units = own_units(request)
    form = BoardSectionForm(
        request.GET.dict(),
        board=board,
        figures=figures,
        readings=readings,
        limits=own_ring_limits(request),
        units=units,
    )
    answer = form.answer if form.is_valid() else None
    times = form.cleaned_data.get("exaggeration")
    return {
        "section_form": form,
        "section": answer,
        "section_said": form.said(),
        "section_asked": any(name.startswith("section-") for name in request.GET),
        "section_drawn": drawn_ends(answer.sheet, times, units) if answer else [],
        "last_percent": readings[0].percent if readings else None,
    }


def board_heart(request, pk):
    board = get_object_or_404(Board.objects.for_list(), pk=pk)
    form = HeartForm(request.POST or None, instance=board, units=own_units(request))
    if request.method == "POST" and form.is_valid():
        try:
            correct_board(board=form.save(commit=False), changed=form.changed_fields())
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            messages.success(request, f"Where the heart of {board.tag} lies is kept.")
            return redirect(board.get_absolute_url() + "#section")
    status = 422 if form.is_bound else 200
    context = {"form": form, "board": board}
    return render(request, "timber_stock/board_heart.html", context, status=status)
