from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone

from timber_stock.drawings.moisture_plot import Reading, moisture_plot_svg
from timber_stock.forms.moisture import MoistureForm
from timber_stock.models import Board, MoistureReading
from timber_stock.web.pages import own_units, page_or_piece


def moisture_new(request, board_id):
    """A piece of the board's page; without the script, a page of its own."""
    board = get_object_or_404(Board, pk=board_id)
    units = own_units(request)
    form = MoistureForm(request.POST or None, instance=MoistureReading(board=board), units=units)
    if request.method == "POST" and form.is_valid():
        form.save()
        if not request.htmx:
            messages.success(request, f"The reading of {board.tag} is kept.")
            return redirect(board)
        form = MoistureForm(units=units)
    return page_or_piece(
        request,
        "timber_stock/moisture.html",
        "timber_stock/_moisture.html",
        moisture_context(board, form),
        status=422 if form.errors else 200,
    )


def moisture_context(board: Board, form: MoistureForm) -> dict:
    readings = list(board.moisture_readings.all())
    if not form.is_bound:
        form.initial.setdefault("read_on", timezone.localdate())
        if readings:  # the same meter in the same hands, most often
            form.initial.setdefault("instrument", readings[-1].instrument)
            form.initial.setdefault("read_by", readings[-1].read_by)
    plot = moisture_plot_svg([Reading(r.read_on, r.percent) for r in readings])
    return {"board": board, "readings": readings[::-1], "plot": plot, "moisture_form": form}
