from __future__ import annotations

from datetime import timedelta

from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

LOST_AFTER = timedelta(seconds=60)
LOST = (
    "The work was lost: whatever carried it has stopped. Nothing was issued by it; begin it again."
)


class PaperJobQuerySet(models.QuerySet):
    def in_hand(self):
        return self.filter(state__in=[PaperJob.State.WAITING, PaperJob.State.RUNNING])


class PaperJob(models.Model):
    """A long paper being drawn beside the site: what is asked, how far it is, what came of it."""

    class Kind(models.TextChoices):
        DRAFT = "draft", "draft"
        ISSUE = "issue", "issue"

    class State(models.TextChoices):
        WAITING = "waiting", "waiting its turn"
        RUNNING = "running", "being drawn"
        DONE = "done", "done"
        FAILED = "failed", "failed"
        CANCELLED = "cancelled", "cancelled"

    survey = models.ForeignKey("restoration.Survey", models.PROTECT, related_name="paper_jobs")
    kind = models.CharField(max_length=5, choices=Kind)
    said = models.JSONField()
    expecting = models.PositiveSmallIntegerField(null=True, blank=True)
    asked_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    asked_at = models.DateTimeField(default=timezone.now)
    state = models.CharField(max_length=9, choices=State, default=State.WAITING)
    steps_done = models.PositiveIntegerField(default=0)
    steps = models.PositiveIntegerField(default=0)
    doing = models.CharField(max_length=80, blank=True)
    beat_at = models.DateTimeField(default=timezone.now)
    cancel_asked = models.BooleanField(default=False)
    ended_why = models.TextField(blank=True)
    report = models.OneToOneField(
        "restoration.Report", models.PROTECT, null=True, blank=True, related_name="+"
    )
    draft = models.FileField(upload_to="drafts/", blank=True)

    objects = PaperJobQuerySet.as_manager()

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(steps_done__lte=models.F("steps")),
                name="no_more_done_than_there_is",
                violation_error_message="No more can be done than there is to do.",
            ),
            models.CheckConstraint(
                condition=Q(report=None) | Q(kind="issue", state="done"),
                name="only_finished_issues_have_reports",
                violation_error_message="Only work that has issued a report names one.",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()} of {self.survey}: {self.get_state_display()}"

    def get_absolute_url(self):
        return reverse("restoration:paper_job", args=[self.pk])

    def is_in_hand(self) -> bool:
        return self.state in (self.State.WAITING, self.State.RUNNING)

    def is_lost(self) -> bool:
        """Begun, and without a sign of life for a minute. Waiting work is not lost: it waits."""
        return self.state == self.State.RUNNING and timezone.now() - self.beat_at > LOST_AFTER

    def share_percent(self) -> int:
        return round(100 * self.steps_done / self.steps) if self.steps else 0
