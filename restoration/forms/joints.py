import re

from django import forms

from restoration.models import Fastening, Member
from restoration.models.member import FasteningKind
from restoration.models.walking import walking_order
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm, TradeModelForm

FASTENING = ["kind", "metal", "diameter_mm", "length_mm", "count"]


class FasteningForm(TradeModelForm):
    diameter_mm = LengthField(label="Diameter", required=False)
    length_mm = LengthField(label="Length", required=False)

    class Meta:
        model = Fastening
        fields = FASTENING


class JointForm(PlainForm):
    """Joins one member to others by their marks, with one row of fastenings if it is known."""

    others = forms.CharField(label="Joined to", max_length=400)
    note = forms.CharField(max_length=200, required=False)
    kind = forms.ChoiceField(
        label="Fastened with",
        choices=[("", "not known yet"), *FasteningKind.choices],
        required=False,
    )
    metal = forms.CharField(max_length=60, required=False, help_text="e.g. silicon bronze, iron")
    diameter_mm = LengthField(label="Diameter", required=False)
    length_mm = LengthField(label="Length", required=False)
    count = forms.IntegerField(
        label="Number in each joint", min_value=1, max_value=32767, required=False
    )

    def __init__(self, *args, member: Member, **options):
        super().__init__(*args, **options)
        self.member = member
        marks = member.vessel.members.exclude(pk=member.pk).order_by(*walking_order(), "pk")
        such_as = ", ".join(marks.values_list("mark", flat=True)[:3])
        self.fields["others"].help_text = (
            "The marks of the other members, several at once if you like"
            + (f": {such_as}" if such_as else "")
        )

    def groups(self) -> list:
        return [
            ("Joint", [self["others"], self["note"]]),
            ("Its fastenings", [self[name] for name in FASTENING]),
        ]

    def clean_others(self) -> list[Member]:
        marks = dict.fromkeys(
            re.split(r"[\s,;]+", self.cleaned_data["others"].upper().strip(" ,;"))
        )
        by_mark = {mark.mark.upper(): mark for mark in self.member.vessel.members.all()}
        joined = {joint.partner_of(self.member).mark.upper() for joint in self.member.joints()}
        self._refuse(
            {
                "No member of her has this mark: {}.": [m for m in marks if m not in by_mark],
                "A member cannot be joined to itself: {}.": marks.keys()
                & {self.member.mark.upper()},
                "Joined to this one already: {}. Add fastenings to that joint instead.": [
                    mark for mark in marks if mark in joined
                ],
            }
        )
        return [by_mark[mark] for mark in marks]

    def _refuse(self, wrong: dict[str, list[str]]) -> None:
        if said := [
            sentence.format(", ".join(marks)) for sentence, marks in wrong.items() if marks
        ]:
            raise forms.ValidationError(said)

    def clean(self):
        cleaned = super().clean()
        if any(cleaned.get(name) for name in FASTENING):
            if not cleaned.get("kind") and "kind" not in self.errors:
                self.add_error("kind", "Say what kind of fastening it is.")
            if not cleaned.get("metal") and "metal" not in self.errors:
                self.add_error("metal", "Say what metal (or wood) the fastening is of.")
        return cleaned

    def fastening(self) -> dict[str, object] | None:
        """The fastening for each joint, as its fields; None if none was given."""
        said = {name: self.cleaned_data[name] for name in FASTENING}
        return {**said, "count": said["count"] or 1} if said["kind"] else None
