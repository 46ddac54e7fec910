"""The page of one specification; the steps of its allotments open inside it."""

from django.shortcuts import get_object_or_404

from restoration.models import ReplacementSpec
from restoration.views.spec_saw import saw_context
from timber_stock.web.pages import page_or_piece

PAGE, PIECE = "restoration/spec.html", "restoration/_spec_timber.html"


def show_spec(request, pk, *, status=200, **more):
    """`more`: `opened` (the allotment, its form and which step), `said`."""
    spec = get_object_or_404(
        ReplacementSpec.objects.with_stage()
        .for_list()
        .select_related("specified_by")
        .prefetch_related("other_woods", "wanted_timbers__item__cutting_list"),
        pk=pk,
    )
    allotments = list(
        spec.allotments.select_related("board__species", "allotted_by").prefetch_related(
            "retightenings"
        )
    )
    context = {
        "spec": spec,
        "finding": spec.finding,
        "member": spec.finding.member,
        "vessel": spec.finding.member.vessel,
        "patterns": spec.finding.member.patterns.standing().defer("data").order_by("name"),
        "standing": [a for a in allotments if not a.withdrawn_on],
        "withdrawn": [a for a in allotments if a.withdrawn_on],
        "can_change": not spec.withdrawn_on
        and not any(a.cut_on for a in allotments if not a.withdrawn_on),
        "retightenings": _visits(allotments),
        "any_fitted_green": spec.seasoning == "green" and any(a.fitted_on for a in allotments),
        **({} if request.htmx else saw_context(request, spec)),
        **more,
    }
    return page_or_piece(request, PAGE, PIECE, context, status=status)


def _visits(allotments) -> list:
    """Every visit to every piece of it, the soonest first."""
    visits = [task for allotment in allotments for task in allotment.retightenings.all()]
    return sorted(visits, key=lambda task: (task.due_on, task.pk))
