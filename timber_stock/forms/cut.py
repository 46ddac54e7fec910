"""How a cut came: its height as measured, and the sizes of what it set free."""

from django import forms

from timber_stock.sawing.saw_sheet import SheetCut
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

SIDES = {"thickness": "thickness", "width": "width", "length": "length"}


class CutForm(PlainForm):
    """Everything may stay empty: then the cut came as it was set."""

    def __init__(self, cut: SheetCut, data=None, **options):
        self.cut = cut
        super().__init__(data, **options)
        units = options.get("units", "imperial")
        self._add("came_mm", "Measured, if it came otherwise", units)
        for n, name in enumerate(cut.frees):
            for side in SIDES:
                self._add(f"{side}-{n}", f"{name}: {side} as it came", units)

    def _add(self, name: str, label: str, units: str) -> None:
        self.fields[name] = LengthField(label=label, required=False)
        self.fields[name].units = units

    def clean(self):
        for n, name in enumerate(self.cut.frees):
            given = [self.cleaned_data.get(f"{side}-{n}") for side in SIDES]
            if any(given) and not all(given):
                raise forms.ValidationError(
                    f"{name}: give its thickness, width and length, or none of them."
                )
        return self.cleaned_data

    def over_mm(self) -> float:
        came = self.cleaned_data.get("came_mm")
        return 0.0 if came is None else self.cut.over_mm(came)

    def sizes_mm(self) -> dict[int, tuple[float, float, float]]:
        found = {}
        for n in range(len(self.cut.frees)):
            sizes = [self.cleaned_data.get(f"{side}-{n}") for side in SIDES]
            if all(sizes):
                found[n] = (sizes[0], sizes[1], sizes[2])
        return found
