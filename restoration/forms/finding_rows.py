"""The rows of a finding: readings taken, and causes in the surveyor's order."""

import re

from django import forms
from django.core.exceptions import ValidationError
from django.forms.formsets import BaseFormSet, formset_factory

from restoration.calc import vocabulary
from restoration.models import FindingCause, Reading
from restoration.models.finding import Certainty, ReadingKind
from timber_stock import measure
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

BLANK = ("", "–")
READING_KINDS = [
    BLANK,
    (ReadingKind.PROBE, "probe or drill depth"),
    (ReadingKind.MOISTURE, "moisture, %"),
    (ReadingKind.SOUNDING, "sounding"),
    (ReadingKind.BOLT, "bolt, diameter left"),
    (ReadingKind.PH, "pH"),
]
TYPED_AS_LENGTHS = (ReadingKind.PROBE, ReadingKind.BOLT)
_NUMBER = re.compile(r"(\d{1,6}(?:[.,]\d{1,6})?) ?%?", re.ASCII)


class Rows(BaseFormSet):
    """Rows of which any may be left empty, shown again as typed with one more to fill in."""

    default_error_messages = BaseFormSet.default_error_messages | {
        "too_many_forms": "That is over %(num)d rows. Enter the rest as another finding."
    }

    def __init__(self, *args, rows=None, units="imperial", **options):
        if rows is not None:
            options["initial"] = rows
            self.extra = len(rows) + 1
        super().__init__(*args, form_kwargs={"units": units}, **options)

    def initial_form_count(self):
        return 0  # no row is kept from before: an empty one is simply not there

    def filled(self) -> list:
        return [form for form in self.forms if form.has_changed()]

    def typed(self) -> list[dict]:
        """What each row that holds anything says, letter for letter."""
        rows = [{n: form.data.get(form.add_prefix(n), "") for n in form.fields} for form in self]
        return [row for row in rows if any(value for n, value in row.items() if n != "rank")]


class ReadingForm(PlainForm):
    kind = forms.ChoiceField(
        label="Reading", choices=READING_KINDS, error_messages={"required": "Say what was read."}
    )
    reading = forms.CharField(
        label="Figure or word",
        max_length=120,
        error_messages={"required": "A reading needs its figure; a sounding needs a word."},
    )
    at_mm = LengthField(label="How far along", required=False)
    instrument = forms.CharField(label="Instrument", max_length=120, required=False)

    def __init__(self, *args, units="imperial", **options):
        super().__init__(*args, units=units, **options)
        self.units = units

    def clean(self):
        typed = super().clean()
        if {"kind", "reading"} <= set(typed):
            try:
                self.row = self._row(typed)
                self.row.full_clean(exclude=["finding"])
            except (ValueError, ValidationError) as error:
                self.add_error("reading", getattr(error, "messages", str(error)))
        return typed

    def _row(self, typed: dict) -> Reading:
        kind, text = typed["kind"], typed["reading"]
        row = Reading(kind=kind, at_mm=typed.get("at_mm"), instrument=typed.get("instrument", ""))
        if kind == ReadingKind.SOUNDING:
            row.words = text
        elif kind in TYPED_AS_LENGTHS:
            bare_number_is = "mm" if self.units == "metric" else "in"
            row.value = measure.parse_length_mm(text, bare_number_is)
        else:
            row.value = _number(text)
        return row


def _number(text: str) -> float:
    number = _NUMBER.fullmatch(text)
    if not number:
        raise ValueError(f"“{text}” is not a figure. Write it as 18.5 or 7.")
    return float(number[1].replace(",", "."))


def cause_choices() -> list:
    return [BLANK, *((code, cause.name) for code, cause in vocabulary.causes().items())]


class CauseForm(PlainForm):
    cause = forms.ChoiceField(
        label="Cause",
        choices=cause_choices,
        error_messages={"required": "Choose the cause, or empty this row."},
    )
    certainty = forms.ChoiceField(
        label="How sure",
        choices=[BLANK, *Certainty.choices],
        error_messages={"required": "Say how sure you are of this cause."},
    )
    rank = forms.IntegerField(
        label="Rank",
        required=False,
        min_value=1,
        max_value=99,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    evidence = forms.CharField(
        label="What shows it",
        max_length=4_000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    def has_changed(self):
        return any(name != "rank" for name in self.changed_data)

    def guidance(self) -> vocabulary.Cause | None:
        """What the tables say of the cause chosen in this row."""
        return vocabulary.causes().get(self["cause"].value() or "")

    def row(self) -> FindingCause:
        names = ("cause", "certainty", "evidence")
        return FindingCause(**{name: self.cleaned_data[name] for name in names})


class CauseRows(Rows):
    def add_fields(self, form, index):
        super().add_fields(form, index)
        form.fields["rank"].initial = None if index is None else index + 1

    def in_order(self) -> list[FindingCause]:
        """By the rank given; rows without one, or with the same, in the order they stand."""
        ranked = sorted(self.filled(), key=lambda form: form.cleaned_data["rank"] or 99)
        return [form.row() for form in ranked]


# More than anybody enters of one member at once, and few enough to be shown again in a moment.
MOST_ROWS = 100
LIMITS = {"extra": 1, "max_num": MOST_ROWS, "absolute_max": MOST_ROWS}
ReadingFormSet = formset_factory(ReadingForm, formset=Rows, **LIMITS)
CauseFormSet = formset_factory(CauseForm, formset=CauseRows, **LIMITS)
