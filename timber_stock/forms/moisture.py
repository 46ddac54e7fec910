from timber_stock.models import MoistureReading
from timber_stock.web.fields import DayInput, LengthField
from timber_stock.web.forms import TradeModelForm

from .choices import not_in_the_future


class MoistureForm(TradeModelForm):
    depth_mm = LengthField(label="Depth of the pins", required=False)

    class Meta:
        model = MoistureReading
        fields = ["read_on", "percent", "depth_mm", "instrument", "read_by"]
        widgets = {"read_on": DayInput}
        labels = {"percent": "Moisture, % of dry weight"}

    def clean_read_on(self):
        return not_in_the_future(self.cleaned_data["read_on"])
