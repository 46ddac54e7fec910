"""At the saw: the page that records what came out of a log or of a board."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect

from timber_stock.actions import resaw_board, saw_log
from timber_stock.forms.sawing import BoardSawingSheet, LogSawingSheet, with_another_row
from timber_stock.models import Board, Log
from timber_stock.web.pages import own_units, page_or_piece


def log_saw(request, pk):
    log = get_object_or_404(Log.objects.for_list(), pk=pk)
    sheet = LogSawingSheet(log, data=_typed(request), units=own_units(request))
    return _at_the_saw(
        request,
        sheet,
        lambda: saw_log(log=log, pieces=sheet.pieces(), **sheet.particulars()),
    )


def board_resaw(request, pk):
    board = get_object_or_404(Board.objects.for_list(), pk=pk)
    sheet = BoardSawingSheet(board, data=_typed(request), units=own_units(request))
    return _at_the_saw(
        request,
        sheet,
        lambda: resaw_board(board=board, pieces=sheet.pieces(), **sheet.particulars()),
    )


def _typed(request):
    if request.method != "POST":
        return None
    return with_another_row(request.POST) if "add_row" in request.POST else request.POST


def _at_the_saw(request, sheet, saw):
    """Record the sawing, or only show what it comes to when no more than that was asked."""
    keep = request.method == "POST" and not {"add_row", "reckon"} & set(request.POST)
    if not keep:
        sheet.hush()
    elif sheet.is_valid():
        try:
            sawing = saw()
        except ValidationError as error:
            sheet.refuse(error)
        else:
            messages.success(request, _said(sheet, sawing))
            return redirect(sheet.source)
    reckoned = "reckon" in request.POST
    piece = "_balance.html" if reckoned else "_saw_form.html"
    context = {
        "sheet": sheet,
        "source": sheet.source,
        "is_log": isinstance(sheet.source, Log),
        "reckoned": reckoned,
    }
    return page_or_piece(
        request,
        "timber_stock/saw.html",
        f"timber_stock/{piece}",
        context,
        status=422 if keep else 200,
    )


def _said(sheet, sawing):
    number = len(sheet.pieces())
    return f"{number} {'piece' if number == 1 else 'pieces'} came out of {sheet.source.tag}."
