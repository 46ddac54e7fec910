"""What a person knows of the timber before it is sawn: where its heart runs, and of what wood."""

from django import forms

from restoration.timber import woods
from timber_stock.web.fields import PlaceField
from timber_stock.web.forms import PlainForm


class NeedsForm(PlainForm):
    wood = forms.ModelChoiceField(
        None, required=False, empty_label="as specified, or as the member is"
    )
    heart_left = PlaceField(label="Heart at the left end", required=False)
    heart_right = PlaceField(label="Heart at the right end", required=False)

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["wood"].queryset = woods()

    def clean(self):
        said = super().clean()
        ends = said.get("heart_left"), said.get("heart_right")
        if (ends[0] is None) != (ends[1] is None) and not self.errors:
            raise forms.ValidationError(
                "Give the heart at both ends of the pattern, or at neither of them."
            )
        return said

    def heart(self) -> tuple[float, float] | None:
        said = self.cleaned_data if self.is_valid() else {}
        ends = said.get("heart_left"), said.get("heart_right")
        return None if None in ends else ends
