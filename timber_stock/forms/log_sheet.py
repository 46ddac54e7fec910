"""What one measures of a log, in the order in which one walks round it."""

from types import SimpleNamespace

from django import forms

from timber_stock.models import Log, LogDefect, Measured
from timber_stock.web.fields import ClockField, LengthField
from timber_stock.web.forms import TradeModelForm, still_says

FACING_BUTT = "as you face the butt"
FACING_TOP = "as you face the top, with the same side of the log up"
DIAMETERS = (
    "butt_diameter_mm",
    "butt_diameter_2_mm",
    "middle_diameter_mm",
    "top_diameter_mm",
    "top_diameter_2_mm",
)
NOTHING_WHERE_EMPTY = (
    "butt_heart_offset_mm",
    "top_heart_offset_mm",
    "sweep_mm",
    "butt_trim_mm",
    "top_trim_mm",
)


def _optional(label: str, help_text: str = "") -> LengthField:
    return LengthField(label=label, required=False, help_text=help_text)


class LogSheetForm(TradeModelForm):
    """Diameters are typed as the tape was laid; the log keeps those under the bark."""

    measured = forms.ChoiceField(
        label="The tape goes", choices=Measured, widget=forms.RadioSelect, initial=Measured.UNDER
    )
    bark_mm = _optional("Bark, how thick", "on one side; needed when the tape goes over the bark")
    butt_diameter_mm = LengthField(label="Butt, from 9 to 3 o'clock", help_text=FACING_BUTT)
    butt_diameter_2_mm = _optional("Butt, from 12 to 6 o'clock", "leave it if the end is round")
    butt_heart_offset_mm = _optional("Heart off the middle", "empty when it is in the middle")
    butt_heart_clock = ClockField(
        label="Heart towards, o'clock", required=False, help_text=FACING_BUTT
    )
    butt_trim_mm = _optional("End checks to trim at the butt")
    length_mm = LengthField(label="Length", help_text="all of it, the end checks too")
    middle_diameter_mm = _optional(
        "Diameter half way along", "the mean of two; for Huber, Newton and Hoppus"
    )
    sweep_mm = _optional("Sweep", "how far it bows off a string from end to end")
    sweep_clock = ClockField(label="Bows towards, o'clock", required=False, help_text=FACING_BUTT)
    top_diameter_mm = LengthField(label="Top, across", help_text="the side that lies 9 to 3")
    top_diameter_2_mm = _optional("Top, from 12 to 6 o'clock", "leave it if the end is round")
    top_heart_offset_mm = _optional("Heart off the middle", "empty when it is in the middle")
    top_heart_clock = ClockField(
        label="Heart towards, o'clock", required=False, help_text=FACING_TOP
    )
    top_trim_mm = _optional("End checks to trim at the top")
    sapwood_mm = _optional("Sapwood", "its depth in from the bark; measure it where it is thickest")
    thicker_top = forms.BooleanField(
        label="Yes, the top is the thicker end: I measured both again", required=False
    )

    class Meta:
        model = Log
        fields = [
            "measured", "bark_mm", "butt_diameter_mm", "butt_diameter_2_mm",
            "butt_heart_offset_mm", "butt_heart_clock", "butt_trim_mm", "length_mm",
            "middle_diameter_mm", "sweep_mm", "sweep_clock", "top_diameter_mm",
            "top_diameter_2_mm", "top_heart_offset_mm", "top_heart_clock", "top_trim_mm",
            "sapwood_mm",
        ]  # fmt: skip

    WALK = [
        ("Before you begin", ["measured", "bark_mm"]),
        ("At the butt", [
            "butt_diameter_mm", "butt_diameter_2_mm", "butt_heart_offset_mm", "butt_heart_clock",
            "butt_trim_mm",
        ]),
        ("Along it", ["length_mm", "middle_diameter_mm", "sweep_mm", "sweep_clock"]),
        ("At the top", [
            "top_diameter_mm", "top_diameter_2_mm", "top_heart_offset_mm", "top_heart_clock",
            "top_trim_mm", "thicker_top",
        ]),
        ("The wood", ["sapwood_mm"]),
    ]  # fmt: skip

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        for name in NOTHING_WHERE_EMPTY:
            if not getattr(self.instance, name):
                self.initial[name] = None
        if self.instance.measured == Measured.OVER:
            self._show_over_bark()
        if not self._was_thicker() and not self.is_bound:
            del self.fields["thicker_top"]

    def groups(self):
        return [
            (heading, [self[name] for name in names if name in self.fields])
            for heading, names in self.WALK
        ]

    def clean(self):
        cleaned = super().clean()
        for name in NOTHING_WHERE_EMPTY:
            if name not in self.errors:
                cleaned[name] = cleaned.get(name) or 0.0
        if cleaned.get("measured") == Measured.OVER:
            self._take_bark_off(cleaned)
        self._ask_about_the_top(cleaned)
        return cleaned

    def _was_thicker(self) -> bool:
        log = self.instance
        thicker = log.round_as("top") > log.round_as("butt")
        if thicker:
            self.initial["thicker_top"] = True
        return thicker

    def _show_over_bark(self):
        for name in DIAMETERS:
            kept = getattr(self.instance, name)
            if kept is not None:
                over = kept + 2 * self.instance.bark_mm
                as_laid = SimpleNamespace(as_typed=self.instance.as_typed, **{name: over})
                self.initial[name] = still_says(as_laid, name, self.fields[name].units) or over

    def _take_bark_off(self, cleaned):
        bark = cleaned.get("bark_mm")
        if bark is None:
            if "bark_mm" not in self.errors:
                self.add_error("bark_mm", "Over the bark: say how thick the bark is on one side.")
            return
        for name in DIAMETERS:
            over = cleaned.get(name)
            if over is None:
                continue
            if over <= 2 * bark:
                self.add_error(name, "Bark this thick leaves no wood here.")
            else:
                cleaned[name] = over - 2 * bark

    def _ask_about_the_top(self, cleaned):
        butt, top = (self._area(cleaned, end) for end in ("butt", "top"))
        if butt is None or top is None or top <= butt:
            self.fields.pop("thicker_top", None)
        elif not cleaned.get("thicker_top"):
            self.add_error(
                "thicker_top",
                "The top comes out thicker than the butt. Is it? Measure both again, and tick "
                "this if it is so.",
            )

    @staticmethod
    def _area(cleaned, end):
        first, other = cleaned.get(f"{end}_diameter_mm"), cleaned.get(f"{end}_diameter_2_mm")
        return None if first is None else first * (other or first)


class LogDefectForm(TradeModelForm):
    from_butt_mm = LengthField(
        label="How far from the butt", required=False, help_text="where it begins"
    )
    to_mm = LengthField(
        label="As far as", required=False, help_text="from the butt; empty: right on to the top"
    )
    clock = ClockField(label="Towards, o'clock", required=False, help_text=FACING_BUTT)
    offset_mm = LengthField(
        label="Off the middle of the end",
        required=False,
        help_text="for rot and shake; a knot goes from the heart out",
    )
    across_mm = LengthField(
        label="How wide across", help_text="a knot at the bark; rot or shake on the end"
    )

    class Meta:
        model = LogDefect
        fields = ["kind", "from_butt_mm", "to_mm", "clock", "offset_mm", "across_mm", "note"]

    def clean(self):
        cleaned = super().clean()
        for name in ("from_butt_mm", "offset_mm"):
            if name not in self.errors:
                cleaned[name] = cleaned.get(name) or 0.0
        return cleaned

    def save(self, commit=True):
        return forms.ModelForm.save(self, commit)
