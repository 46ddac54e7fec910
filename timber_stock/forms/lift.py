"""What is to be lifted: pieces of the stock by their tags, pieces measured, and the gear."""

from dataclasses import dataclass

from django import forms
from django.db.models.functions import Lower

from timber_stock.models import Board, Log, figures_of
from timber_stock.models.weights import board_kg, log_kg_at
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm
from timber_stock.wood.heaviness import (
    DRY_PERCENT,
    green_moisture,
    green_volume_density_kg_m3,
    held_moisture,
)
from timber_stock.wood.weights import (
    GREEN_ALLOWANCE_PERCENT,
    board_weight_kg,
    lift_weight_kg,
    log_weight_kg,
)

from .asking import UsualChoice
from .choices import WoodField

ROWS = 3
MOST_TAGS = 60


@dataclass(frozen=True)
class LiftPiece:
    what: str
    how_many: int
    kg_each: float
    moisture: str

    @property
    def kg(self) -> float:
        return self.how_many * self.kg_each


class LiftForm(PlainForm):
    tags = forms.CharField(
        label="Pieces of the stock",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="tags of logs and boards, with spaces or commas between: L07-A1 L08",
    )
    state = UsualChoice(
        label="How wet",
        initial="green",
        choices={"green": "green", "dry": f"dry, {DRY_PERCENT:g} %", "at": "at the moisture given"},
    )
    moisture = forms.FloatField(
        label="Moisture, %", required=False, help_text="only for a moisture given"
    )
    gear_kg = forms.FloatField(
        label="Slings, shackles and beam, kg", required=False, min_value=0, max_value=100000
    )
    allowance_percent = forms.FloatField(
        label="Allowance, %", required=False, min_value=0, max_value=100,
        help_text=f"how far a lot may be heavier than the tables; {GREEN_ALLOWANCE_PERCENT:g} when "
        "left empty (FPL Technical Note 218, 1931)",
    )  # fmt: skip

    def clean_tags(self):
        """Every tag, and the log or board it stands for."""
        tags = list(dict.fromkeys(self.cleaned_data["tags"].replace(",", " ").lower().split()))
        if len(tags) > MOST_TAGS:
            raise forms.ValidationError(f"Ask for {MOST_TAGS} tags at the most.")
        found = {}
        for model in (Log, Board):
            named = model.objects.alias(small=Lower("tag")).filter(small__in=tags)
            found |= {thing.tag.lower(): thing for thing in named.select_related("species")
                      .prefetch_related("species__own_figures")}  # fmt: skip
        if missing := [tag for tag in tags if tag not in found]:
            raise forms.ValidationError(f"Nothing in the stock has the tag {', '.join(missing)}.")
        return [found[tag] for tag in tags]

    def clean(self):
        if self.cleaned_data.get("state") == "at" and self.cleaned_data.get("moisture") is None:
            self.add_error("moisture", "Give the moisture, in percent of the dry weight.")
        return self.cleaned_data


class LiftRow(PlainForm):
    """Pieces alike that are measured, not tagged: squared, or round with a taper."""

    use_required_attribute = False
    wood = WoodField(required=False, empty_label="no piece")
    shape = UsualChoice(choices={"squared": "squared", "round": "round log"}, initial="squared")
    first_mm = LengthField(label="Thickness, or butt diameter", required=False)
    second_mm = LengthField(label="Width, or top diameter", required=False)
    length_mm = LengthField(label="Length", required=False)
    quantity = forms.IntegerField(
        label="How many", min_value=1, max_value=200, initial=1, required=False
    )

    def clean(self):
        sizes = [name for name in ("first_mm", "second_mm", "length_mm") if name in self.fields]
        if self.cleaned_data.get("wood"):
            for name in sizes:
                if name not in self.errors and not self.cleaned_data.get(name):
                    self.add_error(name, "Give this size, more than nothing.")
        elif any(self.cleaned_data.get(name) for name in sizes):
            self.add_error("wood", "Say of which wood it is.")
        return self.cleaned_data


class LiftSheet:
    """The form and its rows as one: what is lifted, and what it weighs."""

    def __init__(self, data=None, units: str = "imperial"):
        self.form = LiftForm(data, units=units, auto_id="id_lift_%s")
        self.rows = [LiftRow(data, units=units, prefix=f"row-{n}") for n in range(ROWS)]
        self.pieces: list[LiftPiece] = []
        self.total_kg = self.wood_kg = 0.0
        if data is not None and self._is_read():
            self._reckon()

    @property
    def allowance_kg(self) -> float:
        return self.wood_kg * self.allowance / 100

    def is_bound(self) -> bool:
        return self.form.is_bound

    def is_valid(self) -> bool:
        return self.form.is_valid() and all(row.is_valid() for row in self.rows)

    def _is_read(self) -> bool:
        for row in self.rows:
            row.is_valid()
        return self.is_valid()

    def _reckon(self) -> None:
        try:
            self.pieces = [self._stock_piece(thing) for thing in self.form.cleaned_data["tags"]]
            measured = [row.cleaned_data for row in self.rows if row.cleaned_data.get("wood")]
            self.pieces += [self._measured_piece(row) for row in measured]
            if not self.pieces:
                raise ValueError("Name pieces by their tags, or give the sizes of at least one.")
            self._sum()
        except ValueError as error:
            self.pieces = []
            self.form.add_error(None, str(error))

    def _sum(self) -> None:
        asked = self.form.cleaned_data
        allowance = asked["allowance_percent"]
        self.allowance = GREEN_ALLOWANCE_PERCENT if allowance is None else allowance
        self.gear_kg = asked["gear_kg"] or 0.0
        self.wood_kg = sum(piece.kg for piece in self.pieces)
        self.total_kg = lift_weight_kg(
            [piece.kg for piece in self.pieces], self.gear_kg, self.allowance
        )

    def _moisture(self, wood) -> tuple[float | None, str]:
        """None for green, where heartwood and sapwood may differ."""
        asked = self.form.cleaned_data
        if asked["state"] == "green":
            return None, green_moisture(wood).words
        percent = DRY_PERCENT if asked["state"] == "dry" else asked["moisture"]
        return held_moisture(wood, percent), f"{percent:g} %"

    def _stock_piece(self, thing) -> LiftPiece:
        wood = figures_of(thing.species)
        percent, words = self._moisture(wood)
        if isinstance(thing, Log):
            if thing.is_sawn_up:
                raise ValueError(f"{thing.tag} is sawn up: there is no log left to lift.")
            return LiftPiece(thing.tag, 1, log_kg_at(thing, wood, percent), words)
        if not thing.is_in_stock():
            raise ValueError(f"{thing.tag} is {thing.get_state_display()}: it is not in stock.")
        return LiftPiece(thing.tag, 1, board_kg(thing, _density(wood, percent)), words)

    def _measured_piece(self, row: dict) -> LiftPiece:
        wood = figures_of(row["wood"])
        percent, words = self._moisture(wood)
        sizes = [row[name] for name in ("first_mm", "second_mm", "length_mm")]
        if row["shape"] == "round":
            small, large = sorted(sizes[:2])
            kg = log_weight_kg(small, large, sizes[2], _density(wood, percent))
            what = f"round log of {wood.common}"
        else:
            kg = board_weight_kg(sizes[1], sizes[0], sizes[2], _density(wood, percent))
            what = f"squared piece of {wood.common}"
        return LiftPiece(what, row["quantity"] or 1, kg, words)


def _density(wood, percent: float | None) -> float:
    wet = green_moisture(wood).percent if percent is None else percent
    return green_volume_density_kg_m3(wood, wet)
