"""Findings that waited on a phone without a signal, taken in when it has one again."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from restoration.actions.findings import PhotographToKeep, record_finding
from restoration.models import Finding, FindingCause, Member, Reading


def keep_received(
    *,
    finding: Finding,
    taken_at: datetime | None,
    readings: Sequence[Reading] = (),
    causes: Sequence[FindingCause] = (),
    photographs: Sequence[PhotographToKeep] = (),
) -> Finding:
    """Keep a finding once, however often it is sent; both stand where two were made apart.

    `taken_at` is when the phone last saw the register: what someone else entered of the member
    in the same survey since then, its holder could not know of. None: nobody knows since when.
    """
    with transaction.atomic():
        # Two phones at the same moment come one after the other, so that the second is marked.
        Member.objects.select_for_update().get(pk=finding.member_id)
        finding.made_apart_from = someone_elses(finding, taken_at)
        return record_finding(
            finding=finding, readings=readings, causes=causes, photographs=photographs
        )


def someone_elses(finding: Finding, since: datetime | None) -> Finding | None:
    """The newest that another person entered of the same member in this survey since then."""
    others = Finding.objects.filter(survey=finding.survey, member=finding.member)
    others = others.exclude(recorded_by=finding.recorded_by)
    if since is not None:
        others = others.filter(recorded_at__gt=since)
    return others.newest_first().first()
