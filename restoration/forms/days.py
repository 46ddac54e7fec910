"""A day that something was done: with the browser's own calendar, and never still to come."""

from datetime import timedelta

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

TOO_LONG_AGO = "That is too long ago. Write the year in full, such as 2026."
EARLIEST_YEAR = 1900  # what is earlier is a year of two figures: a calendar takes 26 as 0026


def is_still_to_come(day) -> bool:
    """With a day's grace: it may be tomorrow already where the work is done."""
    return bool(day) and day > timezone.localdate() + timedelta(days=1)


def is_too_long_ago(day) -> bool:
    return bool(day) and day.year < EARLIEST_YEAR


class DayInput(forms.DateInput):
    input_type = "date"

    def __init__(self, attrs=None):
        super().__init__(attrs, format="%Y-%m-%d")


class DayDone(forms.DateField):
    widget = DayInput

    def __init__(self, **options):
        options.setdefault("initial", timezone.localdate)
        super().__init__(**options)

    def validate(self, value):
        super().validate(value)
        if is_still_to_come(value):
            raise ValidationError("That day is still to come.")
        if is_too_long_ago(value):
            raise ValidationError(TOO_LONG_AGO)
