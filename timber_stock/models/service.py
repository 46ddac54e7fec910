"""The moisture to expect in the boat: the assumed values, and the yard's own before them."""

from dataclasses import replace

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from timber_stock.wood import service
from timber_stock.wood.yard_figures import OWN


class OwnServiceMoisture(models.Model):
    """What a yard has found for one place in the boat; it goes before the assumed value."""

    place = models.CharField(max_length=40, unique=True)
    expected_percent = models.FloatField("expected, %")
    least_percent = models.FloatField("least, %")
    greatest_percent = models.FloatField("greatest, %")
    basis = models.CharField("where it comes from", max_length=300)
    entered_by = models.CharField("entered by", max_length=150)
    entered_on = models.DateField("entered on", default=timezone.localdate)

    class Meta:
        ordering = ["place"]
        constraints = [
            models.CheckConstraint(
                condition=Q(least_percent__lte=F("expected_percent"))
                & Q(expected_percent__lte=F("greatest_percent")),
                name="service_moisture_in_order",
                violation_error_message="The expected moisture lies between the least and the "
                "greatest.",
            ),
            models.CheckConstraint(
                condition=Q(least_percent__gte=0, greatest_percent__lte=200),
                name="service_moisture_0_to_200",
                violation_error_message="Moisture is a percentage of the dry weight, between 0 and "
                "200.",
            ),
        ]

    def __str__(self):
        return f"{self.place}: {self.expected_percent:g} %"

    def clean(self):
        if self.place not in service.PLACES:
            raise ValidationError("There is no such place in the boat.")
        if len((self.basis or "").split()) < 2:
            raise ValidationError(
                {"basis": "Say in a sentence where it comes from: what was measured, and when."}
            )

    def over(self, assumed: service.ServiceMoisture) -> service.ServiceMoisture:
        return replace(
            assumed,
            expected_percent=self.expected_percent,
            least_percent=self.least_percent,
            greatest_percent=self.greatest_percent,
            basis=self.basis,
            standing=OWN,
        )


def service_moistures() -> dict[str, service.ServiceMoisture]:
    """The moisture to expect at each place in the boat, the yard's own before the assumed."""
    own = {kept.place: kept for kept in OwnServiceMoisture.objects.all()}
    return {
        key: own[key].over(assumed) if key in own else assumed
        for key, assumed in service.PLACES.items()
    }
