"""The same said of a neighbour: a finding of its own, which says where it was copied from."""

import uuid
from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.findings import record_finding
from restoration.models import Finding, FindingCause, Member, User


def copy_finding(
    *, finding: Finding, to: Sequence[Member], made_id: uuid.UUID, by: User
) -> list[Finding]:
    """Keep a finding of each of these members in the same survey, or of none of them.

    Classes, what was seen and the causes are the same. What was measured or photographed is
    not: readings, extent and photographs belong to the one member. `made_id` is the mark of the
    form; sent twice, each copy is still kept once.
    """
    for member in to:
        _check(finding, member)
    causes = list(finding.causes.all())
    with transaction.atomic():
        return [
            record_finding(
                finding=_same_of(finding, member, uuid.uuid5(made_id, str(member.pk)), by),
                causes=[_same_cause(cause) for cause in causes],
            )
            for member in to
        ]


def _check(finding: Finding, member: Member) -> None:
    if member.pk == finding.member_id:
        raise ValidationError(f"{member} has this finding already; choose its neighbours.")
    if member.kind != finding.member.kind or member.vessel_id != finding.member.vessel_id:
        raise ValidationError(
            f"{member} is not a {finding.member.one()} of the same vessel: look at it by itself."
        )


def _same_of(finding: Finding, member: Member, made_id: uuid.UUID, by: User) -> Finding:
    return Finding(
        survey=finding.survey,
        member=member,
        made_id=made_id,
        recorded_by=by,
        condition=finding.condition,
        urgency=finding.urgency,
        measure=finding.measure,
        not_examined_reason=finding.not_examined_reason,
        seen=finding.seen,
        copied_from=finding,
    )


def _same_cause(cause: FindingCause) -> FindingCause:
    return FindingCause(cause=cause.cause, certainty=cause.certainty, evidence=cause.evidence)
