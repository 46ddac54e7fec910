"""The papers about timber alone. They live here, as papers do; the stock's pages link to them."""

from collections.abc import Sequence

from django.shortcuts import get_object_or_404
from django.utils import timezone

from restoration import timber
from restoration.reports.cutting_list import cutting_list_paper, log_wanted_paper
from restoration.reports.saw_sheet import saw_sheet_paper
from restoration.reports.stock_list import board_list, log_list
from restoration.views.paper_answers import as_pdf
from timber_stock.web.pages import own_units


def saw_sheet_pdf(request, pk):
    plan = get_object_or_404(timber.SawingPlan.objects.for_list().select_related("log__species"),
                             pk=pk)  # fmt: skip
    return as_pdf(request, saw_sheet_paper(plan, **_for(request)))


def cutting_list_pdf(request, pk):
    return as_pdf(request, cutting_list_paper(_list(pk), **_for(request)), lying=True)


def log_wanted_pdf(request, pk):
    return as_pdf(request, log_wanted_paper(_list(pk), **_for(request)))


def boards_pdf(request):
    narrowed = timber.BoardFilter(request.GET)
    boards = list(narrowed.narrow(timber.Board.objects.for_list().with_last_reading()))
    return as_pdf(request, board_list(boards, _said(narrowed), **_for(request)), lying=True)


def logs_pdf(request):
    narrowed = timber.LogFilter(request.GET)
    logs = list(narrowed.narrow(timber.Log.objects.for_list()))
    return as_pdf(request, log_list(logs, _said(narrowed), **_for(request)), lying=True)


def _said(narrowed) -> Sequence[tuple[str, str]]:
    """What a list was narrowed to, each as on the page; what is always so is said too."""
    said = []
    for field in narrowed:
        value = narrowed.cleaned_data.get(field.name)
        choices = dict(getattr(field.field, "choices", ()))
        if field.name == "which":
            said.append((field.label, str(choices.get(value or "", ""))))
        elif value:
            said.append((field.label, str(choices.get(value, value))))
    return said


def _for(request) -> dict:
    return {"units": own_units(request), "on": timezone.localdate()}


def _list(pk) -> timber.CuttingList:
    return get_object_or_404(timber.CuttingList, pk=pk)
