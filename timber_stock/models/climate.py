"""The air round the timber: places with twelve months of temperature and humidity."""

from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from timber_stock.wood.moisture import MONTHS, MoistureYear, climate_year


class ClimateQuerySet(models.QuerySet):
    def with_months(self):
        return self.prefetch_related("months")

    def for_the_stock(self):
        """The place whose air the stock lies in, or None when no climate was entered."""
        return self.with_months().filter(is_default=True).first()


class Climate(models.Model):
    """A place and its year. Wood in its air goes towards the moisture these months give."""

    place = models.CharField(max_length=120)
    source = models.CharField(
        "where the figures come from", max_length=300,
        help_text="the weather station and the years, or your own instruments",
    )  # fmt: skip
    unit = models.CharField(
        "temperatures in", max_length=1, choices={"C": "°C", "F": "°F"}, default="C"
    )
    is_default = models.BooleanField("the stock lies here", default=False)

    objects = ClimateQuerySet.as_manager()

    class Meta:
        ordering = ["-is_default", "place"]
        constraints = [
            models.UniqueConstraint(
                Lower("place"),
                name="one_climate_of_a_place",
                violation_error_message="The climate of a place of this name is kept already.",
            ),
            models.UniqueConstraint(
                "is_default",
                condition=Q(is_default=True),
                name="the_stock_lies_in_one_climate",
                violation_error_message="The stock lies in one place.",
            ),
        ]

    def __str__(self):
        return self.place

    def year(self) -> MoistureYear:
        """Equilibrium moisture month by month, computed from what was entered."""
        months = list(self.months.all())
        return climate_year(
            self.place,
            [month.temperature_c for month in months],
            [month.humidity_percent for month in months],
        )


class ClimateMonth(models.Model):
    climate = models.ForeignKey(Climate, models.CASCADE, related_name="months")
    month = models.PositiveSmallIntegerField()
    temperature_c = models.FloatField("mean temperature")
    humidity_percent = models.FloatField("mean relative humidity")

    class Meta:
        ordering = ["month"]
        constraints = [
            models.UniqueConstraint("climate", "month", name="one_row_for_each_month"),
            models.CheckConstraint(condition=Q(month__gte=1, month__lte=12), name="month_1_to_12"),
            models.CheckConstraint(
                condition=Q(temperature_c__gte=-40, temperature_c__lte=60),
                name="mean_temperature_of_this_earth",
                violation_error_message="A month's mean temperature lies between -40 and 60 °C "
                "(-40 and 140 °F).",
            ),
            models.CheckConstraint(
                condition=Q(humidity_percent__gte=0, humidity_percent__lte=100),
                name="mean_humidity_0_to_100",
                violation_error_message="Relative humidity lies between 0 and 100 percent.",
            ),
        ]

    def __str__(self):
        return f"{self.climate}, {self.name()}"

    def name(self) -> str:
        return MONTHS[self.month - 1]
