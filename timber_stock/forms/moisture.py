from django import forms

from timber_stock.models import MoistureReading
from timber_stock.models.board import ReadingMethod
from timber_stock.web.fields import DayInput, LengthField
from timber_stock.web.forms import TradeModelForm
from timber_stock.web.temperature import TemperatureField
from timber_stock.wood.heaviness import held_moisture
from timber_stock.wood.species import Species as Wood

from .asking import UsualChoice
from .choices import not_in_the_future

# Above it the database refuses already, in its own sentence.
NO_WOOD_HOLDS_MORE = 300


class MoistureForm(TradeModelForm):
    method = UsualChoice(
        label="How it was found", choices=ReadingMethod, initial=ReadingMethod.PIN_METER
    )
    temperature_c = TemperatureField(
        label="Temperature of the wood, °C",
        required=False,
        help_text="18, or 64 F; a meter's reading is corrected by it",
    )
    depth_mm = LengthField(label="Depth of the pins", required=False)

    class Meta:
        model = MoistureReading
        fields = [
            "read_on", "percent", "method", "temperature_c", "depth_mm", "instrument", "read_by",
        ]  # fmt: skip
        widgets = {"read_on": DayInput}
        labels = {"percent": "Moisture as read, % of dry weight"}

    def __init__(self, *args, wood: Wood, **options):
        super().__init__(*args, **options)
        self.wood = wood

    def clean_read_on(self):
        return not_in_the_future(self.cleaned_data["read_on"])

    def clean_percent(self):
        percent = self.cleaned_data["percent"]
        if 0 <= percent <= NO_WOOD_HOLDS_MORE:
            try:
                held_moisture(self.wood, percent, "The reading")
            except ValueError as error:
                raise forms.ValidationError(str(error)) from error
        return percent
