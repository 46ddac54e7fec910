"""What is asked of a plan, and what was met in the log as it opened."""

import math

from django import forms

from timber_stock.actions import may_be_sawn_again
from timber_stock.measure import mm_from_inches
from timber_stock.models import Board, CuttingList, Log, SawingPlan
from timber_stock.sawing.request import Saw
from timber_stock.web.fields import ChosenRows, ClockField, LengthField
from timber_stock.web.forms import PlainForm

LITRE_MM3 = 1e6
# Sizes offered for what is left over: a choice of the yard's own, green, in inches and feet.
STOCK_THICK = {"1 in": 1, "1 1/4 in": 1.25, "1 1/2 in": 1.5, "2 in": 2}
STOCK_WIDE = {"4 in": 4, "6 in": 6, "8 in": 8}
STOCK_LONG = {"4 ft": 48, "6 ft": 72, "8 ft": 96, "12 ft": 144}
STOCK_WORTH, STOCK_EACH = 0.2, 20
SECONDS = {"5": "5 seconds", "20": "20 seconds", "60": "a minute", "120": "two minutes"}
QUICK = {"3": "3 seconds", "8": "8 seconds", "30": "half a minute"}


class PlanForm(PlainForm):
    cutting_list = forms.ModelChoiceField(CuttingList.objects.none(), label="Cutting list")
    kerf_mm = LengthField(
        label="Kerf of the saw",
        initial=3.2,
        help_text="what the blade turns to dust; about 1/8 in for a band saw (common practice), "
        "so measure your own",
    )
    crosscut_kerf_mm = LengthField(label="Kerf of the crosscut", initial=9.5)
    margin_mm = LengthField(
        label="Margin on every length",
        initial=3.0,
        help_text="kept from bark, sapwood, heart, rot and knots: a search pushes every limit to "
        "its edge, and a mill does not hold a hairsbreadth",
    )
    margin_deg = forms.FloatField(
        label="Margin on ring angles, degrees", min_value=0, max_value=45, initial=2
    )
    turn_cost_litres = forms.FloatField(
        label="A turn of the cant costs, litres of timber",
        min_value=0,
        max_value=1000,
        initial=2,
        help_text="a change of cut direction is worth making when it gains more than this, at "
        "worth 1; a litre is 0.42 board feet",
    )
    most_turns = forms.IntegerField(
        label="Turns at most", min_value=1, max_value=99, required=False
    )
    stock = forms.MultipleChoiceField(
        label="Fill what is left with boards of these thicknesses",
        choices=[(name, name) for name in STOCK_THICK],
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="4 to 8 in wide, 4 to 12 ft long, sapwood allowed; once the list has its place",
    )
    seconds = forms.ChoiceField(label="Search for", choices=SECONDS, initial="20")

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["cutting_list"].queryset = CuttingList.objects.open()

    def clean(self):
        for name in ("kerf_mm", "crosscut_kerf_mm"):
            kerf = self.cleaned_data.get(name)
            if kerf is not None and not 0 < kerf <= 100:
                self.add_error(name, "Every saw takes some wood, and none takes 100 mm.")
        if (self.cleaned_data.get("margin_mm") or 0) > 1000:
            self.add_error("margin_mm", "A margin of more than a metre leaves no log.")
        return self.cleaned_data

    def saw(self) -> Saw:
        return Saw(self.cleaned_data["kerf_mm"], self.cleaned_data["crosscut_kerf_mm"])

    def settings(self) -> dict:
        asked = self.cleaned_data
        return {
            "margin_mm": asked["margin_mm"],
            "margin_deg": asked["margin_deg"],
            "turn_cost_mm3": asked["turn_cost_litres"] * LITRE_MM3,
            "most_turns": asked["most_turns"],
        }

    def stock_sizes(self) -> list[dict]:
        """Rows of a cutting list for what is left over."""
        return [
            _stock_row(thick, wide, long)
            for thick in self.cleaned_data["stock"]
            for wide in STOCK_WIDE
            for long in STOCK_LONG
        ]

    def seconds_allowed(self) -> float:
        return float(self.cleaned_data["seconds"])


def _stock_row(thick: str, wide: str, long: str) -> dict:
    return {
        "id": f"{thick} × {wide} × {long}",
        "thickness_mm": mm_from_inches(STOCK_THICK[thick]),
        "width_mm": mm_from_inches(STOCK_WIDE[wide]),
        "length_mm": mm_from_inches(STOCK_LONG[long]),
        "quantity": STOCK_EACH, "worth": STOCK_WORTH, "heart_clearance_mm": 5.0,
        "sapwood_allowed": True, "for": "stock", "by_product": True,
    }  # fmt: skip


class MetForm(PlainForm):
    """What was met in the log. A clock is read by the marks on the log or as it lies on the saw."""

    what = forms.ChoiceField(
        label="What was met",
        widget=forms.RadioSelect,
        choices={
            "heart": "the heart is elsewhere than it was thought",
            "knot": "a knot that was not seen",
            "rot": "a shake, rot or other hole",
            "sizes": "nothing new: cuts came off their marks",
        },
    )
    clock = ClockField(label="Towards, o'clock", required=False)
    clock_by = forms.ChoiceField(
        label="The clock is read",
        choices={"marks": "by the marks on the butt", "bed": "as the piece lies now, 12 up"},
        initial="marks",
    )
    by_mm = LengthField(
        label="How far over",
        required=False,
        help_text="the heart from where it was thought; a hole's middle from the middle of the log",
    )
    end = forms.ChoiceField(
        label="The heart has moved",
        choices={"both": "all along", "butt": "at the butt", "top": "at the top"},
        initial="both",
    )
    from_mm = LengthField(label="From the trimmed butt", required=False)
    to_mm = LengthField(
        label="As far as", required=False, help_text="for a shake or rot; empty: on to the top"
    )
    across_mm = LengthField(
        label="How wide across", required=False, help_text="of a knot: at the bark"
    )
    again = ChosenRows(
        Board.objects.none(),
        label="Sawn already, but may be sawn thinner",
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    said = forms.CharField(label="In your own words", required=False, max_length=500)
    seconds = forms.ChoiceField(label="Search for", choices=QUICK, initial="8")

    def __init__(self, plan: SawingPlan, *args, **options):
        self.log = plan.request["log"]
        super().__init__(*args, **options)
        self.fields["again"].queryset = may_be_sawn_again(plan.log)
        self.fields["again"].label_from_instance = _piece_named

    def clean(self):
        needed = {
            "heart": ("clock", "by_mm"),
            "knot": ("clock", "from_mm", "across_mm"),
            "rot": ("across_mm", "from_mm"),
        }
        for name in needed.get(self.cleaned_data.get("what"), ()):
            if self.cleaned_data.get(name) is None and name not in self.errors:
                self.add_error(name, "Give this too.")
        if not self.errors:
            self._check_within_log()
        return self.cleaned_data

    def _check_within_log(self) -> None:
        met, length = self.cleaned_data, self.log["length_mm"]
        for name in ("from_mm", "to_mm"):
            if (met[name] or 0) > length:
                self.add_error(name, f"That is beyond the log, which is {length:.0f} mm long.")
        if met["to_mm"] is not None and met["to_mm"] <= (met["from_mm"] or 0):
            self.add_error("to_mm", "It ends further from the butt than it begins.")
        if met["by_mm"] and met["clock"] is None:
            self.add_error("clock", "Say towards which o'clock.")
        if met["across_mm"] == 0:
            self.add_error("across_mm", "It is wider than nothing.")

    def log_as_met(self, bed_deg: float) -> dict:
        """The log of the request with what was met; `bed_deg` is how far it lies turned now."""
        met, log = self.cleaned_data, dict(self.log)
        if met["what"] == "heart":
            right, up = self._off(bed_deg)
            for end in ("butt", "top"):
                if met["end"] in ("both", end):
                    x, y = log[f"{end}_pith_mm"]
                    log[f"{end}_pith_mm"] = [x + right, y + up]
        elif met["what"] == "knot":
            log["knots"] = [*log.get("knots", []), self._knot(bed_deg)]
        elif met["what"] == "rot":
            log["rot"] = [*log.get("rot", []), self._hole(bed_deg)]
        return log

    def _own_deg(self, bed_deg: float) -> float:
        """The direction in the log's own frame, counted from X towards Y."""
        turned = bed_deg if self.cleaned_data["clock_by"] == "bed" else 0.0
        return 90.0 - 30.0 * (self.cleaned_data["clock"] or 12.0) - turned

    def _off(self, bed_deg: float) -> tuple[float, float]:
        angle, by = math.radians(self._own_deg(bed_deg)), self.cleaned_data["by_mm"] or 0.0
        return by * math.cos(angle), by * math.sin(angle)

    def _knot(self, bed_deg: float) -> dict:
        radius = sum(self.log["butt_diameter_mm"]) / 4
        half = math.degrees(math.atan2(self.cleaned_data["across_mm"] / 2, radius))
        return {
            "from_butt_mm": self.cleaned_data["from_mm"],
            "clock_deg": self._own_deg(bed_deg) % 360,
            "half_angle_deg": min(max(half, 1.0), 80.0),
        }

    def _hole(self, bed_deg: float) -> dict:
        met, (x, y) = self.cleaned_data, self._off(bed_deg)
        to_mm = self.log["length_mm"] if met["to_mm"] is None else met["to_mm"]
        return {
            "x_mm": x, "y_mm": y, "radius_mm": met["across_mm"] / 2,
            "from_mm": met["from_mm"], "to_mm": to_mm,
        }  # fmt: skip


def _piece_named(board: Board) -> str:
    return f"{board.tag}, {board.sawn_as.label}"


def why_of(log: Log, cutting_list: CuttingList) -> str:
    return f"Planned for the list {cutting_list.name}."
