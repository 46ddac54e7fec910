from django import forms

from restoration import timber
from restoration.models import ReplacementSpec
from restoration.models.replacement import Stage
from timber_stock.web.fields import ChosenRows, LengthField
from timber_stock.web.forms import PlainForm, TradeModelForm, still_says

from .days import DayDone

SIZES = ("sided_mm", "moulded_mm", "length_mm")


GROUPS = {
    "The wood": ["wood", "seasoning", "moisture_percent", "place_in_boat", "other_woods"],
    "Finished size": [*SIZES],
    "How it lies in the log": ["rings", "rings_face", "clear_of_heart", "sapwood_allowed"],
    "Fastenings and notes": ["fastenings", "note"],
    "Estimate": ["hours_estimate", "cost_estimate"],
}


class SpecForm(TradeModelForm):
    sided_mm = LengthField(label="Finished sided")
    moulded_mm = LengthField(label="Finished moulded")
    length_mm = LengthField(label="Finished length")

    class Meta:
        model = ReplacementSpec
        fields = [name for names in GROUPS.values() for name in names]
        widgets = {
            "other_woods": forms.CheckboxSelectMultiple,
            "fastenings": forms.Textarea({"rows": 3}),
            "note": forms.Textarea({"rows": 3}),
        }
        field_classes = {"other_woods": ChosenRows}
        help_texts = {
            "rings_face": "Which face the ring direction is judged on: the one that measures the "
            "sided size, or the moulded.",
            "clear_of_heart": "A piece with the heart in it checks as it dries.",
            "fastenings": "Kind, metal, diameter, length and number, as for the drawing.",
        }

    def __init__(self, *args, currency: str = "", **options):
        super().__init__(*args, **options)
        woods = timber.woods()
        self.fields["wood"].queryset = self.fields["other_woods"].queryset = woods
        self.fields["cost_estimate"].help_text = (
            currency and f"in {currency}; the whole of it, hours and timber too"
        )

    def groups(self) -> list:
        return [(title, [self[name] for name in names]) for title, names in GROUPS.items()]


def prefilled(member, units: str) -> dict:
    """The sizes and the wood of the member as it is, read back as they were typed."""
    sizes = {name: still_says(member, name, units) or getattr(member, name) for name in SIZES}
    return {"wood": member.wood_id, **sizes}


class SpecFilterForm(forms.Form):
    vessel = forms.ModelChoiceField(None, required=False, empty_label="every vessel")
    stage = forms.ChoiceField(
        required=False,
        choices=[("", "all that stand"), ("specify", "to be specified"), *Stage.choices],
    )

    def __init__(self, *args, vessels, **options):
        super().__init__(*args, **options)
        self.fields["vessel"].queryset = vessels


class ReasonForm(PlainForm):
    """For taking something back: the day, and why."""

    on = DayDone(label="Date")
    reason = forms.CharField(label="Why", max_length=200)
