import hashlib

from django import forms
from django.core.exceptions import ValidationError

from restoration import timber
from restoration.calc import vocabulary
from restoration.calc.repeated_members import HIGHEST_NUMBER
from restoration.models import Member
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

SIDES = {"": "both sides", "P": "port only", "S": "starboard only"}
GROUPS = {
    "Which": ["kind", "first", "last", "side"],
    "What they get": ["sided", "moulded", "length", "wood", "material"],
}
SIZES = {"sided": "sided_mm", "moulded": "moulded_mm", "length": "length_mm"}


class MembersByRangeForm(PlainForm):
    """New sizes for a range of one kind. A size left empty stays; `chosen` are the members."""

    kind = forms.ChoiceField()
    first = forms.IntegerField(
        label="First number", required=False, min_value=0, max_value=HIGHEST_NUMBER
    )
    last = forms.IntegerField(
        label="Last number",
        required=False,
        min_value=0,
        max_value=HIGHEST_NUMBER,
        help_text="left empty, both: every one of the kind",
    )
    side = forms.ChoiceField(choices=SIDES, required=False)
    sided = LengthField(required=False)
    moulded = LengthField(required=False)
    length = LengthField(required=False)
    wood = forms.ModelChoiceField(queryset=None, required=False, empty_label="as it is")
    material = forms.CharField(
        label="Material, if not wood", max_length=60, required=False, help_text="empty: as it is"
    )
    previewed = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args, vessel, **options):
        super().__init__(*args, **options)
        self.vessel = vessel
        self.fields["wood"].queryset = timber.woods()
        there = set(vessel.members.order_by().values_list("kind", flat=True).distinct())
        kinds = vocabulary.member_kinds().items()
        self.fields["kind"].choices = [
            ("", "choose a kind"),
            *((code, kind.term) for code, kind in kinds if code in there),
        ]
        self.chosen: list[Member] = []

    def groups(self) -> list:
        return [(title, [self[name] for name in names]) for title, names in GROUPS.items()]

    def clean(self):
        cleaned = super().clean()
        if self.errors:
            return cleaned
        first, last = cleaned["first"], cleaned["last"]
        if first is not None and last is not None and first > last:
            raise ValidationError(f"The range runs backwards, from {first} to {last}.")
        for name in SIZES:
            if cleaned[name] == 0:
                self.add_error(name, "More than nothing, or empty: then it stays as it is.")
        if not self.changes():
            raise ValidationError("Say what they get: a size, a wood or a material.")
        self.chosen = list(self._chosen(first, last, cleaned["side"]))
        if not self.chosen:
            one = vocabulary.member_kind(cleaned["kind"]).one
            raise ValidationError(f"{self.vessel} has no {one} in that range.")
        return cleaned

    def _chosen(self, first, last, side):
        members = self.vessel.members.filter(kind=self.cleaned_data["kind"])
        if first is not None:
            members = members.filter(number__gte=first)
        if last is not None:
            members = members.filter(number__lte=last)
        if side:
            members = members.filter(side=side)
        return members.along_the_hull().select_related("wood")

    def changes(self) -> dict[str, object]:
        """Fields of a member and what each gets: those alone that were filled in."""
        said = self.cleaned_data
        sizes = {field: said.get(name) for name, field in SIZES.items()}
        given: dict[str, object] = {name: mm for name, mm in sizes.items() if mm is not None}
        for name in ("wood", "material"):
            if said.get(name):
                given[name] = said[name]
        return given

    def as_typed(self) -> dict[str, str]:
        given = self.changes()
        return {field: self.data.get(name, "") for name, field in SIZES.items() if field in given}

    def before_and_after(self) -> list[tuple[Member, dict[str, tuple]]]:
        """For the preview: each member with what it has now and what it gets."""
        changes = self.changes().items()
        return [
            (member, {name: (getattr(member, name), new) for name, new in changes})
            for member in self.chosen
        ]

    def fingerprint(self) -> str:
        """Tells one preview from another: by what they have now, and by what they get."""
        said = repr([(m.pk, sorted((k, str(v)) for k, v in c.items()))
                     for m, c in self.before_and_after()])  # fmt: skip
        return hashlib.sha256(said.encode()).hexdigest()

    def was_previewed(self) -> bool:
        return self.cleaned_data["previewed"] == self.fingerprint()
