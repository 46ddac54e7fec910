import hashlib

from django import forms
from django.core.exceptions import ValidationError

from restoration.actions.members import taken_marks
from restoration.calc.hull_particulars import hull_kinds
from restoration.calc.setting_out import Layout, ProposedMember, propose
from restoration.calc.tables import rows
from restoration.calc.vocabulary import member_kind
from restoration.models.hull_lines import MOST_STATIONS, HullLines
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

FRAME_KINDS = ("frame", "frame_steamed", "frame_sawn", "frame_laminated")
FIRST_SHARE, LAST_SHARE = 0.08, 0.94
GROUPS = {
    "The hull": ["hull", "station_spaces"],
    "Frames": [
        "frame_kind", "first_frame", "last_frame", "frame_spacing",
    ],
    "How many": ["floors_every", "strakes", "beams", "keel_bolts"],
}  # fmt: skip


class SettingOutForm(PlainForm):
    """A usual set of members; `proposed` is all of it, `taken` the marks she has already."""

    hull = forms.ChoiceField(label="Kind of hull", choices=lambda: list(hull_kinds().items()))
    station_spaces = forms.IntegerField(
        label="Spaces between stations", min_value=1, max_value=MOST_STATIONS,
        help_text="20 spaces make stations 0 to 20 over her length.",
    )  # fmt: skip
    frame_kind = forms.ChoiceField(label="Frames are")
    first_frame = LengthField(
        label="First frame, from the stem head aft",
        required=False,
        help_text="left empty: 8 % of her length",
    )
    last_frame = LengthField(
        label="Last frame, from the stem head aft",
        required=False,
        help_text="left empty: 94 % of her length",
    )
    frame_spacing = LengthField(label="From frame to frame")
    floors_every = forms.IntegerField(
        label="A floor at every … frame", min_value=0, max_value=20, initial=1,
        help_text="1 at each, 2 at every second, 0 for none",
    )  # fmt: skip
    strakes = forms.IntegerField(
        label="Strakes a side", min_value=2, max_value=40, help_text="garboard and sheer strake too"
    )
    beams = forms.IntegerField(label="Deck beams", min_value=0, max_value=100, initial=0)
    keel_bolts = forms.IntegerField(label="Keel bolts", min_value=0, max_value=100, initial=0)
    leave_out = forms.MultipleChoiceField(
        label="What she has not", required=False, widget=forms.CheckboxSelectMultiple
    )
    previewed = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args, vessel, lines: HullLines, **options):
        super().__init__(*args, **options)
        self.vessel, self.lines = vessel, lines
        self.fields["frame_kind"].choices = [(kind, member_kind(kind).term) for kind in FRAME_KINDS]
        self.fields["leave_out"].choices = _single_kinds()
        self.initial.setdefault("hull", lines.hull)
        self.initial.setdefault("station_spaces", 10)
        if lines.pk:
            del self.fields["station_spaces"]
        self.proposed: tuple[ProposedMember, ...] = ()
        self.taken: list[str] = []

    def groups(self) -> list:
        return [
            (title, [self[name] for name in names if name in self.fields])
            for title, names in GROUPS.items()
        ]

    def clean(self):
        cleaned = super().clean()
        if self.errors:
            return cleaned
        if not self.lines.pk:
            self.lines.hull = cleaned["hull"]
            self.lines.station_spaces = cleaned["station_spaces"]
        try:
            self.proposed = propose(self._layout(cleaned))
        except ValueError as error:
            raise ValidationError(str(error)) from error
        self.taken = taken_marks(self.vessel, [member.mark for member in self.proposed])
        return cleaned

    def _layout(self, cleaned) -> Layout:
        lines = self.lines.lines()
        first, last = cleaned["first_frame"], cleaned["last_frame"]
        return Layout(
            hull=cleaned["hull"],
            loa_mm=lines.length_mm,
            stations=self.lines.stations(lines),
            first_frame_mm=FIRST_SHARE * lines.length_mm if first is None else first,
            last_frame_mm=LAST_SHARE * lines.length_mm if last is None else last,
            frame_spacing_mm=cleaned["frame_spacing"],
            strakes=cleaned["strakes"],
            floors_every=cleaned["floors_every"],
            beams=cleaned["beams"],
            keel_bolts=cleaned["keel_bolts"],
            frame_kind=cleaned["frame_kind"],
            leave_out=tuple(cleaned["leave_out"]),
        )

    def new(self) -> list[ProposedMember]:
        """Those whose marks are free."""
        taken = {mark.upper() for mark in self.taken}
        return [member for member in self.proposed if member.mark.upper() not in taken]

    def by_kind(self) -> list[tuple[str, list[ProposedMember]]]:
        found: dict[str, list[ProposedMember]] = {}
        for member in self.new():
            found.setdefault(member_kind(member.kind).term, []).append(member)
        return list(found.items())

    def fingerprint(self) -> str:
        """Tells one preview from another, so that only what was looked through is stored."""
        return hashlib.sha256(repr((self.proposed, self.taken)).encode()).hexdigest()

    def was_previewed(self) -> bool:
        return self.cleaned_data["previewed"] == self.fingerprint()


def _single_kinds() -> list[tuple[str, str]]:
    codes = dict.fromkeys(row["kind"] for row in rows("setting_out"))
    return [(code, member_kind(code).term) for code in codes]
