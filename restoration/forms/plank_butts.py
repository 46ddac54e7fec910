"""Where the butts of one side's planking come, to be held against the published rules."""

from django import forms
from django.core.exceptions import ValidationError

from restoration.calc.plank_rules import Butt
from timber_stock import measure
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

MOST_FRAMES, MOST_BUTTS = 200, 80
UNREADABLE = (
    "Line {line}, “{said}”, is no butt: write the strake, counted from the garboard as 1, a comma, "
    "and how far along the hull it comes, such as 3, 12' 6."
)


class ButtsForm(PlainForm):
    first_mm = LengthField(label="First frame at", help_text="From where all places are measured.")
    spacing_mm = LengthField(label="Frame spacing")
    frames = forms.IntegerField(label="Number of frames", min_value=2, max_value=MOST_FRAMES)
    sided_mm = LengthField(
        label="Frames sided", required=False, help_text="Given, each butt must stand clear of them."
    )
    unusual = forms.BooleanField(
        label="The spacing is unusual for such a craft: the rule in feet holds", required=False
    )
    butts = forms.CharField(
        label="Butts, one a line: strake, place",
        widget=forms.Textarea(attrs={"rows": 8}),
        help_text="The strake counted from the garboard as 1; one side of the hull at a time.",
    )

    def clean_butts(self) -> list[Butt]:
        lines = [line.strip() for line in self.cleaned_data["butts"].splitlines()]
        found = [self._butt(n, said) for n, said in enumerate(lines, start=1) if said]
        if len(found) > MOST_BUTTS:
            raise ValidationError(f"Up to {MOST_BUTTS} butts at a time; these are {len(found)}.")
        if len(set(found)) < len(found):
            raise ValidationError("The same butt is written twice.")
        return found

    def _butt(self, line: int, said: str) -> Butt:
        strake, comma, place = said.partition(",")
        units = self.fields["first_mm"].units
        try:
            if not comma or not strake.strip().isdecimal() or len(strake) > 3:
                raise ValueError(said)
            at_mm = measure.parse_length_mm(place, "mm" if units == "metric" else "in")
        except ValueError as error:
            raise ValidationError(UNREADABLE.format(line=line, said=said)) from error
        return Butt(f"strake {int(strake)} at {place.strip()}", "", int(strake), at_mm)

    def frames_mm(self) -> list[float]:
        said = self.cleaned_data
        return [said["first_mm"] + n * said["spacing_mm"] for n in range(said["frames"])]
