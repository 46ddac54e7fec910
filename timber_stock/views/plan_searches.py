"""A search under way: how far it is, its best so far, and the button that stops it."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from timber_stock.actions import ask_to_stop
from timber_stock.models import PlanSearch
from timber_stock.models.search_state import is_lost, mark_lost
from timber_stock.web.pages import page_or_piece


def plan_search(request, pk):
    search = get_object_or_404(PlanSearch.objects.select_related("log", "plan"), pk=pk)
    if is_lost(search):
        mark_lost(search)
    if search.plan:
        return _go_to(request, search.plan)
    context = {
        "search": search,
        "log": search.log,
        "share": round(100 * search.share),
        "searching": search.state == PlanSearch.State.RUNNING,
    }
    return page_or_piece(
        request, "timber_stock/plan_search.html", "timber_stock/_plan_search.html", context
    )


@require_POST
def plan_stop(request, pk):
    search = get_object_or_404(PlanSearch, pk=pk)
    ask_to_stop(search=search)
    return redirect("timber_stock:plan_search", pk)


def _go_to(request, plan):
    address = plan.get_absolute_url()
    if request.htmx:
        return HttpResponse(status=204, headers={"HX-Redirect": address})
    return redirect(address)
