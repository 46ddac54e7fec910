"""Which replacements to draw timbers from, and what is settled for all of them."""

from django import forms

from restoration import timber
from restoration.actions.cutting import Drawing
from restoration.models import ReplacementSpec
from timber_stock.measure import mm_from_inches
from timber_stock.web.fields import ChosenRows, LengthField
from timber_stock.web.forms import PlainForm

STEPS_MM = {"metric": 1.0, "imperial": mm_from_inches(1 / 16), "imperial32": mm_from_inches(1 / 32)}


class CuttingFromSpecsForm(PlainForm):
    cutting_list = forms.ModelChoiceField(
        None, label="Put them on", required=False, empty_label="a new list"
    )
    new_name = forms.CharField(label="Name of the new list", max_length=120, required=False)
    heart_clearance_mm = LengthField(
        label="Clear of the heart by",
        initial=mm_from_inches(1),
        help_text="for those that must be clear of it: room for the pith's wander and the youngest "
        "rings; the yard's choice",
    )
    to_trim_mm = LengthField(
        label="Added to each length", initial=mm_from_inches(4), help_text="to trim, in all"
    )
    usual_moisture_percent = forms.FloatField(
        label="Moisture in service, percent",
        min_value=4,
        max_value=30,
        initial=16,
        help_text="assumed where a replacement names no place in the boat",
    )
    specs = ChosenRows(
        ReplacementSpec.objects.none(),
        label="Replacements",
        error_messages={"required": "Choose at least one replacement."},
    )

    def __init__(self, *args, specs, units: str = "imperial", **options):
        super().__init__(*args, units=units, **options)
        self.step_mm = STEPS_MM[units]
        self.fields["cutting_list"].queryset = timber.CuttingList.objects.open()
        self.fields["specs"].queryset = specs

    def settled(self):
        return [self[name] for name in self.fields if name != "specs"]

    def chosen(self) -> list[str]:
        return [str(pk) for pk in (self["specs"].value() or [])]

    def clean(self):
        cleaned = super().clean()
        name = (cleaned.get("new_name") or "").strip()
        if not cleaned.get("cutting_list") and "cutting_list" not in self.errors:
            if not name:
                self.add_error("new_name", "Name the new list, or choose one that is open.")
            elif timber.CuttingList.objects.filter(name=name).exists():
                self.add_error("new_name", "A list has this name already.")
        for field in ("heart_clearance_mm", "to_trim_mm"):
            if (cleaned.get(field) or 0) < 0:
                self.add_error(field, "Nothing or more.")
        return cleaned

    def drawing(self) -> Drawing:
        said = self.cleaned_data
        return Drawing(
            said["heart_clearance_mm"],
            said["to_trim_mm"],
            said["usual_moisture_percent"],
            self.step_mm,
        )

    def list_to_use(self) -> timber.CuttingList:
        chosen = self.cleaned_data["cutting_list"]
        return chosen or timber.CuttingList(name=self.cleaned_data["new_name"].strip())
