"""Ending the round of a survey before every member was seen, and saying why."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.findings import record_finding
from restoration.models import Finding, Member, Survey, User
from restoration.models.finding import Condition


@transaction.atomic
def end_round(
    *, survey: Survey, reason: str, by: User, ended_on: date | None = None
) -> list[Finding]:
    """Each member without a finding in this survey is not examined, for the reason given.

    It is a finding like any other: one that is made later still takes its place. `ended_on` is
    the survey's last day, where it has none yet.
    """
    survey = Survey.objects.select_for_update().get(pk=survey.pk)
    if not reason.strip():
        raise ValidationError({"reason": "Say why the others were not examined."})
    left = not_seen(survey)
    if not left:
        raise ValidationError("Every member has a finding in this survey: nothing is left to say.")
    if ended_on and not survey.ended_on:
        survey.ended_on = ended_on
        survey.full_clean()
        survey.save()
    return [_not_examined(survey, member, reason.strip(), by) for member in left]


def not_seen(survey: Survey) -> list[Member]:
    """The members this survey says nothing of yet, along the hull."""
    seen = Finding.objects.filter(survey=survey).values("member")
    return list(survey.vessel.members.along_the_hull().exclude(pk__in=seen))


def _not_examined(survey: Survey, member: Member, reason: str, by: User) -> Finding:
    finding = Finding(survey=survey, member=member, recorded_by=by)
    finding.condition, finding.not_examined_reason = Condition.NOT_EXAMINED, reason
    return record_finding(finding=finding)
