from django.db import models
from django.db.models import F, Q


class Sawing(models.Model):
    """One time at the saw: a log or a board goes in; boards, sawdust and waste come out."""

    source_log = models.ForeignKey(
        "timber_stock.Log", models.PROTECT, null=True, blank=True, related_name="sawings"
    )
    source_board = models.OneToOneField(
        "timber_stock.Board",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="resawing",
        error_messages={"unique": "This board went through the saw already."},
    )
    sawn_on = models.DateField("sawn on")
    sawn_by = models.CharField("sawn by", max_length=120)
    kerf_mm = models.FloatField("kerf")
    in_mm3 = models.FloatField("went in")
    out_mm3 = models.FloatField("came out as boards")
    kerf_mm3 = models.FloatField("went to sawdust")
    cost = models.DecimalField(
        "what the sawing cost", max_digits=10, decimal_places=2, null=True, blank=True
    )
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["sawn_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(source_log=None, source_board__isnull=False)
                | Q(source_log__isnull=False, source_board=None),
                name="sawing_of_one_thing",
                violation_error_message="A sawing is of one log or of one board.",
            ),
            models.CheckConstraint(
                condition=Q(cost=None) | Q(cost__gte=0),
                name="sawing_cost_not_negative",
                violation_error_message="What a sawing cost cannot be less than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(in_mm3__gt=0, out_mm3__gt=0, kerf_mm3__gte=0, kerf_mm__gte=0),
                name="sawing_amounts_real",
                violation_error_message="A sawing needs something to go in and something "
                "to come out.",
            ),
            models.CheckConstraint(
                condition=Q(in_mm3__gte=(F("out_mm3") + F("kerf_mm3")) * 0.999999),
                name="sawing_out_no_more_than_in",
                violation_error_message="More would come out, with the kerf, than went in.",
            ),
        ]

    def __str__(self):
        return f"{self.source_log or self.source_board} sawn on {self.sawn_on}"

    def waste_mm3(self):
        """Slabs, edgings and ends: what went in and is neither board nor sawdust."""
        return max(0.0, self.in_mm3 - self.out_mm3 - self.kerf_mm3)
