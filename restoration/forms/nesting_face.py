"""The face of a board as it is measured to lay pieces out on it, with its defects."""

from django import forms
from django.core.exceptions import ValidationError
from django.forms.formsets import BaseFormSet, formset_factory
from django.forms.utils import ErrorDict

from restoration.calc.nesting_pieces import STEEPEST_GRAIN_DEG
from restoration.calc.nesting_sheet import (
    DEFECT_KINDS,
    MOST_DEFECTS,
    Defect,
    Sheet,
    Station,
    box,
    checked_sheet,
    oval,
    tapered,
)
from timber_stock import measure
from timber_stock.templatetags.measures import lengths_in
from timber_stock.web.fields import LengthField, PlaceField, format_for
from timber_stock.web.forms import PlainForm

ROUND = {"knot", "hole"}
USUAL_GAP_MM = 6.0
USUAL_GRAIN_DEG = 5.0
HEART_WIDE_MM, HEART_CLEAR_MM = 20.0, 12.0
"""What the form proposes, all to be changed: common practice, from memory."""


class FaceForm(PlainForm):
    """The face from end to end; a chalk line down it is what everything is measured from."""

    length_mm = LengthField(label="Length")
    thickness_mm = LengthField(label="Thickness")
    butt_width_mm = LengthField(
        label="Width at the butt", help_text="Half to each side of the chalk line."
    )
    top_width_mm = LengthField(label="Width at the top")
    edges = forms.CharField(
        label="Or the edges as measured",
        required=False,
        max_length=4000,
        widget=forms.Textarea({"rows": 4}),
        help_text="For a natural or swept edge, one place a line from butt to top: from the butt; "
        "to the right edge; to the left edge, measured from the chalk line as you look along from "
        "the butt. For instance 0; 9 in; 8 1/2 in. Then the two widths above are not used.",
    )
    butt_check_mm = LengthField(label="Checks cut off at the butt", required=False)
    top_check_mm = LengthField(label="Checks cut off at the top", required=False)
    sapwood_right_mm = LengthField(label="Sapwood at the right edge", required=False)
    sapwood_left_mm = LengthField(label="Sapwood at the left edge", required=False)
    gap_mm = LengthField(
        label="Gap between pieces",
        help_text="The kerf, how far the saw wanders, and what you leave round a piece to dress "
        "it.",
    )
    grain_deg = forms.FloatField(
        label="Off the grain at most, degrees",
        min_value=0,
        max_value=STEEPEST_GRAIN_DEG,
        help_text="How far a piece may be turned from the grain, which is taken to run along the "
        "chalk line. 5 degrees is a slope of about 1 in 11.",
        error_messages={
            "min_value": f"The grain may lie from 0 to {STEEPEST_GRAIN_DEG:g} degrees off a piece.",
            "max_value": f"The grain may lie from 0 to {STEEPEST_GRAIN_DEG:g} degrees off a "
            "piece: beyond that it is cross grain.",
        },
    )
    note = forms.CharField(max_length=200, required=False)

    def refuse(self, *sentences: str) -> None:
        """Says why, in the reader's own units."""
        for sentence in sentences:
            self.add_error(None, lengths_in(sentence, self.fields["length_mm"].units))

    def clean_edges(self):
        text = self.cleaned_data["edges"].strip()
        units = self.fields["length_mm"].units
        lines = [line for line in text.splitlines() if line.strip()]
        return tuple(_station(line, number, units) for number, line in enumerate(lines, 1))

    def sheet(self, defects: tuple[Defect, ...]) -> Sheet | None:
        """The face, or None where it is refused, and then the form says why."""
        told = self.cleaned_data
        stations = told["edges"] or tapered(
            told["length_mm"], told["butt_width_mm"], told["top_width_mm"]
        )
        trims = ("butt_check_mm", "top_check_mm", "sapwood_right_mm", "sapwood_left_mm")
        try:
            return checked_sheet(
                Sheet(
                    told["length_mm"],
                    told["thickness_mm"],
                    stations,
                    **{name: told[name] or 0.0 for name in trims},
                    defects=defects,
                )
            )
        except ValueError as error:
            self.refuse(str(error))
            return None


def _station(line: str, number: int, units: str) -> Station:
    cells = [cell.strip() for cell in line.split(";")]
    if len(cells) != 3:
        raise ValidationError(
            f"Line {number} of the edges needs three lengths with semicolons between them: from "
            "the butt; to the right edge; to the left edge."
        )
    try:
        along, right, left = (read_signed_mm(cell, units) for cell in cells)
    except ValueError as error:
        raise ValidationError(f"Line {number} of the edges: {error}") from error
    return Station(along, right, left)


def read_signed_mm(text: str, units: str) -> float:
    minus = text[:1] in "-−–" and text[:1] != ""
    bare = text.lstrip("-−–+ ")
    mm = measure.parse_length_mm(bare, "mm" if units == "metric" else "in")
    return -mm if minus else mm


class DefectForm(PlainForm):
    """One defect by its middle and how far it runs; an empty row is none."""

    kind = forms.ChoiceField(label="What", choices=list(DEFECT_KINDS.items()))
    along_mm = LengthField(label="Middle, from the butt")
    across_mm = PlaceField(label="Middle, left of the chalk line")
    long_mm = LengthField(label="Long")
    wide_mm = LengthField(label="Wide")
    clearance_mm = LengthField(label="Keep clear by", required=False)

    def defect(self) -> Defect:
        told = self.cleaned_data
        shape = oval if told["kind"] in ROUND else box
        sizes = (told[name] for name in ("along_mm", "across_mm", "long_mm", "wide_mm"))
        return Defect(told["kind"], shape(*sizes), told["clearance_mm"] or 0.0)


class Defects(BaseFormSet):
    """Rows left as they came are no defects; those the board's record proposes are."""

    def defects(self) -> tuple[Defect, ...]:
        return tuple(form.defect() for form in self.forms if self._is_told(form))

    def _is_told(self, form: DefectForm) -> bool:
        return bool(form.cleaned_data.get("long_mm"))

    def full_clean(self):
        super().full_clean()
        if not self.is_bound:
            return
        for form in self.forms:  # a row of which every length was emptied again is no row
            names = ("along_mm", "across_mm", "long_mm", "wide_mm")
            if form.errors and not any(
                form.data.get(form.add_prefix(n), "").strip() for n in names
            ):
                form._errors = ErrorDict()
                form.cleaned_data = {}
        self._errors = [form.errors for form in self.forms]


DefectFormSet = formset_factory(
    DefectForm, formset=Defects, extra=3, max_num=MOST_DEFECTS, absolute_max=MOST_DEFECTS + 10
)


def first_face(board) -> dict:
    """What the board's record says of its face; the edges are taken for parallel."""
    return {
        "length_mm": board.length_mm,
        "thickness_mm": board.thickness_mm,
        "butt_width_mm": board.width_mm,
        "top_width_mm": board.width_mm,
        "butt_check_mm": board.butt_check_mm,
        "top_check_mm": board.top_check_mm,
        "gap_mm": USUAL_GAP_MM,
        "grain_deg": USUAL_GRAIN_DEG,
    }


def first_defects(board, taken) -> list[dict]:
    """The heart where the record places it in the board, and the lengths promised already."""
    rows = [
        {
            "kind": "used", "along_mm": (each.from_mm + each.to_mm) / 2, "across_mm": 0.0,
            "long_mm": each.length_mm(), "wide_mm": board.width_mm, "clearance_mm": USUAL_GAP_MM,
        }
        for each in taken
    ]  # fmt: skip
    return [*([heart] if (heart := _heart(board)) else []), *rows]


def _heart(board) -> dict | None:
    butt = board.butt_heart_mm()
    if butt is None:
        return None
    top = board.top_heart_mm() or butt
    if min(abs(butt[1]), abs(top[1])) > board.thickness_mm / 2:
        return None  # it lies outside the thickness, and is in no piece
    if min(abs(butt[0]), abs(top[0])) > board.width_mm / 2:
        return None
    # Seen from the butt the record counts to the right; on the face left is positive.
    return {
        "kind": "heart", "along_mm": board.length_mm / 2, "across_mm": -(butt[0] + top[0]) / 2,
        "long_mm": board.length_mm, "wide_mm": abs(butt[0] - top[0]) + HEART_WIDE_MM,
        "clearance_mm": HEART_CLEAR_MM,
    }  # fmt: skip


def face_as_entered(layout, units: str) -> tuple[dict, list[dict]]:
    """A face that was laid out on before, to be changed: the first values of the two forms."""
    sheet = layout.face()
    first, last = sheet.stations[0], sheet.stations[-1]
    is_plain = sheet.stations == tapered(
        sheet.length_mm, first.right_mm + first.left_mm, last.right_mm + last.left_mm
    )
    names = ("butt_check_mm", "top_check_mm", "sapwood_right_mm", "sapwood_left_mm")
    face = {name: getattr(sheet, name) for name in ("length_mm", "thickness_mm", *names)}
    face |= {"gap_mm": layout.gap_mm, "grain_deg": layout.grain_deg, "note": layout.note}
    face["butt_width_mm"] = first.right_mm + first.left_mm
    face["top_width_mm"] = last.right_mm + last.left_mm
    face["edges"] = "" if is_plain else "\n".join(_line(s, units) for s in sheet.stations)
    return face, [_defect_row(defect) for defect in sheet.defects]


def _line(station: Station, units: str) -> str:
    return "; ".join(_signed(mm, units) for mm in (station.x_mm, station.right_mm, station.left_mm))


def _signed(mm: float, units: str) -> str:
    return f"{'-' if mm < 0 else ''}{format_for(abs(mm), units)}"


def _defect_row(defect: Defect) -> dict:
    across = [x for x, _ in defect.points_mm]
    up = [y for _, y in defect.points_mm]
    # The corners of an oval stand outside it: half a side of the twelve lies at its widest.
    long, wide = max(across) - min(across), max(up) - min(up)
    return {
        "kind": defect.kind, "along_mm": (max(across) + min(across)) / 2,
        "across_mm": (max(up) + min(up)) / 2, "long_mm": long, "wide_mm": wide,
        "clearance_mm": defect.clearance_mm,
    }  # fmt: skip
