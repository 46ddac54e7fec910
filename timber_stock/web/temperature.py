from django import forms
from django.core.exceptions import ValidationError

from timber_stock.wood.temperature import format_temperature, parse_temperature_c


class TemperatureField(forms.CharField):
    """A temperature as it is typed, 18 or 64 F; cleaned to degrees Celsius."""

    unit = "C"  # what a bare number is in

    def __init__(self, **options):
        options.setdefault("max_length", 30)
        super().__init__(**options)
        self.validators = []  # they measure text; what is too long is refused when it is read
        self.widget.attrs.setdefault("autocomplete", "off")

    def to_python(self, value):
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            return parse_temperature_c(text, self.unit)
        except ValueError as error:
            raise ValidationError(str(error)) from error

    def prepare_value(self, value):
        if isinstance(value, int | float):
            return format_temperature(value, self.unit).removesuffix(f" °{self.unit}")
        return value
