from django import forms
from django.core.exceptions import ValidationError

from restoration.calc.hull_particulars import Particulars, hull_kinds, lines_from
from restoration.calc.lines import CURVES, Lines
from restoration.forms.repeated_members import ROUNDED_TO_MM
from restoration.models.hull_lines import HullLines
from timber_stock import measure
from timber_stock.web.fields import LengthField, format_for
from timber_stock.web.forms import TradeModelForm

GROUPS = {
    "Her shape": [
        *("hull", "freeboard_bow_mm", "freeboard_least_mm", "freeboard_stern_mm"),
        "overhang_bow_mm",
    ],
    "Her stations": ["station_spaces", "station_spacing_mm", "station_first_mm"],
}
CURVE_WORDS = {
    "sheer": "Sheer: heights above the waterline",
    "profile": "Keel profile: stem, keel and stern, heights (− below the waterline)",
    "rabbet": "Rabbet: heights (− below the waterline)",
    "deck": "Deck edge: half breadths",
    "waterline": "Waterline: half breadths",
}
COLUMNS = (
    "along_mm", "keel_mm", "sheer_mm", "deck_half_breadth_mm", "rabbet_mm",
    "waterline_half_breadth_mm",
)  # fmt: skip
MOST_ROWS = 100


def read_signed_mm(text: str, units: str) -> float:
    """A height as the trade writes it; − before it is below the waterline."""
    plain = text.strip()
    sign = -1 if plain[:1] in ("-", "−") else 1
    unit = "mm" if units == "metric" else "in"
    return sign * measure.parse_length_mm(plain.lstrip("-−") if sign < 0 else plain, unit)


class SignedLengthField(LengthField):
    def to_python(self, value):
        text = forms.CharField.to_python(self, value)
        if text in self.empty_values:
            return None
        try:
            return read_signed_mm(text, self.units)
        except ValueError as error:
            raise ValidationError(str(error)) from error


class HullLinesForm(TradeModelForm):
    freeboard_bow_mm = LengthField(label="Freeboard at the bow", required=False)
    freeboard_least_mm = LengthField(label="Least freeboard", required=False)
    freeboard_stern_mm = LengthField(label="Freeboard at the stern", required=False)
    overhang_bow_mm = LengthField(
        label="Overhang at the bow",
        required=False,
        help_text="from the stem head to the fore end of the waterline; the stern has the rest",
    )
    station_spacing_mm = LengthField(label="Or: from station to station", required=False)
    station_first_mm = LengthField(
        label="Station 0 lies aft of the stem head by",
        required=False,
        help_text="Left empty: station 0 is at the stem head.",
    )
    offset_table = forms.CharField(
        label="Offsets",
        required=False,
        max_length=8000,
        widget=forms.Textarea(attrs={"rows": 6, "class": "length", "spellcheck": "false"}),
        help_text="A row a place, from forward to aft; between the figures a comma, a semicolon "
        "or a tab: place along the hull, keel, sheer, half breadth at deck, rabbet, half breadth "
        "at the waterline. Heights from the waterline, − below it. What was not measured stays "
        "empty; first and last row need the first four.",
    )

    class Meta:
        model = HullLines
        fields = [name for names in GROUPS.values() for name in names]

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["station_spaces"].help_text = "20 spaces make stations 0 to 20, LOA over 20."
        self.points = self._add_points(options.get("units", "imperial"))
        units = options.get("units", "imperial")
        typed = self.instance.as_typed.get("offset_table", "")
        self.initial["offset_table"] = typed or offsets_in_words(self.instance.offsets, units)

    def _add_points(self, units: str) -> dict[str, list[tuple[str, str]]]:
        """Two fields for each control point of the kind of hull chosen, by curve."""
        hull = self.data.get("hull") or self.instance.hull
        if hull not in hull_kinds():
            return {}
        lines = _unmoved(self.instance, hull)
        found: dict[str, list[tuple[str, str]]] = {}
        for curve in CURVES:
            for index, place in enumerate(getattr(lines, curve).points):
                names = (f"{curve}_{index}_along", f"{curve}_{index}_to")
                found.setdefault(curve, []).append(names)
                moved = self.instance.moves.get(curve, {}).get(str(index), ("", ""))
                for name, now, to in zip(names, place, moved, strict=True):
                    self._add_point(name, index, format_for(_rounded(now, units), units), to)
        return found

    def _add_point(self, name: str, index: int, now: str, to) -> None:
        along = name.endswith("along")
        breadth = name.startswith(("deck", "waterline"))
        what = "along" if along else "half breadth" if breadth else "height"
        label = f"{index}: {what}"
        field = (LengthField if along else SignedLengthField)(label=label, required=False)
        field.units = self.fields["station_first_mm"].units
        field.widget.attrs["placeholder"] = now
        self.fields[name] = field
        self.initial[name] = self.instance.as_typed.get(name) or to

    def groups(self) -> list:
        return [(title, [self[name] for name in names]) for title, names in GROUPS.items()]

    def curves(self) -> list:
        """For the page: heading, whether a point of it is moved or wrong, and pairs of fields."""
        found = []
        for curve, names in self.points.items():
            pairs = [(self[along], self[to]) for along, to in names]
            busy = any(field.value() or field.errors for pair in pairs for field in pair)
            found.append((CURVE_WORDS[curve], busy, pairs))
        return found

    def clean_offset_table(self) -> list[dict]:
        text = self.cleaned_data["offset_table"]
        rows = [line for line in text.splitlines() if line.strip()]
        if len(rows) > MOST_ROWS:
            raise ValidationError(f"An offset table has at most {MOST_ROWS} rows here.")
        units = self.fields["station_first_mm"].units
        return [_read_row(line, number, units) for number, line in enumerate(rows, start=1)]

    def clean(self):
        cleaned = super().clean()
        self.instance.offsets = cleaned.get("offset_table", [])
        self.instance.moves = self._moves(cleaned)
        return cleaned

    def _moves(self, cleaned) -> dict[str, dict[str, tuple[float, float]]]:
        moves: dict[str, dict[str, tuple[float, float]]] = {}
        for curve, names in self.points.items():
            for index, (along, to) in enumerate(names):
                at, value = cleaned.get(along), cleaned.get(to)
                if at is None and value is None:
                    continue
                at_an_end = index in (0, len(names) - 1)
                if value is None or (at is None and not at_an_end):
                    missing = to if value is None else along
                    self.add_error(missing, "Give both figures of the point, or neither.")
                else:
                    moves.setdefault(curve, {})[str(index)] = (at or 0.0, value)
        return moves

    def save(self, commit=True):
        kept = super().save(commit=False)
        kept.as_typed = {
            **{name: text for name, text in kept.as_typed.items() if text},
            "offset_table": self.data.get("offset_table", ""),
        }
        if commit:
            kept.save()
        return kept


def _rounded(mm: float, units: str) -> float:
    step = ROUNDED_TO_MM.get(units, 1.0)
    return round(mm / step) * step


def _unmoved(entered: HullLines, hull: str) -> Lines:
    """Where the points lie before any is moved; of a hull of no certain size if need be."""
    try:
        return lines_from(entered.particulars())
    except ValueError:
        return lines_from(Particulars(hull, 10_000.0))


def _read_row(line: str, number: int, units: str) -> dict[str, float | None]:
    mark = next((each for each in (";", "\t") if each in line), ",")
    cells = [cell.strip() for cell in line.split(mark)]
    if len(cells) > len(COLUMNS):
        raise ValidationError(
            f"Row {number} of the offset table has {len(cells)} figures; there are at most "
            f"{len(COLUMNS)}. Between feet and inches goes no comma."
        )
    try:
        figures = [read_signed_mm(cell, units) if cell else None for cell in cells]
    except ValueError as error:
        raise ValidationError(f"Row {number} of the offset table: {error}") from error
    if figures[0] is None:
        raise ValidationError(f"Row {number} of the offset table does not say where it lies.")
    return dict(zip(COLUMNS, figures, strict=False))


def offsets_in_words(offsets: list[dict], units: str) -> str:
    return "\n".join(
        "; ".join("" if row.get(name) is None else format_for(row[name], units) for name in COLUMNS)
        for row in offsets
    )
