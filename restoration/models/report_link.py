from __future__ import annotations

import secrets
from datetime import datetime

from django.db import models
from django.db.models import Count, F, Max, Q
from django.utils import timezone


def new_code() -> str:
    """What a link is known by inside its signature: not to be guessed, not to be counted up."""
    return secrets.token_urlsafe(18)


class ReportLinkQuerySet(models.QuerySet):
    def with_openings(self):
        return self.annotate(times_opened=Count("openings"), last_opened=Max("openings__opened_at"))


class ReportLink(models.Model):
    """A link by which someone without a sign-in reads one issued report, for a while."""

    report = models.ForeignKey("restoration.Report", models.PROTECT, related_name="links")
    code = models.CharField(max_length=40, unique=True, default=new_code, editable=False)
    meant_for = models.CharField(
        "meant for", max_length=120, help_text="Who is to read it by this link."
    )
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    made_by = models.ForeignKey(
        "restoration.User", models.PROTECT, related_name="+", editable=False
    )
    expires_at = models.DateTimeField("good until")
    withdrawn_at = models.DateTimeField(null=True, blank=True, editable=False)
    withdrawn_by = models.ForeignKey(
        "restoration.User", models.PROTECT, null=True, blank=True, related_name="+", editable=False
    )

    objects = ReportLinkQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(expires_at__gt=F("made_at")),
                name="link_good_for_a_while",
                violation_error_message="A link must be good for a while after it is made.",
            ),
            models.CheckConstraint(
                condition=Q(withdrawn_at=None, withdrawn_by=None)
                | Q(withdrawn_at__isnull=False, withdrawn_by__isnull=False),
                name="link_withdrawn_by_someone",
                violation_error_message="Say who withdraws the link.",
            ),
        ]

    def __str__(self):
        return f"{self.report} for {self.meant_for}"

    def stands(self, at: datetime) -> bool:
        return self.withdrawn_at is None and at < self.expires_at

    def state(self) -> str:
        if self.withdrawn_at:
            return "withdrawn"
        return "open" if self.stands(timezone.now()) else "expired"


class ReportOpening(models.Model):
    """That a report was opened: when, which form of it, and by a link or a client's sign-in."""

    class What(models.TextChoices):
        PAGE = "page", "as a page"
        PDF = "pdf", "as PDF"

    report = models.ForeignKey("restoration.Report", models.PROTECT, related_name="openings")
    link = models.ForeignKey(
        ReportLink, models.PROTECT, null=True, blank=True, related_name="openings"
    )
    user = models.ForeignKey(
        "restoration.User", models.PROTECT, null=True, blank=True, related_name="+"
    )
    what = models.CharField(max_length=4, choices=What)
    opened_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-opened_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(link=None, user__isnull=False) | Q(link__isnull=False, user=None),
                name="opened_by_link_or_sign_in",
                violation_error_message="A report is opened by a link or by someone signed in.",
            )
        ]

    def __str__(self):
        return f"{self.report} opened {self.opened_at:%Y-%m-%d %H:%M}"
