"""What every sheet of a section asks: the wood, how dry it comes, by whose limits, how drawn."""

from django import forms

from timber_stock.models import service_moistures
from timber_stock.wood.checked import between
from timber_stock.wood.ring_limits import AUTHORITIES
from timber_stock.wood.service import PLACES

from .asking import AskingForm
from .choices import WoodField

MOST_EXAGGERATED = 20


class DryingForm(AskingForm):
    wood = WoodField()
    place = forms.ChoiceField(
        label="Dries as in this place",
        required=False,
        choices=[
            ("", "as given in percent"),
            *((key, at.place) for key, at in PLACES.items()),
        ],
    )
    moisture = forms.FloatField(
        label="Or to a moisture, %", required=False, help_text="goes before the place"
    )
    limits = forms.ChoiceField(
        label="Ring direction by",
        choices=[(key, limits.name) for key, limits in AUTHORITIES.items()],
    )
    exaggeration = forms.FloatField(
        label="Movement drawn times", help_text=f"1 is true; up to {MOST_EXAGGERATED}"
    )

    def clean_exaggeration(self):
        try:
            return between(
                self.cleaned_data["exaggeration"], 1, MOST_EXAGGERATED, "The exaggeration"
            )
        except ValueError as error:
            raise forms.ValidationError(str(error)) from error

    def __init__(self, *args, units: str = "imperial", **options):
        super().__init__(*args, units=units, **options)
        self.units = units

    def settled(self, asked: dict):
        """The moisture it comes to, percent, and the place in the boat that gave it, if any."""
        if asked["moisture"] is not None:
            return asked["moisture"], None
        if not asked["place"]:
            raise ValueError("Choose a place in the boat, or give the moisture it dries to.")
        place = service_moistures()[asked["place"]]
        return place.expected_percent, place

    def said(self) -> list[tuple[str, str]]:
        """Every refusal with the name of what it is about: the fields stand elsewhere."""
        return [
            ("" if name == "__all__" else str(self.fields[name].label or name), sentence)
            for name, sentences in self.errors.items()
            for sentence in sentences
        ]
