"""A photograph of a pattern: sent, its marks given, and the outline traced on the true picture."""

from django import forms

from restoration.calc.rectify import Mark
from restoration.calc.rectify_board import corners_of_board
from restoration.calc.rectify_settled import settle
from restoration.models import PatternPhotograph
from timber_stock.web import pictures
from timber_stock.web.fields import LengthField, PlaceField
from timber_stock.web.forms import PlainForm
from timber_stock.web.kept_pictures import PhotographField

ROWS = 12
CORNERS = ("lower left", "lower right", "upper right", "upper left")
SIDES = ("lower", "right", "upper", "left")
BOARD, PLACES = "board", "places"
HOW = {
    BOARD: "Four marks by the sides and diagonals between them",
    PLACES: "Each mark by its place on the board",
}


def _above() -> LengthField:
    return LengthField(
        label="Pattern's face above the marks",
        required=False,
        help_text="Nought where the marks are on the face that is traced, or on paper under it.",
    )


class PatternPhotographForm(PlainForm):
    photograph = PhotographField(
        label="Photograph",
        widget=forms.FileInput(attrs={"accept": "image/*"}),
        help_text=f"{pictures.ACCEPTED}, up to {pictures.LARGEST_FILE_MB} MB, untrimmed.",
    )
    above_mm = _above()

    def clean_above_mm(self):
        return self.cleaned_data["above_mm"] or 0.0


def _pixel(label: str) -> forms.FloatField:
    return forms.FloatField(
        label=label,
        required=False,
        widget=forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"}),
    )


class MarksForm(PlainForm):
    """Where the marks are tapped and where they truly lie.

    By sides and diagonals the first four marks are the corners, and any further mark has its place
    measured from the first one along the lower side and up from it.
    """

    how = forms.ChoiceField(
        label="Known by", choices=list(HOW.items()), widget=forms.RadioSelect, initial=BOARD
    )
    above_mm = _above()

    def __init__(self, *args, photograph: PatternPhotograph, **options):
        super().__init__(*args, **options)
        self.photograph = photograph
        for side in SIDES:
            self.fields[side] = LengthField(label=f"{side.capitalize()} side", required=False)
        self.fields["diagonal_1"] = LengthField(
            label="Diagonal, lower left to upper right", required=False
        )
        self.fields["diagonal_2"] = LengthField(
            label="Diagonal, lower right to upper left", required=False
        )
        for n in range(1, ROWS + 1):
            self.fields[f"px_{n}"] = _pixel(f"Mark {n}, pixels across")
            self.fields[f"py_{n}"] = _pixel(f"Mark {n}, pixels down")
            self.fields[f"x_{n}"] = PlaceField(label=f"Mark {n}, to the right", required=False)
            self.fields[f"y_{n}"] = PlaceField(label=f"Mark {n}, upwards", required=False)
        for field in self.fields.values():
            if isinstance(field, LengthField):
                field.units = options.get("units", "imperial")

    def clean(self):
        said = super().clean()
        if self.errors:
            return said
        said["above_mm"] = said["above_mm"] or 0.0
        try:
            said["marks"], said["corners"] = self._marks(said)
            size = self.photograph.width_px, self.photograph.height_px
            settle(said["marks"], *size, said["above_mm"])
        except ValueError as error:
            raise forms.ValidationError(str(error)) from error
        return said

    def typed(self) -> dict[str, str]:
        """Everything as it was typed, to be shown again."""
        return {name: self.data.get(name, "") for name in self.fields if self.data.get(name)}

    def rows(self):
        """For the page: each mark's four fields, and what its corner is called."""
        for n in range(1, ROWS + 1):
            corner = CORNERS[n - 1] if n <= len(CORNERS) else ""
            yield n, corner, [self[f"{name}_{n}"] for name in ("px", "py", "x", "y")]

    def side_fields(self):
        return [self[name] for name in (*SIDES, "diagonal_1", "diagonal_2")]

    def _marks(self, said) -> tuple[list[Mark], dict]:
        """The marks, and what there is to say of the corners that sides and diagonals give."""
        true, told = {}, {"words": "", "contradicts": False}
        if said["how"] == BOARD:
            sides = [said[side] for side in SIDES]
            if None in sides[:2]:
                raise ValueError(
                    "Give the lower and the right side at least, and a diagonal where the corners "
                    "may not be square."
                )
            sides = [one if one is not None else sides[n % 2] for n, one in enumerate(sides)]
            corners = corners_of_board(sides, [said["diagonal_1"], said["diagonal_2"]])
            true = dict(enumerate(corners.places_mm, 1))
            told = {"words": corners.words, "contradicts": corners.contradicts}
        marks = [mark for n in range(1, ROWS + 1) if (mark := _mark(said, n, true.get(n)))]
        return marks, told


def _mark(said, n: int, true: tuple[float, float] | None) -> Mark | None:
    seen = said[f"px_{n}"], said[f"py_{n}"]
    place = true or (said[f"x_{n}"], said[f"y_{n}"])
    if true is None and seen == place == (None, None):
        return None
    if None in seen:
        raise ValueError(f"Mark {n} is not tapped on the picture yet.")
    if None in place:
        raise ValueError(f"Mark {n} has no place on the board: type both figures.")
    return Mark(*seen, *place)
