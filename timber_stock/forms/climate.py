"""The climate of a place: twelve temperatures and twelve humidities, and the year they make."""

from django import forms

from timber_stock.models import Climate, OwnServiceMoisture
from timber_stock.web.temperature import TemperatureField
from timber_stock.wood.moisture import MONTHS

HUMIDITY = "Relative humidity lies between 0 and 100 percent."
TEMPERATURE = "A month's mean lies between -40 and 60 °C (-40 and 140 °F)."


class MonthTemperature(TemperatureField):
    def validate(self, value):
        super().validate(value)
        if value is not None and not -40 <= value <= 60:
            raise forms.ValidationError(TEMPERATURE)


class ClimateForm(forms.ModelForm):
    # No field of the model here: whichever place had it before gives it up in the same step.
    lies_here = forms.BooleanField(
        label="The stock lies here: its drying is reckoned with this air", required=False
    )

    class Meta:
        model = Climate
        fields = ["place", "source", "unit"]
        labels = {"unit": "The temperatures below are in"}

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.initial.setdefault("lies_here", self.instance.is_default)
        unit = self.data.get("unit", self.instance.unit) if self.is_bound else self.instance.unit
        kept = {row.month: row for row in self.instance.months.all()} if self.instance.pk else {}
        for n, month in enumerate(MONTHS, start=1):
            row = kept.get(n)
            temperature = MonthTemperature(
                label=f"{month}, mean temperature", initial=row and row.temperature_c
            )
            temperature.unit = "F" if unit == "F" else "C"
            self.fields[f"temperature_{n}"] = temperature
            self.fields[f"humidity_{n}"] = forms.FloatField(
                label=f"{month}, mean relative humidity",
                initial=row and f"{row.humidity_percent:g}",
                min_value=0,
                max_value=100,
                error_messages={"min_value": HUMIDITY, "max_value": HUMIDITY},
            )

    def particulars(self):
        return [self[name] for name in ("place", "source", "lies_here", "unit")]

    def months(self):
        """Each month with its two fields, as a row to fill in."""
        return [
            {"name": name, "fields": [self[f"temperature_{n}"], self[f"humidity_{n}"]]}
            for n, name in enumerate(MONTHS, start=1)
        ]

    def typed_months(self) -> list[tuple[float, float]]:
        return [
            (self.cleaned_data[f"temperature_{n}"], self.cleaned_data[f"humidity_{n}"])
            for n in range(1, 13)
        ]


class ServiceForm(forms.ModelForm):
    class Meta:
        model = OwnServiceMoisture
        fields = ["expected_percent", "least_percent", "greatest_percent", "basis"]
        help_texts = {"basis": "a sentence: what was measured, in which boats, and when"}
