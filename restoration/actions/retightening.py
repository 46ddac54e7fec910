"""Visits to the nuts of timbers fitted green: proposed, moved, made."""

from datetime import date, timedelta

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration import timber
from restoration.calc.green_fitting import take_up, visits, within_table
from restoration.models import Allotment, ReplacementSpec, RetightenTask
from timber_stock.web.days import day_said
from timber_stock.wood.take_up import VISIT_DAYS, Visit

UNRECKONED = "Fitted green on {day}. {why} The dates are common practice."
RECKONED = (
    "Fitted green on {day}: by then it may have shrunk as much as this along a bolt through its "
    "{through} size, as it dries towards {percent:g} % ({place}, at its driest). Computed; the "
    "pace of drying is from memory."
)
STAYS_WET = (
    "Fitted green on {day}. By the figures it stays too wet to shrink ({place}); look at the nuts "
    "all the same."
)
NO_PLACE = "Where in the boat it serves is not said, so its take-up is not reckoned."


def propose_visits(allotment: Allotment) -> list[RetightenTask]:
    """What record_fitted sets down, inside its transaction; nothing for wood fitted seasoned.

    A figure that is missing never stands in the way of recording a fitting: the usual dates are
    set down without a take-up, and say why.
    """
    spec = ReplacementSpec.objects.select_related("wood").get(pk=allotment.spec_id)
    if spec.seasoning != "green":
        return []
    try:
        proposed = _reckoned(spec, allotment)
    except ValueError as error:
        proposed = _usual(allotment, str(error))
    for task in proposed:
        task.full_clean()
        task.save()
    return proposed


@transaction.atomic
def visit_made(*, task: RetightenTask, on: date, by: str, note: str = "") -> RetightenTask:
    """Mark a visit as made, and with it those that were due before it: the nuts are seen to."""
    task = _locked(task)
    if task.done_on:
        raise ValidationError(f"This visit was made on {day_said(task.done_on)} already.")
    fitted = task.allotment.fitted_on
    if fitted and on < fitted:
        raise ValidationError(f"The piece was fitted on {day_said(fitted)}: no visit came before.")
    earlier = task.allotment.retightenings.open().filter(due_on__lt=task.due_on)
    for passed in earlier:
        _make(passed, on, by, f"With the visit due {day_said(task.due_on)}.")
    return _make(task, on, by, note)


@transaction.atomic
def move_visit(*, task: RetightenTask, due_on: date) -> RetightenTask:
    task = _locked(task)
    if task.done_on:
        raise ValidationError(f"This visit was made on {day_said(task.done_on)}: its date stays.")
    task.due_on = due_on
    task.full_clean()
    task.save()
    return task


@transaction.atomic
def set_down_visit(
    *, allotment: Allotment, due_on: date, reason: str, take_up_mm: float | None = None
) -> RetightenTask:
    """A visit somebody wants, besides those proposed."""
    allotment = Allotment.objects.select_for_update().get(pk=allotment.pk)
    if not allotment.fitted_on:
        raise ValidationError("The piece is not fitted yet: there are no nuts to see to.")
    task = RetightenTask(
        allotment=allotment, due_on=due_on, reason=reason.strip(), take_up_mm=take_up_mm
    )
    task.full_clean()
    task.save()
    return task


def _reckoned(spec: ReplacementSpec, allotment: Allotment) -> list[RetightenTask]:
    service = timber.service_moistures().get(spec.place_in_boat)
    if service is None:
        raise ValueError(NO_PLACE)
    wood, wanted = timber.figures_of(spec.wood), spec.wanted()
    sizes = (spec.sided_mm, spec.moulded_mm)
    along = max(take_up(wanted, sizes, wood, service), key=lambda each: each.most_mm)
    thin = within_table(min(sizes))
    found = visits(allotment.fitted_on, along.most_mm, wood, thin, service)
    told = {"day": day_said(allotment.fitted_on), "place": service.place}
    if not found:
        day = allotment.fitted_on + timedelta(VISIT_DAYS[-1])
        return [RetightenTask(allotment=allotment, due_on=day, reason=STAYS_WET.format(**told))]
    reason = RECKONED.format(**told, through=along.through, percent=service.least_percent)
    return [_task(allotment, visit, reason) for visit in found]


def _task(allotment: Allotment, visit: Visit, reason: str) -> RetightenTask:
    return RetightenTask(
        allotment=allotment,
        due_on=visit.on,
        take_up_mm=round(visit.greatest_mm, 2),
        reason=reason,
    )


def _usual(allotment: Allotment, why: str) -> list[RetightenTask]:
    reason = UNRECKONED.format(day=day_said(allotment.fitted_on), why=why)
    return [
        RetightenTask(
            allotment=allotment, due_on=allotment.fitted_on + timedelta(days), reason=reason
        )
        for days in VISIT_DAYS
    ]


def _make(task: RetightenTask, on: date, by: str, note: str) -> RetightenTask:
    task.done_on, task.done_by, task.note = on, by, note
    task.full_clean()
    task.save()
    return task


def _locked(task: RetightenTask) -> RetightenTask:
    return (
        RetightenTask.objects.select_for_update(of=("self",))
        .select_related("allotment")
        .get(pk=task.pk)
    )
