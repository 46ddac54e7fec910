from django.db import models
from django.db.models import F, Q, Sum

from restoration.calc.timber_found import is_enough


class AllotmentQuerySet(models.QuerySet):
    def standing(self):
        """Promises that hold: not withdrawn."""
        return self.filter(withdrawn_on=None)

    def fitted(self):
        return self.standing().filter(fitted_on__isnull=False)

    def length_in_all(self):
        """The lengths of each specification added up, for a subquery of one number."""
        by_spec = self.order_by().values("spec")
        return by_spec.annotate(in_all=Sum(F("to_mm") - F("from_mm"))).values("in_all")


class Allotment(models.Model):
    """A length of a board promised to a replacement; then cut from it; then fitted.

    That no length is promised twice is also held by the database itself (migration 0002): an
    exclusion constraint on PostgreSQL, triggers on SQLite.
    """

    spec = models.ForeignKey(
        "restoration.ReplacementSpec", models.PROTECT, related_name="allotments"
    )
    board = models.ForeignKey("timber_stock.Board", models.PROTECT, related_name="+")
    from_mm = models.FloatField("from")
    to_mm = models.FloatField("to")
    note = models.CharField(max_length=200, blank=True)
    allotted_on = models.DateField()
    allotted_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    cut_on = models.DateField("cut on", null=True, blank=True)
    cut_by = models.CharField("cut by", max_length=120, blank=True)
    fitted_on = models.DateField("fitted on", null=True, blank=True)
    fitted_by = models.CharField("fitted by", max_length=120, blank=True)
    withdrawn_on = models.DateField(null=True, blank=True)
    withdrawn_reason = models.CharField(max_length=200, blank=True)

    objects = AllotmentQuerySet.as_manager()

    class Meta:
        ordering = ["board", "from_mm"]
        constraints = [
            models.CheckConstraint(
                condition=Q(from_mm__gte=0, to_mm__gt=F("from_mm")),
                name="allotment_from_before_to",
                violation_error_message="A length runs from a lower to a higher distance from the "
                "board's butt end.",
            ),
            models.CheckConstraint(
                condition=Q(fitted_on=None) | Q(cut_on__isnull=False, fitted_on__gte=F("cut_on")),
                name="allotment_cut_before_fitted",
                violation_error_message="A piece is cut before it is fitted, not after.",
            ),
            models.CheckConstraint(
                condition=Q(cut_on=None) | ~Q(cut_by=""),
                name="allotment_cut_by_someone",
                violation_error_message="Say who cut it.",
            ),
            models.CheckConstraint(
                condition=Q(fitted_on=None) | ~Q(fitted_by=""),
                name="allotment_fitted_by_someone",
                violation_error_message="Say who fitted it.",
            ),
            models.CheckConstraint(
                condition=Q(withdrawn_on=None) | Q(cut_on=None),
                name="allotment_cut_is_not_withdrawn",
                violation_error_message="What has been cut cannot be withdrawn.",
            ),
        ]

    def __str__(self):
        return f"{self.board} {self.from_mm:.0f} to {self.to_mm:.0f} mm"

    def stage(self) -> str:
        if self.withdrawn_on:
            return "withdrawn"
        if self.fitted_on:
            return "fitted"
        return "cut" if self.cut_on else "allotted"

    def length_mm(self) -> float:
        return self.to_mm - self.from_mm

    def is_short(self) -> bool:
        """Whether it is shorter than the piece asked for, by more than a rounding."""
        return not is_enough([self.length_mm()], self.spec.length_mm)
