from django import forms

from restoration.models import Vessel
from restoration.reports.yard_match import Wish
from timber_stock.measure import mm_from_inches
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

MOST_MM = 500.0


class MatchForm(PlainForm):
    """How the whole yard is matched."""

    vessel = forms.ModelChoiceField(
        Vessel.objects.none(), required=False, empty_label="all vessels"
    )
    to_trim_mm = LengthField(
        label="Added to each length", initial=0.0, required=False, help_text="to trim, in all"
    )
    kerf_mm = LengthField(
        label="Lost between two pieces",
        initial=mm_from_inches(1 / 4),
        required=False,
        help_text="out of one board, end to end: kerf and squaring, the yard's choice",
    )
    with_differences = forms.BooleanField(
        label="Also boards that differ from what was asked", required=False
    )

    def __init__(self, *args, vessels, **options):
        super().__init__(*args, **options)
        self.fields["vessel"].queryset = vessels

    def clean(self):
        cleaned = super().clean()
        for name in ("to_trim_mm", "kerf_mm"):
            mm = cleaned.get(name)
            if mm is not None and not 0 <= mm <= MOST_MM:
                self.add_error(name, "Nothing or more, up to half a metre.")
        return cleaned

    def wish(self) -> Wish:
        said = self.cleaned_data
        return Wish(
            said["with_differences"],
            said["to_trim_mm"] or 0.0,
            said["kerf_mm"] or 0.0,
            said["vessel"],
        )


class AcceptForm(forms.Form):
    """One length as it was proposed: which replacement, which board, from where to where.

    And how much of the replacement was found then; nothing, where that is not sent.
    """

    spec_id = forms.IntegerField(min_value=1, max_value=2**63 - 1)
    board_id = forms.IntegerField(min_value=1, max_value=2**63 - 1)
    from_mm = forms.FloatField(min_value=0, max_value=1e6)
    to_mm = forms.FloatField(min_value=0, max_value=1e6)
    found_mm = forms.FloatField(min_value=0, max_value=1e6, required=False)

    @classmethod
    def of(cls, token: str) -> "AcceptForm":
        return cls(dict(zip(cls.base_fields, token.split(":"), strict=False)))

    def clean_found_mm(self):
        return self.cleaned_data["found_mm"] or 0.0
