from django import forms

from restoration.calc.sawn_green import UNDERSIZE_PERCENT
from restoration.models import ReplacementSpec, Yard
from restoration.models.replacement import places_in_boat
from restoration.models.yard import ring_authorities
from timber_stock.web.fields import LengthField, format_for
from timber_stock.web.forms import PlainForm

MOST_EXAGGERATED = 20


class SpecSumsForm(PlainForm):
    """What the saw's size and the movement of one replacement are reckoned with, for one look.

    Begins with what the specification and the yard have; nothing that is typed here is kept.
    """

    place = forms.ChoiceField(label="Place in the boat", required=False)
    planing = LengthField(label="Planing, both faces together")
    variation = LengthField(
        label="Sawing variation", help_text="standard deviation of what the saw cuts"
    )
    undersize = forms.FloatField(label="Pieces that may come small, %", min_value=0, max_value=50)
    limits = forms.ChoiceField(label="Ring direction by", choices=ring_authorities)
    exaggeration = forms.FloatField(
        label="Movement drawn times", min_value=1, max_value=MOST_EXAGGERATED,
        help_text=f"1 is true; up to {MOST_EXAGGERATED}",
    )  # fmt: skip

    def __init__(self, asked: dict, *, spec: ReplacementSpec, yard: Yard, units: str):
        begin = {
            "place": spec.place_in_boat,
            "planing": format_for(yard.planing_allowance_mm, units),
            "variation": format_for(yard.sawing_variation_mm, units),
            "undersize": f"{UNDERSIZE_PERCENT:g}",
            "limits": yard.ring_limits,
            "exaggeration": "5",
        }
        super().__init__({**begin, **asked}, units=units)
        self.untouched = {
            "planing": yard.planing_allowance_mm,
            "variation": yard.sawing_variation_mm,
        }
        for name in asked:
            self.untouched.pop(name, None)
        self.fields["place"].choices = [("", "not said"), *places_in_boat()]

    def clean(self):
        """What nobody typed is taken to the last figure, not as it is shown."""
        return {**self.cleaned_data, **self.untouched}

    def said(self) -> list[tuple[str, str]]:
        return [
            (self.fields[name].label, sentence)
            for name, sentences in self.errors.items()
            for sentence in sentences
        ]
