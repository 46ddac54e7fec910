"""A pattern traced on the true picture: tables in millimetres, drawn with the finger or typed."""

from django import forms

from restoration.calc.pattern import Pattern, checked
from restoration.calc.pattern_cells import CannotBeRead
from restoration.calc.pattern_extras import bevels_from_table, holes_from_table, lines_from_table
from restoration.calc.pattern_offsets import outline_from_table
from restoration.models.pattern import one_side
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

READ = {
    "outline": lambda text: outline_from_table(text, way="corners", bare_unit="mm").outline_mm,
    "lines": lambda text: lines_from_table(text, "mm"),
    "holes": lambda text: holes_from_table(text, "mm"),
    "bevels": lambda text: bevels_from_table(text, "mm"),
}
"""Each table of the drawing, and how it is read. Bare figures are millimetres."""


def _table(label: str, help_text: str, *, required: bool = False) -> forms.CharField:
    return forms.CharField(
        label=label, help_text=help_text, required=required, strip=False, max_length=900_000,
        widget=forms.Textarea(attrs={"rows": 6, "spellcheck": "false"}),
    )  # fmt: skip


class TraceForm(PlainForm):
    name = forms.CharField(label="Name of the pattern", max_length=80)
    side = forms.ChoiceField(label="Taken of the side", choices=one_side, widget=forms.RadioSelect)
    turns_over = forms.BooleanField(label="Serves the other side turned over", required=False)
    sided_mm = LengthField(label="Sided")
    grain_deg = forms.FloatField(
        label="Grain, degrees from the right, upwards", min_value=-90, max_value=90, required=False,
        widget=forms.NumberInput(attrs={"step": "any", "inputmode": "decimal"}),
    )  # fmt: skip
    note = forms.CharField(label="Notes", required=False, widget=forms.Textarea(attrs={"rows": 2}))
    outline = _table(
        "Outline", "Its corners in order round it: to the right; upwards. One a row.", required=True
    )
    lines = _table("Lines", "Which line; to the right; upwards. A blank row begins another line.")
    holes = _table("Bolt holes", "To the right; upwards; diameter.")
    bevels = _table("Bevels", "To the right; degrees from square, standing without a sign.")

    def __init__(self, *args, later: bool = False, **options):
        """`later` only keeps the drawing as far as it has come: nothing of it is judged."""
        super().__init__(*args, **options)
        self.pattern: Pattern | None = None
        if later:
            for field in self.fields.values():
                field.required = False

    def drawing(self) -> dict[str, str]:
        """Letter for letter, but without NUL: nobody types one, and PostgreSQL cannot hold it."""
        return {name: self.data.get(name, "").replace("\0", "") for name in self.fields}

    def read_pattern(self) -> bool:
        """The whole pattern, in `pattern`; or everything that is amiss, each with its table."""
        said, found = self.cleaned_data, self._read_tables()
        if self.errors:
            return False
        shape = Pattern(
            outline_mm=found["outline"],
            sided_mm=said["sided_mm"],
            lines=found["lines"],
            holes=found["holes"],
            bevels=found["bevels"],
            grain_deg=said["grain_deg"] or 0.0,
        )
        try:
            self.pattern = checked(shape)
        except ValueError as error:
            self.add_error("outline", str(error))
        return not self.errors

    def _read_tables(self) -> dict:
        found = {}
        for name, read in READ.items():
            try:
                found[name] = read(self.cleaned_data[name])
            except CannotBeRead as error:
                self.add_error(name, list(error.sentences))
            except ValueError as error:
                self.add_error(name, str(error))
        return found
