"""What a replacement waits for before it goes into the hull: set down, and declared over."""

from collections import defaultdict
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.calc.waiting import circle, refusal
from restoration.models import Member, ReplacementSpec, User, Vessel, WorkWait


@transaction.atomic
def set_wait(
    *,
    spec_id: int,
    after: ReplacementSpec | None = None,
    member_out: Member | None = None,
    note: str = "",
    by: User,
) -> WorkWait:
    """Refused where it would wait for itself, by however many steps round."""
    spec = ReplacementSpec.objects.select_related("finding__member").get(pk=spec_id)
    vessel_id = spec.finding.member.vessel_id
    # Held, so that two who set down waits at once cannot close a circle between them.
    Vessel.objects.select_for_update().get(pk=vessel_id)
    if spec.withdrawn_on:
        raise ValidationError("This specification was withdrawn: it waits for nothing.")
    other = after.finding.member if after else member_out
    if other is None or (after and member_out):
        raise ValidationError(
            "Say what it waits for: another replacement, or a member that must be out. Not both."
        )
    if other.vessel_id != vessel_id:
        raise ValidationError("It waits only for work on the same vessel.")
    for row in (spec, after):
        _check_not_fastened(row)
    if after:
        _check_no_circle(spec, after, vessel_id)
    wait = WorkWait(spec=spec, after=after, member_out=member_out, note=note.strip(), set_by=by)
    wait.full_clean()
    wait.save()
    return wait


@transaction.atomic
def end_wait(*, wait: WorkWait, on: date, by: str) -> WorkWait:
    wait = WorkWait.objects.select_for_update(of=("self",)).get(pk=wait.pk)
    if wait.over_on:
        raise ValidationError("This wait is over already.")
    wait.over_on, wait.over_by = on, by.strip()
    wait.full_clean()
    wait.save()
    return wait


def _check_not_fastened(spec: ReplacementSpec | None) -> None:
    if spec and spec.work_steps.done().filter(stage="fastened").exists():
        mark = spec.finding.member.mark
        raise ValidationError(f"{mark} is fastened already: there is nothing left to wait for.")


def _check_no_circle(spec: ReplacementSpec, after: ReplacementSpec, vessel_id: int) -> None:
    waits = defaultdict(list)
    standing = WorkWait.objects.standing().filter(
        after__isnull=False, spec__finding__member__vessel=vessel_id
    )
    for one, other in standing.values_list("spec", "after"):
        waits[one].append(other)
    if round_about := circle(waits, spec.pk, after.pk):
        specs = ReplacementSpec.objects.filter(pk__in=round_about)
        marks = dict(specs.values_list("pk", "finding__member__mark"))
        raise ValidationError(refusal([marks[pk] for pk in round_about]))
