"""A potential read with a reference cell, to be held against a metal's own."""

from django import forms

from timber_stock.web.forms import PlainForm


class PotentialForm(PlainForm):
    reading_of = forms.ChoiceField(label="Of which metal")
    reading_v = forms.FloatField(
        label="Potential read, volts",
        min_value=-2,
        max_value=1,
        widget=forms.TextInput(attrs={"inputmode": "text", "size": 8}),
        help_text="With its sign, such as -0.62. Millivolts are thousandths: -620 mV is -0.62.",
    )
    band_from_v = forms.FloatField(
        label="A standard's band, from", min_value=-2, max_value=1, required=False,
        widget=forms.TextInput(attrs={"size": 8}),
        help_text="Volts, where you have the standard at hand: its table is not held here.",
    )  # fmt: skip
    band_to_v = forms.FloatField(
        label="to", min_value=-2, max_value=1, required=False,
        widget=forms.TextInput(attrs={"size": 8}),
    )  # fmt: skip

    def __init__(self, *args, metals, **options):
        super().__init__(*args, **options)
        self.fields["reading_of"].choices = metals

    def clean(self):
        clean = super().clean()
        if (clean.get("band_from_v") is None) != (clean.get("band_to_v") is None):
            self.add_error("band_to_v", "Give both ends of the band, or neither.")
        return clean

    def band(self) -> tuple[float, float] | None:
        ends = self.cleaned_data["band_from_v"], self.cleaned_data["band_to_v"]
        return None if None in ends else ends
