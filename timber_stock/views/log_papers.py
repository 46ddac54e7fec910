"""The papers of a log: sent in, served to whom the access table lets in, taken off."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from timber_stock.actions.log_papers import keep_paper, remove_paper
from timber_stock.forms.log_paper import LogPaperForm
from timber_stock.forms.sawing_cost import SawingCostForm
from timber_stock.models import Log, LogPaper, Sawing
from timber_stock.web.pages import own_units, signed_by


def log_paper_new(request, log_id):
    log = get_object_or_404(Log, pk=log_id)
    form = LogPaperForm(request.POST or None, request.FILES or None, units=own_units(request))
    if request.method == "POST" and form.is_valid():
        try:
            keep_paper(log=log, by=signed_by(request), on=timezone.localdate(),
                       **form.cleaned_data)  # fmt: skip
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            messages.success(request, "The paper is kept with the log.")
            return redirect(f"{log.get_absolute_url()}#provenance")
    status = 422 if request.method == "POST" else 200
    context = {"form": form, "log": log}
    return render(request, "timber_stock/log_paper_new.html", context, status=status)


def log_paper_file(request, pk):
    """The file itself, to those whom the access table lets in; nothing else serves it."""
    paper = get_object_or_404(LogPaper, pk=pk)
    try:
        response = FileResponse(
            paper.file.open("rb"),
            content_type=paper.content_type,
            as_attachment=not paper.is_picture(),
            filename=f"{paper.sha256[:16]}.{'jpg' if paper.is_picture() else 'pdf'}",
        )
    except (FileNotFoundError, ValueError) as error:  # lost from the disk, or never there
        raise Http404 from error
    response["Cache-Control"] = "private, max-age=3600"
    response["X-Content-Type-Options"] = "nosniff"
    return response


def log_paper_delete(request, pk):
    paper = get_object_or_404(LogPaper.objects.select_related("log"), pk=pk)
    if request.method == "POST":
        remove_paper(paper=paper)
        messages.success(request, "The paper is taken off the log.")
        return redirect(f"{paper.log.get_absolute_url()}#provenance")
    return render(request, "timber_stock/log_paper_delete.html", {"paper": paper})


def sawing_cost(request, pk):
    """What a sawing cost, when the bill comes after the boards."""
    sawing = get_object_or_404(Sawing.objects.select_related("source_log", "source_board"), pk=pk)
    source = sawing.source_log or sawing.source_board
    form = SawingCostForm(
        request.POST or None, units=own_units(request), initial={"cost": sawing.cost}
    )
    if request.method == "POST" and form.is_valid():
        sawing.cost = form.cleaned_data["cost"]
        sawing.save(update_fields=["cost"])
        messages.success(request, "What the sawing cost is kept.")
        return redirect(source)
    status = 422 if request.method == "POST" else 200
    context = {"form": form, "sawing": sawing, "source": source}
    return render(request, "timber_stock/sawing_cost.html", context, status=status)
