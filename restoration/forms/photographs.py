from django import forms

from restoration.calc import picture_marks
from restoration.models.photograph_mark import MarkKind
from timber_stock import measure
from timber_stock.web.forms import PlainForm


def _percent(label: str, *, required: bool) -> forms.FloatField:
    return forms.FloatField(
        label=label,
        min_value=0,
        max_value=100,
        required=required,
        widget=forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"}),
    )


class MarkForm(PlainForm):
    """One mark: tapped on the picture, or given in percent of its width and height."""

    kind = forms.ChoiceField(
        label="Mark", choices=MarkKind.choices, widget=forms.RadioSelect, initial=MarkKind.ARROW
    )
    text = forms.CharField(
        label="Words", max_length=200, required=False,
        help_text="What it shows; for a scale bar the length it stands for, such as 50 mm.",
    )  # fmt: skip
    x1 = _percent("First point, % across", required=True)
    y1 = _percent("First point, % down", required=True)
    x2 = _percent("Second point, % across", required=False)
    y2 = _percent("Second point, % down", required=False)

    def points(self) -> list[list[float]]:
        typed = self.cleaned_data
        pairs = (("x1", "y1"), ("x2", "y2"))[: picture_marks.POINTS[typed["kind"]]]
        return [[typed[x] / 100, typed[y] / 100] for x, y in pairs]

    def clean(self):
        typed = super().clean()
        if "kind" not in typed or self.errors:
            return typed
        if picture_marks.POINTS[typed["kind"]] == 2 and None in (typed["x2"], typed["y2"]):
            self.add_error("x2", "This mark needs its second point too: tap twice.")
            return typed
        try:
            picture_marks.picture_mark(typed["kind"], self.points(), typed["text"])
            if typed["kind"] == MarkKind.SCALE:
                measure.parse_length_mm(typed["text"])
        except ValueError as error:
            self.add_error(
                "text" if typed["kind"] in picture_marks.NEEDS_TEXT else None, str(error)
            )
        return typed


class CaptionForm(PlainForm):
    caption = forms.CharField(label="Caption", max_length=200, required=False)
