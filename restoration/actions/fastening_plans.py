"""Layouts of new fastenings: kept whole or not at all, every hole on the timber."""

from collections.abc import Iterable

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.calc.fastening_layout import check_holes
from restoration.models import FasteningPlan, PlannedFastening, PlannedHole


@transaction.atomic
def keep_plan(*, plan: FasteningPlan) -> FasteningPlan:
    """Store a new or changed layout; refused where a hole would no longer be on the face."""
    plan.full_clean()
    plan.save()
    _check(plan)
    return plan


@transaction.atomic
def keep_planned_fastening(*, fastening: PlannedFastening) -> PlannedFastening:
    """Store a line of like fastenings; refused where its holes no longer fit their size."""
    _hold(fastening.plan)
    fastening.full_clean()
    fastening.save()
    _check(fastening.plan)
    return fastening


@transaction.atomic
def lay_holes(
    *, fastening: PlannedFastening, places: Iterable[tuple[float, float]]
) -> list[PlannedHole]:
    """Add holes for a line of fastenings, all of them or none."""
    _hold(fastening.plan)
    laid = []
    for x_mm, y_mm in places:
        hole = PlannedHole(fastening=fastening, x_mm=x_mm, y_mm=y_mm)
        hole.full_clean(validate_constraints=False)  # the face says better what is wrong
        laid.append(hole)
    _check(fastening.plan, laid)
    return PlannedHole.objects.bulk_create(laid)


@transaction.atomic
def keep_hole(*, hole: PlannedHole) -> PlannedHole:
    """Store one hole, new or moved."""
    plan = hole.fastening.plan
    _hold(plan)
    hole.full_clean(validate_constraints=False)
    _check(plan, [hole])
    hole.save()
    return hole


def _hold(plan: FasteningPlan) -> None:
    """Nobody else lays a hole into the same place meanwhile."""
    FasteningPlan.objects.select_for_update().get(pk=plan.pk)


def _check(plan: FasteningPlan, more: Iterable[PlannedHole] = ()) -> None:
    """All holes of the layout as it would be, `more` in place of those they are."""
    more = list(more)
    moved = {hole.pk for hole in more if hole.pk}
    kept = PlannedHole.objects.filter(fastening__plan=plan).exclude(pk__in=moved)
    laid = [*kept.select_related("fastening"), *more]
    try:
        check_holes(
            plan.face(), [plan.as_hole(hole.fastening, hole.x_mm, hole.y_mm) for hole in laid]
        )
    except ValueError as error:
        raise ValidationError(str(error)) from error
