"""What is typed about one time at the saw: when, by whom, the kerf, and a row of equal pieces
for each size that came out."""

from collections.abc import Iterator

from django import forms
from django.http import QueryDict
from django.utils import timezone

from timber_stock.actions import Balance, Piece, board_balance, log_balance
from timber_stock.models import Board, Log
from timber_stock.models.board import Heart, Rings, State
from timber_stock.models.tag_series import child_tags, give_tags
from timber_stock.web.fields import DayInput, LengthField
from timber_stock.web.forms import PlainForm

from .choices import not_in_the_future, short_note
from .sawing_cost import cost_field

FIRST_ROWS = 4
MOST_ROWS = 60
MOST_PIECES = 300


class SawingForm(PlainForm):
    sawn_on = forms.DateField(label="Sawn on", initial=timezone.localdate, widget=DayInput)
    sawn_by = forms.CharField(label="Sawn by", max_length=120)
    kerf_mm = LengthField(label="Kerf", help_text="what the blade turns to sawdust at each cut")
    cost = cost_field()
    note = forms.CharField(label="Note", required=False, max_length=2000, widget=short_note())

    def clean_sawn_on(self):
        return not_in_the_future(self.cleaned_data["sawn_on"])


class LogSawingForm(SawingForm):
    finishes_log = forms.BooleanField(
        label="This finishes the log: what is left is slabs and waste", required=False
    )


class PieceForm(PlainForm):
    """A row: one piece, or several alike."""

    use_required_attribute = False  # a row left empty is no piece
    tag = forms.CharField(label="Tag", required=False, max_length=36, strip=True)
    quantity = forms.IntegerField(label="How many", min_value=1, max_value=99, initial=1)
    thickness_mm = LengthField(label="Thickness")
    width_mm = LengthField(label="Width")
    length_mm = LengthField(label="Length")
    heart = forms.ChoiceField(label="Heart", choices=Heart, initial=Heart.UNKNOWN)
    rings = forms.ChoiceField(label="Rings", choices=Rings, initial=Rings.UNKNOWN)
    has_sapwood = forms.BooleanField(label="Sapwood", required=False)
    place = forms.CharField(label="Where it lies", required=False, max_length=120)

    def clean(self):
        for name in ("thickness_mm", "width_mm", "length_mm"):
            if self.cleaned_data.get(name) == 0:
                self.add_error(name, "A piece's sizes are more than nothing.")

    def is_a_piece(self) -> bool:
        return self.is_bound and self.is_valid() and self.has_changed()

    def typed_tag(self) -> str:
        return (self["tag"].value() or "").strip()

    def make(self, tag: str, state: str) -> Piece:
        about = {name: self.cleaned_data[name] for name in self.fields if name != "quantity"}
        return Piece(**{**about, "tag": tag, "state": state})


class SawingSheet:
    """The form and its rows as one, judged once: what was typed and what it comes to."""

    form_class: type[SawingForm] = SawingForm
    state_of_pieces: str = State.GREEN

    def __init__(self, source: Log | Board, *, data=None, units: str = "imperial"):
        self.source = source
        self.row_count = _row_count(data)
        self.form = self.form_class(data, units=units)
        self.rows = [
            PieceForm(data, units=units, prefix=f"piece-{n}", empty_permitted=True)
            for n in range(self.row_count)
        ]
        self.piece_rows = [row for row in self.rows if row.is_a_piece()]
        self.unread_rows = sum(row.is_bound and not row.is_valid() for row in self.rows)
        self._give_tags()
        self._refuse_too_many()

    def is_valid(self) -> bool:
        return self.form.is_valid() and not self.unread_rows

    def pieces(self) -> list[Piece]:
        return [row.make(tag, self.state_of_pieces) for row in self.piece_rows for tag in row.tags]

    def kerf_mm(self) -> float | None:
        return getattr(self.form, "cleaned_data", {}).get("kerf_mm")

    def balance(self) -> Balance:
        raise NotImplementedError

    def particulars(self) -> dict:
        return self.form.cleaned_data

    def refuse(self, error: forms.ValidationError) -> None:
        """Show a sentence from the action; it may speak of fields that this form does not have."""
        self.form.add_error(None, list(error.messages))

    def hush(self) -> None:
        """Nothing is called wrong while it is still being typed."""
        for form in (self.form, *self.rows):
            form.errors.clear()

    def _give_tags(self) -> None:
        """Rows with a piece are served first, so that an empty row takes no tag from them."""
        empty = [row for row in self.rows if row not in self.piece_rows]
        wanted = [(row.typed_tag(), row.cleaned_data["quantity"]) for row in self.piece_rows]
        wanted += [(row.typed_tag(), 1) for row in empty]
        given = give_tags(wanted, self._free_tags, self._taken_tags())
        for row, tags in zip([*self.piece_rows, *empty], given, strict=True):
            row.tags = tags

    def _free_tags(self) -> Iterator[str]:
        return child_tags(self.source.tag, is_log=isinstance(self.source, Log))

    def _taken_tags(self) -> list[str]:
        taken = []
        for kind in (Log, Board):
            alike = kind.objects.filter(tag__istartswith=self.source.tag)
            taken += alike.values_list("tag", flat=True)
        return taken

    def _refuse_too_many(self) -> None:
        if sum(len(row.tags) for row in self.piece_rows) > MOST_PIECES:
            self.form.add_error(
                None, f"That is over {MOST_PIECES} pieces. Record them as several sawings."
            )


class LogSawingSheet(SawingSheet):
    form_class = LogSawingForm

    def finishes_log(self) -> bool:
        return getattr(self.form, "cleaned_data", {}).get("finishes_log", False)

    def balance(self) -> Balance:
        return log_balance(
            self.source,
            self.pieces(),
            self.kerf_mm() or 0.0,
            finishes_log=self.finishes_log(),
        )

    def left_mm3(self) -> float:
        return max(0.0, self.source.unsawn_mm3() - self.balance().used_mm3())


class BoardSawingSheet(SawingSheet):
    def __init__(self, source: Board, **options):
        if source.is_in_stock():
            self.state_of_pieces = source.state  # dry stays dry at the saw
        super().__init__(source, **options)

    def balance(self) -> Balance:
        return board_balance(self.source, self.pieces(), self.kerf_mm() or 0.0)


def with_another_row(data: QueryDict) -> QueryDict:
    """What was typed, with a row more that stands as an empty row stands at first."""
    more, count = data.copy(), _row_count(data)
    more["rows"] = str(count + 1)
    for name, field in PieceForm.base_fields.items():
        more.setdefault(f"piece-{count}-{name}", field.initial or "")
    return more


def _row_count(data: QueryDict | None) -> int:
    try:
        asked = int((data or {}).get("rows", FIRST_ROWS))
    except ValueError:
        asked = FIRST_ROWS
    return min(max(asked, 1), MOST_ROWS)
