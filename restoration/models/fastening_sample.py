from fractions import Fraction

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from restoration.calc import sample_result, sampling


def zone_choices() -> list[tuple[str, str]]:
    return [(zone, zone.replace("-", " ")) for zone in sampling.ZONES]


class FasteningSample(models.Model):
    """Fastenings drawn by lot from one group of a hull, and what each was found to be.

    `stations` is a list of [station, number of fastenings]; `drawn` a list of
    {"mark", "station", "result"}, where the result is "" until it is entered.
    """

    survey = models.ForeignKey("restoration.Survey", models.PROTECT, related_name="samples")
    what = models.CharField("which fastenings", max_length=200)
    zone = models.CharField("sampling zone", max_length=20, choices=zone_choices, blank=True)
    counted = models.CharField("how they are counted", max_length=200)
    bad_means = models.CharField("what counts as bad", max_length=300)
    population = models.PositiveIntegerField("how many there are")
    stations = models.JSONField()
    tolerated = models.PositiveIntegerField("bad ones tolerated")
    confidence_percent = models.DecimalField("confidence, %", max_digits=4, decimal_places=2)
    seed = models.CharField("seed of the drawing", max_length=40)
    drawn = models.JSONField()
    made_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(population__gte=1, tolerated__lte=F("population")),
                name="sample_tolerates_no_more_than_there_are",
                violation_error_message="No more bad ones can be tolerated than there are "
                "fastenings, and there must be at least one.",
            ),
            models.CheckConstraint(
                condition=Q(confidence_percent__gt=0, confidence_percent__lt=100),
                name="sample_confidence_is_a_share",
                violation_error_message="The confidence lies between 0 and 100 %.",
            ),
        ]

    def __str__(self):
        return self.what

    def get_absolute_url(self):
        return reverse("restoration:sample", args=[self.pk])

    def clean(self):
        if len(self.drawn) > self.population:
            raise ValidationError(
                f"{len(self.drawn)} cannot be drawn from a group of {self.population}."
            )

    def confidence(self) -> Fraction:
        return Fraction(self.confidence_percent) / 100

    def results(self) -> list[str]:
        return [one["result"] for one in self.drawn]

    def outcome(self) -> sample_result.Outcome:
        return sample_result.outcome(self.population, self.results(), self.confidence())
