"""What is said of a pattern however it is taken, and the tables it may be typed in."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from restoration.actions.patterns import usual_side
from restoration.calc import pattern as calc
from restoration.calc import pattern_offsets as offsets
from restoration.calc.pattern_cells import BARE_UNITS, CannotBeRead
from restoration.calc.pattern_extras import (
    bevels_as_table,
    bevels_from_table,
    holes_as_table,
    holes_from_table,
    lines_as_table,
    lines_from_table,
    outline_as_table,
)
from restoration.models import Member, Pattern
from restoration.models.pattern import Taken, one_side
from timber_stock.web.fields import DayInput, LengthField, format_for
from timber_stock.web.forms import PlainForm

TABLES = ("outline", "lines", "holes", "bevels")
LONGEST_TEXT = 400_000


class PatternFacts(PlainForm):
    name = forms.CharField(max_length=80)
    side = forms.ChoiceField(label="Taken of the side", choices=one_side)
    turns_over = forms.BooleanField(label="Serves the other side turned over", required=False)
    sided_mm = LengthField(
        label="Sided", help_text="how thick the timber is, square to the pattern"
    )
    grain_deg = forms.FloatField(
        label="Grain runs at",
        required=False,
        min_value=-90,
        max_value=90,
        help_text="degrees from along the pattern, rising to the right positive; empty: along it",
    )
    taken_on = forms.DateField(label="Taken on", widget=DayInput())
    note = forms.CharField(required=False, widget=forms.Textarea(attrs={"rows": 2}))

    def clean_taken_on(self):
        day = self.cleaned_data["taken_on"]
        if day > timezone.localdate():
            raise ValidationError("That day is still to come: say when it was taken.")
        return day

    def facts(self) -> dict:
        """What `keep_pattern` is told beside the shape."""
        names = ("name", "side", "turns_over", "taken_on", "note")
        return {name: self.cleaned_data[name] for name in names}

    def grain(self) -> float:
        return self.cleaned_data.get("grain_deg") or 0.0


def usual_facts(member: Member) -> dict:
    return {
        "name": f"{member.one()[:1].upper()}{member.one()[1:]} {member.mark}"[:80],
        "side": usual_side(member),
        "turns_over": member.side == "B",
        "sided_mm": member.sided_mm,
        "taken_on": timezone.localdate(),
    }


def facts_of(pattern: Pattern, units: str) -> dict:
    shape = pattern.shape()
    return {
        "name": pattern.name,
        "side": pattern.side,
        "turns_over": pattern.turns_over,
        "sided_mm": pattern.as_entered.get("sided") or format_for(pattern.sided_mm, units),
        "grain_deg": shape.grain_deg or None,
        "taken_on": pattern.taken_on,
        "note": pattern.note,
    }


def _table(
    label: str, rows: int, columns: str, example: str, *, required: bool = False
) -> forms.CharField:
    return forms.CharField(
        label=label,
        required=required,
        strip=False,
        max_length=LONGEST_TEXT,
        widget=forms.Textarea(attrs={"rows": rows, "class": "length", "spellcheck": "false"}),
        help_text=f"{columns} For instance: {example}",
    )


class OffsetsForm(PatternFacts):
    way = forms.ChoiceField(
        label="The outline is given by",
        choices=list(offsets.WAYS.items()),
        widget=forms.RadioSelect,
    )
    bare_unit = forms.ChoiceField(
        label="A figure without a unit is in", choices=list(BARE_UNITS.items())
    )
    fair = forms.BooleanField(
        label="Join the stations by a fair curve",
        required=False,
        help_text="one that runs through every station and never swings beyond its neighbours "
        "(monotone cubic); else by straight lines. Corners are always joined straight.",
    )
    outline = _table(
        "Offsets",
        10,
        "A row a station: along, upper edge, lower edge; or along, half breadth; or, for corners, "
        "along, across. Below the zero line with −. A heading row may name the columns, in any "
        "order, and give lines a column of their own: rabbet, bearding, centreline, waterline.",
        "1-2-4; 5 3/8; −1/4 in inches, or 368; 137; −6 in millimetres.",
        required=True,
    )
    lines = _table(
        "Inner lines",
        5,
        "line; along; across: rabbet line, inner rabbet line, bearding line, centreline, "
        "waterline, scarf or other line. A blank row begins a new one.",
        "rabbet line; 12; 3 1/2",
    )
    holes = _table("Bolt holes", 4, "along; across; diameter.", "8; 5 1/4; 3/4")
    bevels = _table(
        "Bevels",
        4,
        "along; degrees from square: standing (open) positive, under (shut) with −.",
        "2-0-0; −3.5",
    )

    def __init__(self, *args, member: Member, taken_from: Pattern | None = None, **options):
        units = options.get("units", "imperial")
        self.taken_from = taken_from
        self.as_it_was = _tables_of(taken_from) if taken_from else {}
        usual = facts_of(taken_from, units) if taken_from else usual_facts(member)
        ways = {"way": "edges", "bare_unit": "mm" if units == "metric" else "in"}
        options["initial"] = {**ways, **usual, **self.as_it_was}
        super().__init__(*args, **options)
        self.pattern: calc.Pattern | None = None

    def facts_fields(self):
        return [self[name] for name in PatternFacts.base_fields]

    def clean(self):
        cleaned = super().clean()
        outline = self._read("outline", self._outline) or offsets.Taken(())
        lines = self._read("lines", lines_from_table)
        holes = self._read("holes", holes_from_table)
        bevels = self._read("bevels", bevels_from_table)
        if not self.errors:
            self._put_together(outline, lines, holes, bevels)
        return cleaned

    def as_entered(self) -> dict:
        """The tables as they were typed, so that they can be taken up again."""
        names = (*TABLES, "way", "bare_unit", "fair")
        return {
            **{name: self.cleaned_data[name] for name in names},
            "sided": self.data.get("sided_mm", ""),
        }

    def _outline(self, text: str, bare_unit: str) -> offsets.Taken:
        cleaned = self.cleaned_data
        return offsets.outline_from_table(
            text, way=cleaned["way"], bare_unit=bare_unit, fair=cleaned["fair"]
        )

    def _read(self, name: str, read):
        """What a table says; as it was kept, to the last figure, where nobody has touched it."""
        cleaned = self.cleaned_data
        if any(each not in cleaned for each in (name, "way", "bare_unit")):
            return None
        if self._is_untouched(name):
            shape = self.taken_from.shape()
            return offsets.Taken(shape.outline_mm) if name == "outline" else getattr(shape, name)
        try:
            return read(cleaned[name], cleaned["bare_unit"])
        except CannotBeRead as error:
            self.add_error(name, ValidationError(list(error.sentences)))
        except ValueError as error:
            self.add_error(name, ValidationError(str(error)))
        return None

    def _is_untouched(self, name: str) -> bool:
        was = self.as_it_was
        if not was or self.taken_from.taken == Taken.OFFSETS:
            return False
        if name == "outline" and self.cleaned_data["way"] != "corners":
            return False
        return _plain(self.cleaned_data[name]) == _plain(was[name])

    def _put_together(self, outline: offsets.Taken, lines, holes, bevels) -> None:
        try:
            self.pattern = calc.checked(
                calc.Pattern(
                    outline_mm=outline.outline_mm,
                    sided_mm=self.cleaned_data["sided_mm"],
                    lines=(*outline.lines, *lines),
                    holes=holes,
                    bevels=bevels,
                    grain_deg=self.grain(),
                )
            )
        except ValueError as error:
            self.add_error(None, ValidationError(str(error)))


def _tables_of(pattern: Pattern) -> dict:
    """The tables a pattern was typed in; where it was not, tables of what it is, in mm."""
    if pattern.taken == Taken.OFFSETS:
        names = (*TABLES, "way", "bare_unit", "fair")
        return {name: pattern.as_entered[name] for name in names if name in pattern.as_entered}
    shape = pattern.shape()
    return {
        "way": "corners",
        "bare_unit": "mm",
        "fair": False,
        "outline": outline_as_table(shape.outline_mm),
        "lines": lines_as_table(shape.lines),
        "holes": holes_as_table(shape.holes),
        "bevels": bevels_as_table(shape.bevels),
    }


def _plain(text: str) -> list[str]:
    return [line.strip() for line in text.strip().splitlines()]
