"""Letting someone read one issued report by a link, and knowing who has read it.

A link is a random code with the site's signature over it: one that was guessed or altered is told
at once, without asking the database. Whether it still stands is the row's to say, so that it can
be withdrawn.
"""

from datetime import datetime

from django.core import signing
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from restoration.models import Report, ReportLink, ReportOpening, User

LONGEST_DAYS = 366
_signer = signing.Signer(salt="restoration.report-link")


@transaction.atomic
def make_link(*, report: Report, meant_for: str, expires_at: datetime, by: User) -> ReportLink:
    days = (expires_at - timezone.now()).total_seconds() / 86_400
    if days <= 0:
        raise ValidationError({"expires_at": "Choose a day still to come."})
    if days > LONGEST_DAYS:
        raise ValidationError({"expires_at": "A link is good for a year at most: make it shorter."})
    link = ReportLink(report=report, meant_for=meant_for, expires_at=expires_at, made_by=by)
    link.full_clean()
    link.save()
    return link


@transaction.atomic
def withdraw_link(*, link: ReportLink, by: User) -> ReportLink:
    """From now on it opens nothing. Withdrawn twice, the first time stands."""
    link = ReportLink.objects.select_for_update().get(pk=link.pk)
    if link.withdrawn_at is None:
        link.withdrawn_at, link.withdrawn_by = timezone.now(), by
        link.full_clean()
        link.save()
    return link


def token_of(link: ReportLink) -> str:
    return _signer.sign(link.code)


def link_of(token: str) -> ReportLink | None:
    """The link of this token, whether or not it still stands; None for one never made here."""
    try:
        code = _signer.unsign(token)
    except signing.BadSignature:
        return None
    reads = ReportLink.objects.select_related("report__vessel", "report__superseded_by")
    return reads.filter(code=code).first()


def record_opening(
    *, report: Report, what: str, link: ReportLink | None = None, user: User | None = None
) -> ReportOpening:
    opening = ReportOpening(report=report, what=what, link=link, user=user)
    opening.full_clean()
    opening.save()
    return opening
