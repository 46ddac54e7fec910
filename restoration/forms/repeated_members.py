import hashlib
from dataclasses import asdict

from django import forms
from django.core.exceptions import ValidationError

from restoration import timber
from restoration.actions.members import taken_marks
from restoration.calc.repeated_members import HIGHEST_NUMBER, PlannedMember, Run, lay_out
from restoration.forms.kinds import grouped_choices
from timber_stock import measure
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

SIDES = {
    "C": "on the centreline",
    "pair": "a pair at each number, port and starboard",
    "P": "port",
    "S": "starboard",
    "B": "one piece across both sides",
}
# Sizes in between are rounded to what this person's rule can show.
ROUNDED_TO_MM = {
    "imperial": measure.mm_from_inches(1 / 16),
    "imperial32": measure.mm_from_inches(1 / 32),
    "metric": 1.0,
}
GROUPS = {
    "What": ["kind", "side", "first", "last"],
    "Stations": ["station_first", "station_last", "station_spacing"],
    "Sizes": ["sided", "moulded", "moulded_ends", "length"],
    "Stuff": ["wood", "material"],
}


class SentenceForm(forms.Form):
    sentence = forms.CharField(label="In one line", max_length=300, required=False)


class RepeatedMembersForm(PlainForm):
    """A run of members; `planned` is every one it would make, `taken` the marks in the way."""

    kind = forms.ChoiceField(choices=grouped_choices)
    side = forms.ChoiceField(choices=SIDES)
    first = forms.IntegerField(label="First number", min_value=0, max_value=HIGHEST_NUMBER)
    last = forms.IntegerField(label="Last number", min_value=0, max_value=HIGHEST_NUMBER)
    station_first = forms.FloatField(
        label="First station", required=False, help_text="Left empty: the same as the numbers."
    )
    station_last = forms.FloatField(label="Last station", required=False)
    station_spacing = forms.FloatField(
        label="Or one every … stations", required=False, help_text="e.g. 0.5 for two a station"
    )
    sided = LengthField(required=False)
    moulded = LengthField(label="Moulded amidships", required=False)
    moulded_ends = LengthField(
        label="Moulded at the ends",
        required=False,
        help_text="If she is lighter at the ends: those in between taper in a straight line from "
        "the middle of the run.",
    )
    length = LengthField(required=False)
    wood = forms.ModelChoiceField(queryset=None, required=False)
    material = forms.CharField(label="Material, if not wood", max_length=60, required=False)
    previewed = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args, vessel, units="imperial", **options):
        super().__init__(*args, units=units, **options)
        self.fields["wood"].queryset = timber.woods()
        self.fields["wood"].empty_label = "not known, or not wood"
        for name in GROUPS["Stations"]:
            self.fields[name].widget.attrs["step"] = "any"
        self.vessel = vessel
        self.rounded_to_mm = ROUNDED_TO_MM.get(units, 1.0)
        self.planned: list[PlannedMember] = []
        self.taken: list[str] = []

    def groups(self) -> list:
        return [(title, [self[name] for name in names]) for title, names in GROUPS.items()]

    def clean(self):
        cleaned = super().clean()
        if self.errors:
            return cleaned
        try:
            self.planned = lay_out(self._run(cleaned))
        except ValueError as error:
            raise ValidationError(str(error)) from error
        self.taken = taken_marks(self.vessel, [member.mark for member in self.planned])
        if self.taken:
            raise ValidationError(
                f"{self.vessel} has members of these marks already: {', '.join(self.taken)}. "
                "Change the numbers, or correct those members one by one."
            )
        return cleaned

    def _run(self, cleaned) -> Run:
        return Run(
            **{name: cleaned[name] for name in (*GROUPS["What"], *GROUPS["Stations"])},
            sided_mm=cleaned["sided"],
            moulded_mm=cleaned["moulded"],
            moulded_ends_mm=cleaned["moulded_ends"],
            length_mm=cleaned["length"],
            rounded_to_mm=self.rounded_to_mm,
        )

    def fingerprint(self) -> str:
        """Tells one preview from another, so that only what was looked through is stored."""
        more = [str(self.cleaned_data.get(name)) for name in ("kind", "wood", "material")]
        said = repr([more, [asdict(member) for member in self.planned]])
        return hashlib.sha256(said.encode()).hexdigest()

    def was_previewed(self) -> bool:
        return self.cleaned_data["previewed"] == self.fingerprint()

    def as_typed(self) -> dict[str, str]:
        return {f"{name}_mm": self.data.get(name, "") for name in ("sided", "moulded", "length")}
