"""Keeping the climate of a place: its twelve months together, and one place for the stock."""

from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.db import transaction

from timber_stock.models import Climate, ClimateMonth


@transaction.atomic
def keep_climate(
    *, climate: Climate, months: Sequence[tuple[float, float]], lies_here: bool = False
) -> Climate:
    """Enter or correct a place with its (temperature in °C, humidity in %) from January on.

    `lies_here` makes it the place of the stock; where no other is that, it is in any case.
    """
    if len(months) != 12:
        raise ValidationError(f"A year has twelve months; {len(months)} were given.")
    others = Climate.objects.select_for_update().exclude(pk=climate.pk)
    if lies_here:
        others.filter(is_default=True).update(is_default=False)
    climate.is_default = lies_here or not others.filter(is_default=True).exists()
    climate.full_clean()
    climate.save()
    rows = [
        ClimateMonth(climate=climate, month=n, temperature_c=celsius, humidity_percent=humidity)
        for n, (celsius, humidity) in enumerate(months, start=1)
    ]
    for row in rows:
        row.full_clean(exclude=["climate"], validate_unique=False)
    climate.months.all().delete()
    ClimateMonth.objects.bulk_create(rows)
    return climate


@transaction.atomic
def delete_climate(*, climate: Climate) -> None:
    """Leave out a place; the one whose air the stock lies in only when it is the last."""
    others = list(Climate.objects.select_for_update().exclude(pk=climate.pk))
    if climate.is_default and others:
        raise ValidationError(
            f"The stock lies at {climate.place}, and its boards are dried there. Say first of "
            "another place that the stock lies there; then this one can be left out."
        )
    climate.delete()
