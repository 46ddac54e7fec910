from django import forms

from restoration.calc.fastening_layout import MOST_HOLES
from restoration.calc.fastening_size import WITH_FIGURES
from restoration.models import FasteningPlan, PlannedFastening, PlannedHole
from restoration.models.member import FasteningKind
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm, TradeModelForm

SIDE_CHOICES = [
    ("start", "the start, at the top of the drawing"),
    ("finish", "the far end, at the bottom"),
    ("left", "the left edge"),
    ("right", "the right edge"),
]
GRAIN = "degrees from the length of the face: 0 along it, 90 across it"


class AngleField(forms.FloatField):
    def __init__(self, **options):
        super().__init__(min_value=-180, max_value=180, **options)

    def prepare_value(self, value):
        return f"{value:g}" if isinstance(value, float) else value


class SidesField(forms.MultipleChoiceField):
    def __init__(self, **options):
        widget = forms.CheckboxSelectMultiple({"class": "sides"})
        options = {"choices": SIDE_CHOICES, "required": False, "widget": widget, **options}
        super().__init__(**options)


class FasteningPlanForm(TradeModelForm):
    heads_in = forms.ChoiceField(
        label="The heads are in",
        help_text="The drawing is seen from the side of the heads.",
    )
    length_mm = LengthField(
        label="Length of the face", help_text="of what the two timbers share; down the drawing"
    )
    width_mm = LengthField(label="Width of the face")
    head_thickness_mm = LengthField(
        label="Thickness", help_text="of this timber, along the fastenings"
    )
    point_thickness_mm = LengthField(
        label="Thickness", help_text="of this timber, along the fastenings"
    )
    head_grain_deg = AngleField(label="Its grain runs at", help_text=GRAIN)
    point_grain_deg = AngleField(label="Its grain runs at", help_text=GRAIN)
    head_runs_on = SidesField(
        label="It runs on past", help_text="At the sides left open it ends or has its edge."
    )
    point_runs_on = SidesField(
        label="It runs on past", help_text="At the sides left open it ends or has its edge."
    )
    load_deg = AngleField(
        label="The load works at", help_text=GRAIN + ". Taken as working both ways."
    )
    scarf_depth_mm = LengthField(label="Depth of the timber scarfed", required=False)

    class Meta:
        model = FasteningPlan
        fields = [
            "name", "heads_in", "length_mm", "width_mm", "head_thickness_mm", "head_wood",
            "head_grain_deg", "head_runs_on", "point_thickness_mm", "point_wood",
            "point_grain_deg", "point_runs_on", "load_deg", "planes", "moisture", "end_grain",
            "place_in_boat", "scarf_of", "scarf_depth_mm", "note",
        ]  # fmt: skip
        labels = {
            "head_wood": "Its wood", "point_wood": "Its wood", "planes": "Sheared in",
            "moisture": "The wood is", "scarf_of": "It is a scarf of",
        }  # fmt: skip
        help_texts = {
            "name": "e.g. the scarf, the arm of the knee",
            "planes": "two where a timber like the first lies on the far side too",
            "place_in_boat": "for how much the nuts must be taken up",
            "scarf_of": "the published slopes are then shown beside it",
        }
        widgets = {"note": forms.Textarea({"rows": 3})}

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        joint = self.instance.joint
        self.fields["heads_in"].choices = [
            (str(member.pk), f"{member.mark}, {member.one()}")
            for member in (joint.one, joint.other)
        ]
        self.initial.setdefault("heads_in", str(self.instance.head().pk))
        for name in ("head_wood", "point_wood"):
            self.fields[name].empty_label = "as the member's"

    def groups(self) -> list:
        names = {
            "The face": ["name", "heads_in", "length_mm", "width_mm"],
            "The timber the heads are in": [
                "head_thickness_mm", "head_wood", "head_grain_deg", "head_runs_on",
            ],
            "The timber behind it": [
                "point_thickness_mm", "point_wood", "point_grain_deg", "point_runs_on",
            ],
            "Load and moisture": ["load_deg", "planes", "moisture", "end_grain", "place_in_boat"],
            "If it is a scarf": ["scarf_of", "scarf_depth_mm"],
            "Anything else": ["note"],
        }  # fmt: skip
        return [(title, [self[name] for name in fields]) for title, fields in names.items()]

    def clean(self):
        cleaned = super().clean()
        if "heads_in" in cleaned:
            other = str(self.instance.joint.other_id)
            self.instance.head_in_other = cleaned["heads_in"] == other
        if cleaned.get("scarf_of") and not cleaned.get("scarf_depth_mm"):
            self._say("scarf_depth_mm", "Say how deep the timber is that is scarfed.")
        return cleaned

    def _say(self, field: str, sentence: str) -> None:
        if field not in self.errors:
            self.add_error(field, sentence)


class PlannedFasteningForm(TradeModelForm):
    diameter_mm = LengthField(
        label="Diameter", help_text="of an annular nail: at the root of its rings"
    )
    length_mm = LengthField(label="Length", help_text="of a through fastening: under the head")
    washer_mm = LengthField(label="Washer or rove, across", required=False)
    washer_thick_mm = LengthField(label="Washer, thick", required=False)
    old_least_mm = LengthField(
        label="Least diameter left of the old one", required=False,
        help_text="measured at its thinnest, mostly where the timbers meet",
    )  # fmt: skip

    class Meta:
        model = PlannedFastening
        fields = [
            "kind", "metal", "diameter_mm", "length_mm", "thread", "washer_mm", "washer_thick_mm",
            "replaces", "old_least_mm", "note",
        ]  # fmt: skip
        labels = {"replaces": "In place of"}

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["kind"].choices = [
            ("", "choose a kind"),
            *(choice for choice in FasteningKind.choices if choice[0] in WITH_FIGURES),
        ]
        old = self.fields["replaces"]
        old.queryset = self.instance.plan.joint.fastenings.all()
        old.empty_label = "none of the old ones"

    def groups(self) -> list:
        old = ["replaces", "old_least_mm"]
        new = [name for name in self.fields if name not in (*old, "note")]
        return [
            ("The new fastening", [self[name] for name in new]),
            ("The old one", [self[name] for name in old]),
            ("Anything else", [self["note"]]),
        ]


class HolesForm(PlainForm):
    """Holes in rows along the face, or one by itself."""

    first_x = LengthField(label="First hole, along the face from its start")
    first_y = LengthField(label="First hole, across from the left edge")
    along = forms.IntegerField(
        label="Holes in a row", min_value=1, max_value=MOST_HOLES, initial=1, help_text="1 for one"
    )
    along_apart = LengthField(label="Apart in the row", required=False)
    rows = forms.IntegerField(label="Rows", min_value=1, max_value=MOST_HOLES, initial=1)
    rows_apart = LengthField(label="Rows apart", required=False)
    staggered = forms.BooleanField(label="every second row half a space further on", required=False)

    def clean(self):
        cleaned = super().clean()
        for many, apart in (("along", "along_apart"), ("rows", "rows_apart")):
            if (cleaned.get(many) or 1) > 1 and not cleaned.get(apart) and apart not in self.errors:
                self.add_error(apart, "Say how far apart they stand.")
        return cleaned


class HoleForm(TradeModelForm):
    x_mm = LengthField(label="Along the face from its start")
    y_mm = LengthField(label="Across from the left edge")

    class Meta:
        model = PlannedHole
        fields = ["x_mm", "y_mm"]
