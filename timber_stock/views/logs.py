from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.actions import keep_log
from timber_stock.forms.filters import LogFilter
from timber_stock.forms.log import LogForm
from timber_stock.models import Board, Log, figures_of
from timber_stock.models.tag_series import natural_order
from timber_stock.models.weights import balance_of_log_mm, weights_of_log
from timber_stock.views.log_ends import drawn_ends
from timber_stock.web.pages import own_units, page_or_piece

A_PAGE = 100


def logs(request):
    narrowed = LogFilter(request.GET)
    page = Paginator(narrowed.narrow(Log.objects.for_list()), A_PAGE).get_page(
        request.GET.get("page")
    )
    context = {"filter": narrowed, "page": page}
    return page_or_piece(request, "timber_stock/logs.html", "timber_stock/_logs.html", context)


def log(request, pk):
    log = get_object_or_404(Log.objects.for_list(), pk=pk)
    boards = sorted(log.boards.with_last_reading(), key=lambda board: natural_order(board.tag))
    wood = figures_of(log.species)
    context = {
        "log": log,
        "wood_figures": wood,
        "weights": weights_of_log(log, wood),
        "balance": balance_of_log_mm(log),
        "ends": drawn_ends(log, own_units(request)),
        "sawings": _sawings(log, boards),
        "boards": boards,
        "papers": list(log.papers.all()),
    }
    return render(request, "timber_stock/log.html", context)


def log_new(request):
    form = LogForm(request.POST or None, units=own_units(request))
    return _keep(request, form, "New log")


def log_edit(request, pk):
    log = get_object_or_404(Log, pk=pk)
    form = LogForm(request.POST or None, instance=log, units=own_units(request))
    return _keep(request, form, f"Log {log.tag}", log_id=pk)


def _keep(request, form, title, log_id=None):
    if request.method == "POST" and form.is_valid():
        try:
            log = keep_log(
                log=form.save(commit=False), is_sawn_up=form.cleaned_data.get("is_sawn_up")
            )
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            messages.success(request, f"Log {log.tag} is kept.")
            return redirect(log)
    context = {"form": form, "title": title, "log_id": log_id}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/log_form.html", context, status=status)


def _sawings(log: Log, boards: list[Board]):
    """Each sawing with the pieces that came of it, out of the boards already read."""
    sawings = list(log.sawings.all())
    for sawing in sawings:
        sawing.came_out = [board for board in boards if board.sawing_id == sawing.pk]
    return sawings
