"""What is known of a log that is not found yet, and which logs to try a list on."""

import math

from django import forms

from timber_stock.models import Log
from timber_stock.sawing.request import Saw
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

from .choices import WoodField

STEPS = {"60": "a quick look", "300": "a longer look"}


class SawForm(PlainForm):
    kerf_mm = LengthField(
        label="Kerf of the saw", help_text="3 mm is usual for a wide band saw (from memory)"
    )
    crosscut_kerf_mm = LengthField(label="Kerf of the crosscut")

    def clean(self):
        cleaned = super().clean()
        for name in ("kerf_mm", "crosscut_kerf_mm"):
            kerf = cleaned.get(name)
            if kerf is not None and not 0 < kerf <= 100:
                self.add_error(name, "Every saw takes some wood: more than nothing, up to 100 mm.")
        return cleaned

    def saw(self) -> Saw:
        return Saw(self.cleaned_data["kerf_mm"], self.cleaned_data["crosscut_kerf_mm"])


class LogWantedForm(SawForm):
    wood = WoodField(
        required=False, empty_label="not said", help_text="named on the sheet a merchant gets"
    )
    trim_mm = LengthField(
        label="To trim at each end", help_text="for end checks; 2 to 4 in is common practice"
    )
    length_mm = LengthField(
        label="Length of the log", required=False,
        help_text="empty: the longest timber, with the trim",
    )  # fmt: skip
    sapwood_mm = LengthField(
        label="Sapwood to reckon with", required=False,
        help_text="measure it on logs of the same stand; white oak 1/2 to 1 1/2 in (from memory)",
    )  # fmt: skip
    field_order = ["wood", "length_mm", "trim_mm", "sapwood_mm", "kerf_mm", "crosscut_kerf_mm"]

    def clean_length_mm(self):
        length = self.cleaned_data["length_mm"]
        if length == 0:
            raise forms.ValidationError("No log is without length: give it, or leave this empty.")
        return length

    def clean_sapwood_mm(self):
        sapwood = self.cleaned_data["sapwood_mm"] or 0.0
        if sapwood > 500:
            raise forms.ValidationError("No log has sapwood thicker than 500 mm.")
        return sapwood

    def clean_trim_mm(self):
        trim = self.cleaned_data["trim_mm"]
        if not 0 <= trim <= 3000 or not math.isfinite(trim):
            raise forms.ValidationError("Trim between nothing and 3 m off each end.")
        return trim


class LogChoiceForm(SawForm):
    wood = WoodField(required=False, empty_label="any wood")
    steps = forms.ChoiceField(label="How long", choices=STEPS, initial="60")

    def logs(self):
        """Whole logs only: what is left of one half sawn is planned from its own plan."""
        logs = Log.objects.not_sawn_up().filter(sawings=None).select_related("species")
        wood = self.cleaned_data["wood"]
        return (logs.filter(species=wood) if wood else logs).prefetch_related("defects")
