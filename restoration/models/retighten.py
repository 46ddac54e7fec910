from datetime import date

from django.db import models
from django.db.models import OuterRef, Q, Subquery
from django.utils import timezone


class RetightenTaskQuerySet(models.QuerySet):
    def open(self):
        return self.filter(done_on=None)

    def due_by(self, day: date):
        return self.open().filter(due_on__lte=day)

    def soonest_of_each(self):
        """Of each piece only the visit that comes next."""
        of_it = RetightenTask.objects.open().filter(allotment=OuterRef("allotment"))
        return self.filter(pk=Subquery(of_it.order_by("due_on", "pk").values("pk")[:1]))

    def for_list(self):
        return self.select_related(
            "allotment__board", "allotment__spec__finding__member__vessel"
        ).order_by("due_on", "pk")


class RetightenTask(models.Model):
    """A visit to the nuts of a timber that was fitted green: by when, why, and that it was made."""

    allotment = models.ForeignKey(
        "restoration.Allotment", models.PROTECT, related_name="retightenings"
    )
    due_on = models.DateField("due on")
    take_up_mm = models.FloatField("taken up by then, at most", null=True, blank=True)
    reason = models.TextField("why", blank=True)
    done_on = models.DateField("done on", null=True, blank=True)
    done_by = models.CharField("done by", max_length=120, blank=True)
    note = models.CharField("what was found", max_length=300, blank=True)

    objects = RetightenTaskQuerySet.as_manager()

    class Meta:
        ordering = ["due_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(done_on=None, done_by="") | (Q(done_on__isnull=False) & ~Q(done_by="")),
                name="retightening_done_by_someone",
                violation_error_message="Say who saw to the nuts.",
            ),
            models.CheckConstraint(
                condition=Q(take_up_mm=None) | Q(take_up_mm__gte=0),
                name="retightening_takes_up_something",
                violation_error_message="What is taken up cannot be less than nothing.",
            ),
            models.UniqueConstraint(
                fields=["allotment", "due_on"],
                name="one_visit_to_a_piece_a_day",
                violation_error_message="A visit to this piece is set down for that day already.",
            ),
        ]

    def __str__(self):
        return f"{self.allotment}, due {self.due_on}"

    def member(self):
        return self.allotment.spec.finding.member

    def days_left(self) -> int:
        """Below nought when it is overdue."""
        return (self.due_on - timezone.localdate()).days

    def days_off(self) -> int:
        """How many days there are still, or how many it is overdue."""
        return abs(self.days_left())

    def is_overdue(self) -> bool:
        return self.done_on is None and self.days_left() < 0
