import secrets

from django.db import models
from django.db.models import Q
from django.urls import reverse

# No letter that is taken for a figure, read from paper: twelve of them are some 10^17 to guess.
CHECK_LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
CHECK_LENGTH = 12


def new_check_code() -> str:
    """What is printed on a report, for whoever holds it to look it up by; tells nothing itself."""
    return "".join(secrets.choice(CHECK_LETTERS) for _ in range(CHECK_LENGTH))


class ReportQuerySet(models.QuerySet):
    def visible_to(self, user):
        if user.role == "client":
            return self.filter(vessel__client_id=user.client_id)
        return self


class Report(models.Model):
    """An issued report: frozen. The file, its hash and what it said stay as they were that day."""

    vessel = models.ForeignKey("restoration.Vessel", models.PROTECT, related_name="reports")
    survey = models.ForeignKey("restoration.Survey", models.PROTECT, related_name="reports")
    number = models.PositiveSmallIntegerField()
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    pdf = models.FileField(upload_to="reports/")
    sha256 = models.CharField(max_length=64)
    content = models.JSONField()
    check_code = models.CharField(
        max_length=12, unique=True, default=new_check_code, editable=False
    )
    supersedes = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="superseded_by"
    )

    objects = ReportQuerySet.as_manager()

    class Meta:
        ordering = ["vessel", "-number"]
        constraints = [
            models.UniqueConstraint(
                fields=["vessel", "number"],
                name="report_number_once_a_vessel",
                violation_error_message="This vessel has a report of that number already.",
            ),
            models.CheckConstraint(
                condition=Q(number__gte=1),
                name="report_numbers_from_one",
                violation_error_message="Reports are numbered from 1.",
            ),
        ]

    def __str__(self):
        return f"{self.vessel} report {self.number}"

    def get_absolute_url(self):
        return reverse("restoration:report", args=[self.pk])

    def save(self, *args, **kwargs):
        if not self._state.adding:
            raise TypeError("An issued report is never changed: issue a new one.")
        super().save(*args, **kwargs)
