"""What was spent besides timber and hours: on a replacement, or on a vessel as a whole."""

from django.db import models
from django.db.models import Q
from django.utils import timezone


class CostKind(models.TextChoices):
    FASTENINGS = "fastenings", "fastenings"
    SUNDRIES = "sundries", "sundries"
    BOUGHT_IN = "bought_in", "work bought in"


class CostQuerySet(models.QuerySet):
    def standing(self):
        return self.filter(taken_back_on=None)


class Cost(models.Model):
    """One sum spent on one day. A slip is taken back and entered anew: nothing is lost."""

    spec = models.ForeignKey(
        "restoration.ReplacementSpec", models.PROTECT, null=True, blank=True, related_name="costs"
    )
    vessel = models.ForeignKey(
        "restoration.Vessel", models.PROTECT, null=True, blank=True, related_name="costs"
    )
    kind = models.CharField("what for", max_length=12, choices=CostKind)
    amount = models.DecimalField(max_digits=10, decimal_places=2)
    on = models.DateField("date")
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    entered_at = models.DateTimeField(default=timezone.now, editable=False)
    taken_back_on = models.DateField(null=True, blank=True, editable=False)
    taken_back_by = models.ForeignKey(
        "restoration.User", models.PROTECT, null=True, blank=True, related_name="+", editable=False
    )

    objects = CostQuerySet.as_manager()

    class Meta:
        ordering = ["on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(amount__gte=0),
                name="cost_not_negative",
                violation_error_message="What was spent cannot be less than nothing. Take back an "
                "entry that was wrong, and enter it anew.",
            ),
            models.CheckConstraint(
                condition=Q(spec__isnull=False, vessel=None) | Q(spec=None, vessel__isnull=False),
                name="cost_of_one_thing",
                violation_error_message="A cost belongs to a replacement or to a vessel as a "
                "whole, not to both.",
            ),
            models.CheckConstraint(
                condition=Q(taken_back_on=None, taken_back_by=None)
                | Q(taken_back_on__isnull=False, taken_back_by__isnull=False),
                name="cost_taken_back_by_someone",
                violation_error_message="Say who took it back.",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()}, {self.amount}"
