import math

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q

LEAST_HALF_ANGLE_DEG = 1.0


class Defect(models.TextChoices):
    KNOT = "knot", "knot"
    ROT = "rot", "rot"
    SHAKE = "shake", "shake"
    OTHER = "other", "something else"


class LogDefect(models.Model):
    """Something in a log that timbers must keep clear of, as a tape finds it.

    Every clock is read as one faces the butt. A knot is a cone from the pith out to the bark; all
    else is a round hole along the log, `offset_mm` off its centre line towards `clock`.
    """

    log = models.ForeignKey("timber_stock.Log", models.CASCADE, related_name="defects")
    kind = models.CharField(max_length=5, choices=Defect)
    from_butt_mm = models.FloatField("from the butt", default=0)
    to_mm = models.FloatField(
        "as far as", null=True, blank=True, help_text="from the butt; empty: on to the top"
    )
    clock = models.FloatField("towards, o'clock", null=True, blank=True)
    offset_mm = models.FloatField("off the centre of the end", default=0)
    across_mm = models.FloatField("how wide across")
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["from_butt_mm", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(from_butt_mm__gte=0, across_mm__gt=0, offset_mm__gte=0),
                name="defect_has_size",
                violation_error_message="A defect lies nothing or more from the butt and is wider "
                "than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(to_mm=None) | Q(to_mm__gt=F("from_butt_mm")),
                name="defect_runs_from_butt_to_top",
                violation_error_message="A defect ends further from the butt than it begins.",
            ),
            models.CheckConstraint(
                condition=Q(clock=None) | Q(clock__gt=0, clock__lte=12),
                name="defect_clock",
                violation_error_message="The clock runs from just past 12 round to 12.",
            ),
            models.CheckConstraint(
                condition=~Q(kind="knot") | Q(clock__isnull=False),
                name="knot_has_a_clock",
                violation_error_message="Say towards which o'clock the knot points.",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()} {self.from_butt_mm:g} mm from the butt"

    def clean(self):
        if self.from_butt_mm is not None and self.from_butt_mm > self.log.length_mm:
            raise ValidationError(
                {"from_butt_mm": "That is beyond the top of the log: measure it from the butt."}
            )
        if self.offset_mm and self.clock is None:
            raise ValidationError({"clock": "Say towards which o'clock it is off the centre."})

    def centre_mm(self) -> tuple[float, float]:
        """Where it lies in the section: towards 3 o'clock and towards 12, facing the butt."""
        angle = math.radians(30 * (self.clock or 12))
        return self.offset_mm * math.sin(angle), self.offset_mm * math.cos(angle)

    def radius_mm(self) -> float:
        return self.across_mm / 2

    def end_mm(self) -> float:
        return self.log.length_mm if self.to_mm is None else min(self.to_mm, self.log.length_mm)

    def half_angle_deg(self) -> float:
        """Of a knot's cone: half its width at the bark over the way from the pith to the bark.

        The way is taken as the mean radius there, since the cone begins at the pith.
        """
        share = min(1.0, self.from_butt_mm / self.log.length_mm)
        butt, top = self.log.round_as("butt"), self.log.round_as("top")
        radius = (butt + (top - butt) * share) / 2
        return max(LEAST_HALF_ANGLE_DEG, math.degrees(math.atan2(self.radius_mm(), radius)))
