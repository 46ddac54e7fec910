from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.actions import correct_board, enter_board
from timber_stock.forms.board import BoardForm, BoughtBoardForm
from timber_stock.forms.filters import BoardFilter
from timber_stock.forms.moisture import MoistureForm
from timber_stock.models import Board, figures_of
from timber_stock.models.tag_series import natural_order
from timber_stock.models.weights import weights_of_board
from timber_stock.views.board_section import section_context
from timber_stock.views.moisture import moisture_context
from timber_stock.web.pages import own_units, page_or_piece

A_PAGE = 100


def boards(request):
    narrowed = BoardFilter(request.GET)
    listed = narrowed.narrow(Board.objects.for_list().with_last_reading())
    page = Paginator(listed, A_PAGE).get_page(request.GET.get("page"))
    context = {"filter": narrowed, "page": page}
    return page_or_piece(request, "timber_stock/boards.html", "timber_stock/_boards.html", context)


def board(request, pk):
    board = get_object_or_404(_with_its_source(), pk=pk)
    resawing = getattr(board, "resawing", None)
    if resawing:
        pieces = resawing.pieces.with_last_reading()
        resawing.came_out = sorted(pieces, key=lambda piece: natural_order(piece.tag))
    wood = figures_of(board.species)
    form = MoistureForm(units=own_units(request), wood=wood)
    moisture = moisture_context(board, form, wood, request.GET)
    context = {
        "board": board,
        "resawing": resawing,
        "weights": weights_of_board(board, wood, _last_percent(moisture["readings"])),
        "wood_figures": wood,
        **moisture,
        **section_context(request, board, wood, moisture["readings"]),
    }
    asked = moisture.get("drying_form")
    refused = (asked and asked.errors) or (context.get("section_asked") and context["section_said"])
    status = 422 if refused else 200
    return render(request, "timber_stock/board.html", context, status=status)


def _last_percent(readings):
    return readings[0].percent if readings else None


def board_new(request):
    form = BoughtBoardForm(request.POST or None, units=own_units(request))
    return _keep(request, form, lambda board: enter_board(board=board), "A board bought sawn")


def board_edit(request, pk):
    board = get_object_or_404(_with_its_source(), pk=pk)
    form = BoardForm(request.POST or None, instance=board, units=own_units(request))
    return _keep(
        request,
        form,
        lambda changed: correct_board(board=changed, changed=form.changed_fields()),
        f"Board {board.tag}",
        board_id=pk,
    )


def _with_its_source():
    return Board.objects.for_list().select_related(
        "sawing__source_log", "sawing__source_board", "resawing"
    )


def _keep(request, form, write, title, board_id=None):
    if request.method == "POST" and form.is_valid():
        try:
            board = write(form.save(commit=False))
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            messages.success(request, f"Board {board.tag} is kept.")
            return redirect(board)
    context = {"form": form, "title": title, "board_id": board_id}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/board_form.html", context, status=status)
