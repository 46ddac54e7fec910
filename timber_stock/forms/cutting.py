"""Cutting lists: what is wanted green from the saw, line by line."""

import re

from django import forms

from timber_stock.models import CuttingItem, CuttingList
from timber_stock.web.fields import DayInput, LengthField
from timber_stock.web.forms import TradeModelForm

from .choices import short_note

WHOLE = ("all", "whole", "all of it", "everywhere")
PARTS = re.compile(r"(\d+(?:\.\d+)?)\s*(?:to|-|–)\s*(\d+(?:\.\d+)?)\s*%?")


class PartsField(forms.CharField):
    """Parts of a timber's length, as `all` or `0 to 25, 75 to 100`; cleaned to [[from, to]]."""

    def to_python(self, value):
        text = (super().to_python(value) or "").strip().lower()
        if not text:
            return []
        if text in WHOLE:
            return [[0.0, 1.0]]
        return [self._part(part) for part in text.split(",") if part.strip()]

    def _part(self, text):
        found = PARTS.fullmatch(text.strip())
        first, last = (float(end) for end in found.groups()) if found else (1, 0)
        if not 0 <= first < last <= 100:
            raise forms.ValidationError(
                f"“{text.strip()}” is no part of a length. Write all, or percents of the length "
                "from one end, such as 0 to 25, 75 to 100."
            )
        return [first / 100, last / 100]

    def prepare_value(self, value):
        return parts_in_words(value) if isinstance(value, list) else value

    def has_changed(self, initial, data):
        return parts_in_words(initial or []) != (data or "")


def parts_in_words(parts) -> str:
    if parts == [[0.0, 1.0]]:
        return "all"
    return ", ".join(f"{100 * first:g} to {100 * last:g}" for first, last in parts)


class CuttingListForm(forms.ModelForm):
    class Meta:
        model = CuttingList
        fields = ["name", "made_on", "note", "is_open"]
        widgets = {"made_on": DayInput, "note": short_note()}

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        if not self.instance.pk:
            del self.fields["is_open"]


class CuttingItemForm(TradeModelForm):
    thickness_mm = LengthField(label="Green thickness", help_text="the lesser side")
    width_mm = LengthField(label="Green width", help_text="the greater side")
    length_mm = LengthField(label="Length to saw", help_text="with something to trim")
    heart_clearance_mm = LengthField(
        label="Clear of the heart by",
        required=False,
        help_text="0: just clear of it. Empty: the heart may be in it, and it will check.",
    )
    knot_free = PartsField(
        label="Free of knots",
        required=False,
        max_length=200,
        help_text="all, or percents of its length from one end: 0 to 25, 75 to 100",
    )

    class Meta:
        model = CuttingItem
        fields = [
            "label", "for_whom", "quantity", "worth", "thickness_mm", "width_mm", "length_mm",
            "heart_clearance_mm", "sapwood_allowed", "knot_free", "mean_min_deg",
            "worst_min_deg", "mean_max_deg", "worst_max_deg",
        ]  # fmt: skip

    GROUPS = [
        ("What it is", ["label", "for_whom", "quantity", "worth"]),
        ("Its size, green from the saw", ["thickness_mm", "width_mm", "length_mm"]),
        ("Its wood", ["heart_clearance_mm", "sapwood_allowed", "knot_free"]),
        ("Its rings, in degrees to the wide face",
         ["mean_min_deg", "worst_min_deg", "mean_max_deg", "worst_max_deg"]),
    ]  # fmt: skip

    def groups(self):
        return [(heading, [self[name] for name in names]) for heading, names in self.GROUPS]
