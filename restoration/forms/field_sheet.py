"""A row of a field sheet typed in afterwards: classes and a note, a finding for each row."""

import uuid

from django import forms

from restoration.calc import grading
from restoration.models import Finding, Member, Survey, User
from restoration.models.finding import Condition
from timber_stock.web.forms import PlainForm

TYPED = ("condition", "urgency", "measure", "note")


def _grades(label: str, grades) -> forms.TypedChoiceField:
    return forms.TypedChoiceField(
        label=label,
        choices=[("", "–"), *((code, f"{code} {grade.label}") for code, grade in grades.items())],
        coerce=int,
        empty_value=None,
        required=False,
    )


class SheetRowForm(PlainForm):
    made_id = forms.UUIDField(widget=forms.HiddenInput(attrs={"autocomplete": "off"}))
    condition = forms.ChoiceField(
        label="Condition",
        choices=[
            ("", "–"),
            *((code, f"{code} {grade.label}") for code, grade in grading.CONDITIONS.items()),
        ],
        error_messages={"required": "Set the condition class, or empty the row."},
    )
    urgency = _grades("Urgency", grading.URGENCIES)
    measure = _grades("Measure", grading.MEASURES)
    note = forms.CharField(label="Note", max_length=10_000, required=False)

    def __init__(self, *args, member: Member, **options):
        super().__init__(*args, prefix=f"m{member.pk}", **options)
        self.member = member
        for name in TYPED:  # the table's head says it to the eye, this to the ear
            self.fields[name].widget.attrs["aria-label"] = f"{member.mark}, {self[name].label}"
        self.fields["condition"].widget.use_required_attribute = lambda initial: False

    @classmethod
    def blank(cls, member: Member) -> "SheetRowForm":
        return cls(member=member, initial={"made_id": uuid.uuid4()})

    def is_filled(self) -> bool:
        return any(self.data.get(self.add_prefix(name), "").strip() for name in TYPED)

    def clean(self):
        typed = super().clean()
        not_examined = typed.get("condition") == Condition.NOT_EXAMINED
        if not_examined and not typed.get("note"):
            self.add_error("note", "Say why the member was not examined.")
        if not_examined and len(typed.get("note", "")) > 200:
            self.add_error("note", "The reason is up to 200 letters long.")
        for name, what in (("urgency", "the urgency"), ("measure", "the measure")):
            if typed.get("condition") and not not_examined and typed.get(name) is None:
                self.add_error(name, f"Set {what} too: it is a class of its own.")
        return typed

    def finding(self, survey: Survey, by: User) -> Finding:
        """Of a member that was not examined the note is the reason why."""
        typed = self.cleaned_data
        not_examined = typed["condition"] == Condition.NOT_EXAMINED
        return Finding(
            survey=survey,
            member=self.member,
            recorded_by=by,
            made_id=typed["made_id"],
            condition=typed["condition"],
            urgency=typed["urgency"],
            measure=typed["measure"],
            not_examined_reason=typed["note"] if not_examined else "",
            seen="" if not_examined else typed["note"],
        )
