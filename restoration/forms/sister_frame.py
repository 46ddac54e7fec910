"""A sister frame as proposed, to be held against the published rules."""

from django import forms

from restoration.calc.frame_rules import SisterFrame
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm


class SisterForm(PlainForm):
    sister_sided_mm = LengthField(label="Sided")
    sister_moulded_mm = LengthField(label="Moulded")
    reach_mm = LengthField(
        label="Reach past the damage", help_text="The shorter of the two, above and below it."
    )
    plank_mm = LengthField(label="Width of the planks there", required=False)

    def proposed(self, frame: int, sided_mm: float, moulded_mm: float) -> SisterFrame:
        said = self.cleaned_data
        return SisterFrame(
            frame=frame,
            reach_mm=said["reach_mm"],
            sided_mm=said["sister_sided_mm"],
            moulded_mm=said["sister_moulded_mm"],
            frame_sided_mm=sided_mm,
            frame_moulded_mm=moulded_mm,
            plank_width_mm=said["plank_mm"],
        )

    def refuse(self, error: ValueError) -> None:
        self.add_error(None, forms.ValidationError(str(error)))
