"""A link to a report, and the check of a paper."""

from datetime import datetime, time, timedelta

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from restoration.actions.report_check import as_typed
from restoration.forms.days import DayInput
from timber_stock.web.forms import PlainForm

USUAL_DAYS = 30
LARGEST_FILE_MB = 60


def a_month_hence():
    return timezone.localdate() + timedelta(days=USUAL_DAYS)


class LinkForm(PlainForm):
    meant_for = forms.CharField(
        label="For whom", max_length=120, help_text="A name, so that each reader has a link."
    )
    expires_at = forms.DateField(
        label="Good until the end of",
        widget=DayInput,
        initial=a_month_hence,
        help_text="A year at most. It can be withdrawn at any time.",
    )

    def clean_expires_at(self) -> datetime:
        day = self.cleaned_data["expires_at"]
        return timezone.make_aware(datetime.combine(day, time(23, 59, 59)))


class CheckForm(PlainForm):
    """Any of three things that whoever holds a paper has in hand."""

    words = forms.CharField(
        label="The code on the paper, or its SHA-256",
        required=False,
        max_length=200,
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        help_text="Twelve letters and figures beside the square code; or the 64 of the hash.",
    )
    file = forms.FileField(
        label="Or the PDF itself",
        required=False,
        widget=forms.FileInput(attrs={"accept": "application/pdf"}),
        help_text="Its hash is taken and compared; the file is not kept.",
    )

    def clean_words(self) -> tuple[str, str]:
        words = self.cleaned_data["words"]
        kind, plain = as_typed(words)
        if words and not kind:
            raise ValidationError(
                f"That is {len(plain)} letters and figures. A code has 12, without 0, 1, I, L, O "
                "or U; a SHA-256 has 64, of 0 to 9 and a to f. Look at the paper again."
            )
        return kind, plain

    def clean_file(self):
        file = self.cleaned_data["file"]
        if file and file.size > LARGEST_FILE_MB * 1024 * 1024:
            raise ValidationError(
                f"A report's file is {LARGEST_FILE_MB} MB at most; this one is larger, so it is "
                "not one of ours as issued."
            )
        return file

    def clean(self):
        clean = super().clean()
        if not self.errors and not clean["words"][1] and not clean.get("file"):
            raise ValidationError("Type the code or the SHA-256, or choose the PDF.")
        return clean
