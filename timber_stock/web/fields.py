"""Form fields that read what a shipwright types, and read it back the same way."""

from django import forms
from django.core.exceptions import ValidationError

from timber_stock import measure

from .addresses import row_number


def format_for(mm: float, units: str) -> str:
    """To the tenth of a millimetre: what was typed, and what is bored, turned or taken up."""
    return measure.format_length(mm, *_system(units))


def size_for(mm: float, units: str) -> str:
    """A size of timber or a place along it: for a metric reader to the whole millimetre."""
    return measure.format_size(mm, *_system(units))


def _system(units: str) -> tuple[str, int]:
    if units == "metric":
        return "metric", 16
    return "imperial", 32 if units == "imperial32" else 16


class DayInput(forms.DateInput):
    """The browser's own calendar."""

    input_type = "date"

    def __init__(self, **options):
        super().__init__(format="%Y-%m-%d", **options)


class ChosenRows(forms.ModelMultipleChoiceField):
    """Several rows out of a list; a number that no row can have is refused like any other.

    Django asks the database for all of them at once, and SQLite has no room for such a number.
    """

    def clean(self, value):
        for said in value or ():
            if row_number(said) is None:
                message = self.error_messages["invalid_choice"]
                raise ValidationError(message, code="invalid_choice", params={"value": said})
        return super().clean(value)


class LengthField(forms.CharField):
    """A length in any way the trade writes it; cleaned to millimetres."""

    units = "imperial"

    def __init__(self, **options):
        options.setdefault("max_length", 40)
        super().__init__(**options)
        self.validators = []  # they measure text; what is too long is refused when it is read
        self.widget.attrs.setdefault("class", "length")
        self.widget.attrs.setdefault("autocomplete", "off")

    def to_python(self, value):
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            return measure.parse_length_mm(text, "mm" if self.units == "metric" else "in")
        except ValueError as error:
            raise ValidationError(str(error)) from error

    def prepare_value(self, value):
        return format_for(value, self.units) if isinstance(value, int | float) else value

    def has_changed(self, initial, data):
        return (self.prepare_value(initial) or "") != (data or "")  # an empty row has none


class PlaceField(LengthField):
    """How far to one side or the other: to the left or down with a minus; cleaned to millimetres.

    A hyphen, a dash and a true minus all count, for people copy what the pages show.
    """

    def to_python(self, value):
        text = forms.CharField.to_python(self, value)
        bare = text.lstrip("-−–+ ") if text else text
        mm = super().to_python(bare or text)
        return -mm if mm and text.lstrip()[0] in "-−–" else mm


class ClockField(forms.CharField):
    """Which way round the log's end, as on a clock face; cleaned to hours."""

    def to_python(self, value):
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            return measure.parse_clock(text)
        except ValueError as error:
            raise ValidationError(str(error)) from error

    def prepare_value(self, value):
        return measure.format_clock(value) if isinstance(value, int | float) else value
