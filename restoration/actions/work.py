"""The work on a replacement, stage by stage: recorded, taken back, given to somebody."""

from datetime import date
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.allotments import record_cut, record_fitted
from restoration.actions.out_now import track_now
from restoration.actions.take_back import take_back_lengths
from restoration.calc import stages
from restoration.models import (
    Allotment,
    ReplacementSpec,
    User,
    Vessel,
    WorkPlan,
    WorkStep,
    WorkWait,
)
from restoration.models.work import RECORDED_HERE
from restoration.models.work_track import Held, Track
from timber_stock.web.days import day_said

BY_ITS_LENGTHS = {"sawn": record_cut, "fitted": record_fitted}
SAY_WHY = "Wait for that, or say why it is done all the same; the reason is kept."


@transaction.atomic
def reach_stage(
    *,
    spec_id: int,
    stage: str,
    on: date,
    by: str,
    recorded_by: User,
    hours: Decimal | None = None,
    note: str = "",
    passing_over: bool = False,
    override_reason: str = "",
) -> WorkStep | None:
    """Record that a stage is finished; what lies between must be recorded, or be passed over.

    Sawn and fitted are written to every length of its timber, where that is kept; a row of work
    holds the hours. What opens the hull while a neighbour is out wants a reason, which is kept.
    """
    now, reason = _locked_track(spec_id), override_reason.strip()
    _check_may_reach(now, stages.stage(stage), passing_over)
    reason = check_hull(now, stage, reason)
    _check_day(now, stage, on)
    if stage in BY_ITS_LENGTHS:
        _each_length(now, stage, on, by)
        if hours is None and not reason:
            return None
    return _keep(
        WorkStep(
            spec=now.spec, stage=stage, on=on, by=by.strip(), hours=hours, note=note.strip(),
            done=stage in RECORDED_HERE, recorded_by=recorded_by, override_reason=reason,
        )
    )  # fmt: skip


@transaction.atomic
def fit_length(
    *, allotment: Allotment, on: date, by: str, recorded_by: User, override_reason: str = ""
) -> Allotment:
    """One length of its timber fitted, as on the page of the specification; what the replacement
    waits for holds here too."""
    now = _locked_track(allotment.spec_id)
    reason = check_hull(now, "fitted", override_reason.strip())
    fitted = record_fitted(allotment=allotment, on=on, by=by)
    if reason:
        _keep(
            WorkStep(
                spec=now.spec, stage="fitted", on=on, by=by.strip(), recorded_by=recorded_by,
                override_reason=reason,
            )
        )  # fmt: skip
    return fitted


def check_hull(now: Track, stage: str, reason: str) -> str:
    """The reason where one is wanted; refused where it waits for what somebody set down, or where
    a neighbour is out and no reason is given."""
    if not stages.opens_the_hull(stage):
        return ""
    waits = [wait for wait in now.waits if stages.needs_the_hull(stage) or wait.after_id]
    if waits:
        raise ValidationError(_waits(now, waits[0]))
    if now.held and not reason:
        raise ValidationError([*(_held(now, held) for held in now.held), SAY_WHY])
    return reason if now.held else ""


def _held(now: Track, held: Held) -> str:
    if held.by is None:
        return f"{now.full_mark} is not to come out now: {held.why}."
    return f"{now.full_mark} is not to come out before {held.by.mark} is back: {held.why}."


@transaction.atomic
def log_hours(
    *, spec_id: int, stage: str, on: date, by: str, hours: Decimal, recorded_by: User, note=""
) -> WorkStep:
    """Hours spent on a stage that is not finished by them, or on other work."""
    spec = _standing(spec_id)
    return _keep(
        WorkStep(
            spec=spec, stage=stage, on=on, by=by.strip(), hours=hours, note=note.strip(),
            recorded_by=recorded_by,
        )
    )  # fmt: skip


@transaction.atomic
def take_back_stage(*, spec_id: int, stage: str, by: User, on: date) -> None:
    """Undo the stage it stands at; an earlier one only after those behind it. That the old one
    is taken out is undone while nothing new is in its place."""
    now = _locked_track(spec_id)
    if stage == stages.TAKEN_OUT.key:
        _not_taken_out(now, by, on)
        return
    if now.here.key != stage:
        said = stages.stage(stage).word
        raise ValidationError(
            f"{now.full_mark} is {now.here.word} now: “{said}” is not what was recorded last."
        )
    if stage in BY_ITS_LENGTHS:
        take_back_lengths(spec=now.spec, stage=stage)
    elif stage not in RECORDED_HERE:
        raise ValidationError(
            f"That {now.full_mark} is {now.here.word} is not taken back here: withdraw it on the "
            "page of the specification."
        )
    told = WorkStep.objects.standing().filter(spec=now.spec, stage=stage, on=now.last.on)
    told.update(taken_back_on=on, taken_back_by=by)


def _not_taken_out(now: Track, by: User, on: date) -> None:
    if not now.taken_out.on:
        raise ValidationError(f"{now.member.mark} is not recorded as taken out.")
    if stages.needs_the_hull(now.here.key):
        raise ValidationError(
            f"{now.full_mark} is {now.here.word}: the old one was out before that. Take that back "
            "first."
        )
    told = WorkStep.objects.standing().filter(spec=now.spec, stage=stages.TAKEN_OUT.key, done=True)
    told.update(taken_back_on=on, taken_back_by=by)


@transaction.atomic
def take_back_hours(*, step: WorkStep, by: User, on: date) -> None:
    step = WorkStep.objects.select_for_update().get(pk=step.pk)
    if step.taken_back_on:
        raise ValidationError("These hours are taken back already.")
    if step.done or step.override_reason:
        raise ValidationError("This row belongs to its stage: take the stage back.")
    step.taken_back_on, step.taken_back_by = on, by
    _keep(step)


@transaction.atomic
def plan_work(*, spec_id: int, person: User | None, wanted_on: date | None) -> WorkPlan | None:
    """Give the next step to somebody, or to nobody."""
    spec = _standing(spec_id)
    if person is None and wanted_on is None:
        WorkPlan.objects.filter(spec=spec).delete()
        return None
    if person is not None and person.role == "client":
        raise ValidationError("A client is not given the yard's work.")
    plan = WorkPlan.objects.filter(spec=spec).first() or WorkPlan(spec=spec)
    plan.person, plan.wanted_on = person, wanted_on
    return _keep(plan)


def _standing(spec_id: int) -> ReplacementSpec:
    spec = ReplacementSpec.objects.select_for_update().filter(pk=spec_id).first()
    if spec is None or spec.withdrawn_on:
        raise ValidationError("This specification was withdrawn: there is no work on it.")
    return spec


def _locked_track(spec_id: int) -> Track:
    """The hull is held too, so that two do not take out two neighbours at once."""
    spec = _standing(spec_id)
    Vessel.objects.select_for_update(of=("self",)).get(members__findings__specs=spec)
    return track_now(spec_id)


def _check_may_reach(now: Track, stage: stages.Stage, passing_over: bool) -> None:
    if stage.key in now.done:
        raise ValidationError(f"{now.full_mark} is {stage.word} already.")
    if stage.key not in {*RECORDED_HERE, *BY_ITS_LENGTHS}:
        raise ValidationError(f"{stage.word.capitalize()} is not recorded here.")
    between = stages.passed_over(now.done, stage.key)
    if must := [each for each in between if each in stages.OF_EVERY_LENGTH]:
        raise ValidationError(
            f"{now.full_mark} is not {must[0].word} yet: it cannot be {stage.word} before that."
        )
    untold = stages.newly_passed_over(now.done, stage.key)
    if untold and not passing_over:
        words = " and ".join(each.word for each in untold)
        raise ValidationError(
            f"{now.full_mark} is not recorded as {words}. Record that first, or say that it was "
            "passed over."
        )


def _waits(now: Track, wait: WorkWait) -> str:
    if wait.after_id:
        what = f"until {wait.after.finding.member.mark} is fastened"
    else:
        what = f"until {wait.member_out.mark} is out"
    return (
        f"{now.full_mark} waits {what}. Declare that wait over first, if it need not wait any more."
    )


def _check_day(now: Track, stage: str, on: date) -> None:
    """A stage comes on no day before those that led to it, nor after those that followed."""
    for each in (*now.reached, now.taken_out):
        key = each.stage.key
        if each.on is None or each.stage == stages.SPECIFIED:
            continue
        too_early = stages.leads_to(key, stage) and each.on > on
        if too_early or (stages.leads_to(stage, key) and each.on < on):
            raise ValidationError(
                f"“{each.stage.word.capitalize()}” is recorded for {day_said(each.on)}: it cannot "
                f"be {stages.stage(stage).word} on {day_said(on)}."
            )


def _each_length(now: Track, stage: str, on: date, by: str) -> None:
    record, field = BY_ITS_LENGTHS[stage], "cut_on" if stage == "sawn" else "fitted_on"
    for length in now.spec.standing_lengths:
        if not getattr(length, field):
            record(allotment=length, on=on, by=by.strip())


def _keep(row):
    row.full_clean()
    row.save()
    return row
