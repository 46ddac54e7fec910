from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone

from timber_stock.drawings.moisture_plot import Reading, moisture_plot_svg
from timber_stock.forms.moisture import MoistureForm
from timber_stock.models import Board, MoistureReading, figures_of
from timber_stock.models.drying import counted_reading
from timber_stock.views.drying import drying_context
from timber_stock.web.pages import own_units, page_or_piece
from timber_stock.wood.meter import SALT_CAUTION, TREATED_CAUTION


def moisture_new(request, board_id):
    """A piece of the board's page; without the script, a page of its own."""
    board = get_object_or_404(Board.objects.for_list().select_related("sawing"), pk=board_id)
    units, wood = own_units(request), figures_of(board.species)
    form = MoistureForm(
        request.POST or None, instance=MoistureReading(board=board), units=units, wood=wood
    )
    if request.method == "POST" and form.is_valid():
        form.save()
        if not request.htmx:
            messages.success(request, f"The reading of {board.tag} is kept.")
            return redirect(board)
        form = MoistureForm(units=units, wood=wood)
    return page_or_piece(
        request,
        "timber_stock/moisture.html",
        "timber_stock/_moisture.html",
        moisture_context(board, form, wood, request.POST),
        status=422 if form.errors else 200,
    )


def moisture_context(board: Board, form: MoistureForm, wood, asked=None) -> dict:
    """The readings and, for a board in stick, how it dries."""
    readings = list(board.moisture_readings.all())
    if not form.is_bound:
        form.initial.setdefault("read_on", timezone.localdate())
        if readings:  # the same meter in the same hands, most often
            for name in ("instrument", "read_by", "method"):
                form.initial.setdefault(name, getattr(readings[-1], name))
    counted = [counted_reading(reading, wood) for reading in readings]
    return {
        "board": board,
        "readings": counted[::-1],
        "sources": _sources(counted),
        "plot": moisture_plot_svg([Reading(r.read_on, r.percent) for r in readings]),
        "moisture_form": form,
        "salt_caution": SALT_CAUTION,
        "treated_caution": TREATED_CAUTION,
        **drying_context(board, counted, wood, asked),
    }


def _sources(counted) -> list:
    """Each correction used, once, with whose it is."""
    steps = [step for one in counted if one.corrected for step in one.corrected.steps]
    return list({step.source: step for step in steps}.values())
