"""What a surveyor sets and writes of one member: the classes, what was seen, and how far."""

from django import forms

from restoration.calc import grading
from restoration.forms import one_tap
from restoration.forms.cause_chips import SuspectedField
from restoration.models.finding import Condition
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

EXTENT_IN_ORDER = (
    "The extent runs from a lower to a higher distance along the member; give both or neither."
)

NOT_NOTHING_FOUND = (
    "You chose a class other than 0 and then pressed nothing found. Choose 0, 0 and 0, or keep "
    "the classes you chose with the button below."
)


def chips(field, grades) -> list[tuple]:
    """Each radio button of a field beside the class it stands for."""
    return [(radio, grades[radio.data["value"]]) for radio in field]


def grade_field(label: str, grades) -> forms.TypedChoiceField:
    return forms.TypedChoiceField(
        label=label,
        choices=[(code, grade.label) for code, grade in grades.items()],
        coerce=int,
        empty_value=None,
        required=False,
        widget=forms.RadioSelect,
    )


class FindingForm(PlainForm):
    made_id = forms.UUIDField(
        widget=forms.HiddenInput(attrs={"autocomplete": "off"}),  # never another form's mark
        error_messages=dict.fromkeys(
            ("required", "invalid"),
            "This form came without the mark it was given. Open the member's form again.",
        ),
    )
    condition = forms.ChoiceField(
        label="Condition",
        choices=[(code, grade.label) for code, grade in grading.CONDITIONS.items()],
        widget=forms.RadioSelect,
        error_messages={"required": "Set the condition class, or not examined."},
    )
    not_examined_reason = forms.CharField(label="Why not examined", max_length=200, required=False)
    urgency = grade_field("Urgency", grading.URGENCIES)
    measure = grade_field("Recommended measure", grading.MEASURES)
    seen = forms.CharField(
        label="What was seen",
        max_length=10_000,
        required=False,
        # A plain box for whoever types, and for a telephone that is spoken to.
        widget=forms.Textarea(attrs={"rows": 4, "autocapitalize": "sentences"}),
    )
    suspected = SuspectedField()
    extent_from_mm = LengthField(label="from", required=False)
    extent_to_mm = LengthField(label="to", required=False)

    def condition_chips(self):
        return chips(self["condition"], grading.CONDITIONS)

    def urgency_chips(self):
        return chips(self["urgency"], grading.URGENCIES)

    def measure_chips(self):
        return chips(self["measure"], grading.MEASURES)

    def clean(self):
        typed = super().clean()
        if condition := typed.get("condition"):
            self._check_classes(typed, condition == Condition.NOT_EXAMINED)
            self._check_nothing_found(typed)
        ends = typed.get("extent_from_mm"), typed.get("extent_to_mm")
        if not {"extent_from_mm", "extent_to_mm"} & set(self.errors) and not _in_order(*ends):
            self.add_error("extent_to_mm", EXTENT_IN_ORDER)
        return typed

    def _check_nothing_found(self, typed: dict) -> None:
        classes = [typed.get(name) for name in one_tap.CLASSES]
        if self.data.get(one_tap.SOUND) and classes != ["0", 0, 0]:
            self.add_error(None, NOT_NOTHING_FOUND)

    def _check_classes(self, typed: dict, not_examined: bool) -> None:
        reason = typed.get("not_examined_reason", "")
        if not_examined and not reason and "not_examined_reason" not in self.errors:
            self.add_error("not_examined_reason", "Say why the member was not examined.")
        if not not_examined and reason:
            self.add_error(
                "not_examined_reason",
                "Only a member that was not examined has a reason why. Clear this, or choose "
                "not examined.",
            )
        for name, what in (("urgency", "the urgency"), ("measure", "the recommended measure")):
            if not not_examined and typed.get(name) is None and name not in self.errors:
                self.add_error(name, f"Set {what} too: it is a class of its own.")


def _in_order(start: float | None, end: float | None) -> bool:
    if start is None or end is None:
        return start is end
    return start < end
