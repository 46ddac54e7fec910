from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from django.db import models

from timber_stock.measure import mm_from_inches
from timber_stock.wood.ring_limits import AUTHORITIES


def ring_authorities() -> list[tuple[str, str]]:
    return [(key, limits.name) for key, limits in AUTHORITIES.items()]


class Paper(models.TextChoices):
    A4 = "A4", "A4"
    LETTER = "Letter", "Letter"


class CostBy(models.TextChoices):
    """How the cost of a log falls on what came out of it."""

    VOLUME = "volume", "the volume of each board"
    WORTH = "worth", "the worth of each board, where it is set on all of a sawing"


class Yard(models.Model):
    """The yard that keeps this register: one row."""

    name = models.CharField(max_length=120, default="Our yard")
    address = models.TextField(blank=True)
    currency = models.CharField(
        max_length=3, default="EUR", help_text="three letters, such as EUR, GBP, USD"
    )
    log_rule = models.CharField("log rule", max_length=40, default="smalian")
    planing_allowance_mm = models.FloatField("planing allowance", default=mm_from_inches(1 / 4))
    sawing_variation_mm = models.FloatField("sawing variation", default=mm_from_inches(1 / 16))
    ring_limits = models.CharField(
        "ring direction by", max_length=40, choices=ring_authorities, default="hardwood_trade"
    )
    paper = models.CharField("paper", max_length=8, choices=Paper, default=Paper.A4)
    hourly_rate = models.DecimalField(
        "hourly rate", max_digits=8, decimal_places=2, null=True, blank=True
    )
    cost_by = models.CharField(
        "a log's cost is spread by", max_length=8, choices=CostBy, default=CostBy.VOLUME
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(hourly_rate=None) | models.Q(hourly_rate__gt=0),
                name="yard_rate_more_than_nothing",
                violation_error_message="An hourly rate is more than nothing. Leave it empty if "
                "the yard keeps none: hours are then shown without money.",
            ),
            models.CheckConstraint(
                condition=models.Q(planing_allowance_mm__gte=0, planing_allowance_mm__lte=100)
                & models.Q(sawing_variation_mm__gte=0, sawing_variation_mm__lte=25),
                name="yard_allowances_possible",
                violation_error_message="The planing allowance lies between 0 and 100 mm, the "
                "sawing variation between 0 and 25 mm.",
            ),
            models.CheckConstraint(
                condition=models.Q(pk=1),
                name="one_yard",
                violation_error_message="One register is kept for one yard.",
            ),
        ]

    def __str__(self):
        return self.name

    @classmethod
    def current(cls) -> "Yard":
        return cls.objects.filter(pk=1).first() or cls(pk=1)

    def rate_on(self, day: date, past: Sequence["PastRate"]) -> Decimal | None:
        """What an hour worked on that day is reckoned at; `past` as `PastRate` orders them."""
        if self.hourly_rate is None:
            return None
        return next((rate.hourly for rate in past if day <= rate.until), self.hourly_rate)


class PastRate(models.Model):
    """A rate that held up to a day and no longer: hours keep the rate of the day of the work."""

    until = models.DateField("up to and with", unique=True)
    hourly = models.DecimalField("hourly rate", max_digits=8, decimal_places=2)

    class Meta:
        ordering = ["until"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(hourly__gt=0),
                name="past_rate_more_than_nothing",
                violation_error_message="An hourly rate is more than nothing.",
            ),
        ]

    def __str__(self):
        return f"{self.hourly} up to {self.until}"
