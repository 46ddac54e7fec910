from django import forms

from timber_stock.models import Log
from timber_stock.web.fields import ClockField, DayInput, LengthField
from timber_stock.web.forms import TradeModelForm

from .choices import WoodField, not_in_the_future, short_note

FACING = "o'clock as you stand facing this end, with the same side of the log up at both"


PROTECTION_HELP = (
    "as you read it: a listing of the species (CITES appendix, national protection), a permit and "
    "its number, or that a list was looked through and the species is not on it"
)
SOURCE_HELP = "the permit, the list with its date, or who said so and when"


class LogForm(TradeModelForm):
    species = WoodField()
    length_mm = LengthField(label="Length")
    butt_diameter_mm = LengthField(label="Butt diameter, under bark")
    top_diameter_mm = LengthField(label="Top diameter, under bark")
    butt_heart_offset_mm = LengthField(label="Heart off centre at the butt", required=False)
    butt_heart_clock = ClockField(label="Towards, at the butt", required=False, help_text=FACING)
    top_heart_offset_mm = LengthField(label="Heart off centre at the top", required=False)
    top_heart_clock = ClockField(label="Towards, at the top", required=False, help_text=FACING)
    sapwood_mm = LengthField(
        label="Sapwood", required=False, help_text="its depth in from the bark"
    )
    is_sawn_up = forms.BooleanField(
        label="Sawn up: nothing more will come out of this log", required=False
    )

    class Meta:
        model = Log
        fields = [
            "tag", "species", "supplier", "felled_place", "felled_on", "felled_note",
            "received_on", "length_mm", "butt_diameter_mm", "top_diameter_mm",
            "butt_heart_offset_mm", "butt_heart_clock", "top_heart_offset_mm", "top_heart_clock",
            "sapwood_mm", "price", "transport", "grew_country", "grew_latitude", "grew_longitude",
            "protection_note", "protection_source", "place", "note",
        ]  # fmt: skip
        widgets = {
            "felled_on": DayInput,
            "received_on": DayInput,
            "note": short_note(),
            "protection_note": short_note(),
        }
        help_texts = {"protection_note": PROTECTION_HELP, "protection_source": SOURCE_HELP}

    GROUPS = [
        ("What it is", ["tag", "species", "supplier", "place", "received_on"]),
        ("What it cost", ["price", "transport"]),
        (
            "Where it grew, and when it was felled",
            [
                "felled_place", "grew_country", "grew_latitude", "grew_longitude",
                "felled_on", "felled_note",
            ],
        ),
        ("What protects it", ["protection_note", "protection_source"]),
        ("Its size", ["length_mm", "butt_diameter_mm", "top_diameter_mm", "sapwood_mm"]),
        (
            "Where its heart lies",
            [
                "butt_heart_offset_mm", "butt_heart_clock",
                "top_heart_offset_mm", "top_heart_clock",
            ],
        ),
        ("Besides", ["note", "is_sawn_up"]),
    ]  # fmt: skip

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        if self.instance.pk and self.instance.sawings.exists():
            self.initial["is_sawn_up"] = self.instance.is_sawn_up
        else:
            del self.fields["is_sawn_up"]

    def groups(self):
        """The fields as one measures and writes them down, under a heading each."""
        return [
            (heading, [self[name] for name in names if name in self.fields])
            for heading, names in self.GROUPS
        ]

    def clean_butt_heart_offset_mm(self):
        return self.cleaned_data["butt_heart_offset_mm"] or 0.0

    def clean_top_heart_offset_mm(self):
        return self.cleaned_data["top_heart_offset_mm"] or 0.0

    def clean_felled_on(self):
        return not_in_the_future(self.cleaned_data["felled_on"])

    def clean_received_on(self):
        return not_in_the_future(self.cleaned_data["received_on"])

    def clean(self):
        told = super().clean() or self.cleaned_data
        felled, received = told.get("felled_on"), told.get("received_on")
        if felled and received and received < felled:
            self.add_error(
                "received_on",
                "It was received before it was felled. Check both dates; of a tree bought "
                "standing, write the day its log came into the yard.",
            )
        return told
