"""Small sums about moisture: from the air, from a meter, from a sample weighed and dried.

Each form answers when it is valid; what cannot be is refused by the sum itself, in its own words.
"""

from dataclasses import dataclass

from django import forms

from timber_stock.models import figures_of
from timber_stock.web.temperature import TemperatureField
from timber_stock.wood.durability import DecayRisk, decay_risk
from timber_stock.wood.heaviness import held_moisture
from timber_stock.wood.meter import TEMPERATURE_RULES, CorrectedReading, corrected_reading
from timber_stock.wood.moisture import (
    EQUATION_SOURCE,
    WET_CAUTION,
    equilibrium_cautions,
    equilibrium_moisture_percent,
    equilibrium_moisture_percent_f,
    moisture_percent,
)
from timber_stock.wood.temperature import fahrenheit_from_celsius

from .asking import AskingForm, UsualChoice
from .choices import WoodField


@dataclass(frozen=True)
class AirAnswer:
    celsius_form: float
    fahrenheit_form: float
    temperature_c: float
    cautions: tuple[str, ...]
    source: str = EQUATION_SOURCE
    wet: str = WET_CAUTION


class AirForm(AskingForm):
    temperature = TemperatureField(label="Temperature", help_text="18, or 64 F")
    unit = UsualChoice(label="A bare number is in", choices={"C": "°C", "F": "°F"}, initial="C")
    humidity = forms.FloatField(label="Relative humidity, %")

    FAULTS = {"temperature": "temperature", "humidity": "humidity"}

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        if self.data.get(self.add_prefix("unit")) == "F":
            self.fields["temperature"].unit = "F"

    def reckon(self, asked):
        celsius, humidity = asked["temperature"], asked["humidity"]
        return AirAnswer(
            equilibrium_moisture_percent(celsius, humidity),
            equilibrium_moisture_percent_f(fahrenheit_from_celsius(celsius), humidity),
            celsius,
            equilibrium_cautions(celsius, humidity),
        )


@dataclass(frozen=True)
class MeterAnswer:
    corrected: CorrectedReading
    decay: DecayRisk


class MeterForm(AskingForm):
    reading = forms.FloatField(label="Reading of a pin meter, %")
    wood_temperature = TemperatureField(
        label="Temperature of the wood, °C", required=False, help_text="18, or 64 F"
    )
    wood = WoodField(required=False, empty_label="none: no correction for the wood")
    rule = UsualChoice(
        label="Rule for the temperature",
        initial=next(iter(TEMPERATURE_RULES)),
        choices=[(key, f"{rule.name} ({rule.source})") for key, rule in TEMPERATURE_RULES.items()],
        help_text="authorities differ by about a point",
    )
    salt_water = forms.BooleanField(label="It lay in salt water", required=False)
    treated = forms.BooleanField(label="It was treated with a preservative", required=False)

    FAULTS = {"reading": "reading", "temperature": "wood_temperature"}

    def reckon(self, asked):
        wood = asked["wood"]
        corrected = corrected_reading(
            asked["reading"],
            asked["wood_temperature"],
            wood and wood.code,
            rule=asked["rule"],
            salt_water=asked["salt_water"],
            treated=asked["treated"],
        )
        return MeterAnswer(corrected, decay_risk(max(0.0, corrected.corrected_percent)))


@dataclass(frozen=True)
class SampleAnswer:
    percent: float
    decay: DecayRisk


class SampleForm(AskingForm):
    wet_mass = forms.FloatField(label="Weighed wet")
    dry_mass = forms.FloatField(
        label="Weighed dry", help_text="in the same unit, dried at 103 °C until it loses no more"
    )
    wood = WoodField(required=False, empty_label="any")

    FAULTS = {"The ovendry mass": "dry_mass", "The wet mass": "wet_mass"}

    def reckon(self, asked):
        percent = moisture_percent(asked["wet_mass"], asked["dry_mass"])
        if asked["wood"]:
            held_moisture(figures_of(asked["wood"]), percent)
        return SampleAnswer(percent, decay_risk(percent))
