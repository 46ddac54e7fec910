"""A pattern from a DXF drawing: the file first, then what the file alone does not say."""

from django import forms
from django.core.exceptions import ValidationError

from restoration.calc import pattern as calc
from restoration.calc.pattern_dxf.asking import Question, question
from restoration.calc.pattern_dxf.chains import Loop, chained
from restoration.calc.pattern_dxf.flat import Run, runs
from restoration.calc.pattern_dxf.layers import OUTLINE, USES
from restoration.calc.pattern_dxf.reading import MOST_BYTES, Drawing, read_drawing, too_large
from restoration.calc.pattern_dxf.taking import (
    GAP_MM,
    WIDEST_GAP_MM,
    Asked,
    SeveralOutlines,
    pattern_from,
)
from restoration.calc.pattern_dxf.units import MM_PER_UNIT, UNIT_WORDS
from restoration.forms.patterns import PatternFacts, facts_of, usual_facts
from restoration.models import Member, Pattern
from timber_stock.measure import mm_from_inches
from timber_stock.web.fields import LengthField, format_for

MOST_LOOPS = 30
"""So many closed lines are offered as the outline, the largest first."""


class DxfFileForm(forms.Form):
    drawing = forms.FileField(
        label="DXF drawing",
        allow_empty_file=True,
        widget=forms.ClearableFileInput(attrs={"accept": ".dxf"}),
        help_text=f"up to {MOST_BYTES / 1e6:.0f} MB. Lines, polylines, arcs, circles, ellipses and "
        "splines are read; texts, dimensions and pictures are left out.",
    )

    def clean_drawing(self):
        file = self.cleaned_data["drawing"]
        if file.size > MOST_BYTES:  # before a byte of it is read
            raise ValidationError(too_large(file.size))
        self.data_read = file.read()
        try:
            question(read_drawing(self.data_read))
        except ValueError as error:
            raise ValidationError(str(error)) from error
        return file


class DxfForm(PatternFacts):
    """What a person says of a drawing. After `is_valid`, `pattern` is what it gives."""

    unit = forms.ChoiceField(label="The drawing is in", widget=forms.RadioSelect)
    lay_along = forms.BooleanField(
        label="Lay its longest way along",
        required=False,
        help_text="and begin it at zero; else it keeps the place and the direction it has",
    )
    gap_mm = LengthField(
        label="Join ends that lie apart by up to",
        required=False,
        help_text=f"empty: {GAP_MM:g} mm; at most {WIDEST_GAP_MM:g} mm",
    )

    def __init__(
        self, *args, drawing: Drawing, member: Member, replaces: Pattern | None = None, **options
    ):
        units = options.get("units", "imperial")
        self.drawing, self.question = drawing, question(drawing)
        usual = facts_of(replaces, units) if replaces else usual_facts(member)
        if drawing.sided_mm and not replaces:
            usual["sided_mm"] = drawing.sided_mm
        self.said_before = replaces.as_entered if replaces else {}
        unit = self.question.likely_unit(drawing.unit)
        options["initial"] = usual | _said_before(self.said_before, unit)
        super().__init__(*args, **options)
        self.fields["grain_deg"].help_text = "empty: as a grain layer shows, else along the pattern"
        self.fields["unit"].choices = _units(self.question, units)
        self.trouble = ""
        self.flat: list[Run] = []
        self.loops: list[Loop] = []
        self.pattern: calc.Pattern | None = None
        self._add_layers()
        self._add_outlines(units)

    def facts_fields(self):
        return [self[name] for name in PatternFacts.base_fields]

    def layer_rows(self):
        """Each layer with its field."""
        return [(layer, self[f"layer_{n}"]) for n, layer in enumerate(self.question.layers)]

    def clean(self):
        cleaned = super().clean()
        if self.trouble:
            self.add_error("unit", self.trouble)
        if self.errors:
            return cleaned
        try:
            self.pattern = pattern_from(self.drawing, self.flat, self._asked())
        except SeveralOutlines as error:
            self.add_error("outline", str(error))
        except ValueError as error:
            self.add_error(None, ValidationError(str(error)))
        return cleaned

    def uses(self) -> dict[str, str]:
        """What each layer is for, as far as it is said yet."""
        return {layer.name: field.value() for layer, field in self.layer_rows()}

    def as_entered(self, file_name: str) -> dict:
        """What was said of the drawing, so that it can be said again of it or of the next."""
        names = ("unit", "lay_along", "outline", "grain_deg")
        said = {name: self.cleaned_data[name] for name in names}
        return {"file": file_name, "uses": self.uses(), "gap_mm": self["gap_mm"].value(), **said}

    def _asked(self) -> Asked:
        cleaned = self.cleaned_data
        chosen = cleaned.get("outline")
        grain = cleaned.get("grain_deg")
        return Asked(
            mm_per_unit=MM_PER_UNIT[cleaned["unit"]],
            sided_mm=cleaned["sided_mm"],
            uses=self.uses(),
            outline=int(chosen) if chosen else None,
            gap_mm=cleaned.get("gap_mm") or GAP_MM,
            lay_along=cleaned["lay_along"],
            grain_deg=grain,
        )

    def _add_layers(self) -> None:
        for number, layer in enumerate(self.question.layers):
            self.fields[f"layer_{number}"] = forms.ChoiceField(
                label=f"Layer “{layer.name}”: {layer.holds}",
                choices=list(USES.items()),
                initial=self.said_before.get("uses", {}).get(layer.name, layer.use),
            )

    def _add_outlines(self, units: str) -> None:
        """The closed lines there are to choose from; a field only where there are several."""
        unit = self["unit"].value()
        if unit in MM_PER_UNIT:
            try:
                self._find_loops(MM_PER_UNIT[unit])
            except ValueError as error:
                self.trouble = str(error)
        several = len(self.loops) > 1
        choices = [(str(n), _loop_words(n, loop, units)) for n, loop in enumerate(self.loops)]
        self.fields["outline"] = forms.ChoiceField(
            label="Which of these is the outline?",
            choices=choices if several else [("", "")],
            widget=forms.RadioSelect if several else forms.HiddenInput,
            required=False,
        )

    def _find_loops(self, mm_per_unit: float) -> None:
        self.flat = runs(self.drawing, mm_per_unit)
        uses = self.uses()
        of_outline = [r for r in self.flat if uses[r.layer] == OUTLINE and not r.centre_mm]
        self.loops = chained(of_outline, self._gap())[0][:MOST_LOOPS]

    def _gap(self) -> float:
        """As typed; as usual while that cannot be read."""
        field = self.fields["gap_mm"]
        try:
            gap = field.clean(self["gap_mm"].value() or "") or GAP_MM
        except ValidationError:
            return GAP_MM
        return min(gap, WIDEST_GAP_MM)


def _said_before(said: dict, unit: str) -> dict:
    """Of the drawing that made the version before, where it was one; this one's own unit first."""
    names = ("lay_along", "gap_mm", "grain_deg")
    return {"unit": unit or said.get("unit", "")} | {n: said[n] for n in names if n in said}


def _units(asked: Question, units: str) -> list[tuple[str, str]]:
    return [
        (unit, f"{UNIT_WORDS[unit]}: it is then {size_words(size, units)}")
        for unit, size in asked.sizes_mm().items()
    ]


def size_words(size_mm: tuple[float, float], units: str) -> str:
    """Long and broad, to the nearest millimetre or eighth of an inch: enough to tell units by."""
    step = 1.0 if units == "metric" else mm_from_inches(1 / 8)
    long, broad = (round(size / step) * step for size in size_mm)
    return f"{format_for(long, units)} long, {format_for(broad, units)} broad"


def _loop_words(number: int, loop: Loop, units: str) -> str:
    return f"{number + 1}: {size_words(loop.size_mm, units)}, on layer “{loop.layer}”"
