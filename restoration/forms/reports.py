from django import forms

from restoration.models.user import Units
from restoration.models.yard import Paper
from timber_stock.web.forms import PlainForm


class IssueForm(PlainForm):
    """What the issuer decides: how the reader reads lengths, for whom it is, what else to say."""

    # `units` names the person's own units in every form, so the reader's have another name.
    reader_units = forms.ChoiceField(label="Lengths in", choices=Units)
    paper = forms.ChoiceField(choices=Paper, required=False)
    readers = forms.CharField(
        label="Meant for",
        max_length=300,
        help_text="For whom the report is meant, and who may rely on it.",
    )
    remarks = forms.CharField(
        required=False,
        max_length=20_000,
        widget=forms.Textarea,
        help_text="How her woods and fastenings are known (documented, seen, tested, assumed), "
        "which defects are being followed from survey to survey, when to look again.",
    )

    def said(self) -> dict[str, str]:
        """What goes into the report's content."""
        clean = self.cleaned_data
        return {
            "units": clean["reader_units"],
            "readers": clean["readers"],
            "remarks": clean["remarks"],
            "paper": clean["paper"] or Paper.A4,
        }
