"""Which labels, and on what they are printed."""

from django import forms

from restoration import timber
from restoration.calc.label_sheet import COMMON
from restoration.calc.label_sheet import LabelSheet as Layout
from restoration.models import LabelSheet, Vessel
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import TradeModelForm

SIZES = {
    "page_width_mm": "Sheet or roll, width",
    "page_height_mm": "Sheet, height (of a roll: one label)",
    "width_mm": "One label, width",
    "height_mm": "One label, height",
    "left_mm": "From the left edge to the first label",
    "top_mm": "From the top edge to the first label",
    "across_mm": "From one label's left edge to the next's",
    "down_mm": "From one label's top edge to the next's",
}


class LabelsOfForm(forms.Form):
    """Whose labels: of a log and its boards, of a vessel, or by a part of the tag.

    The part of a tag stands alone, or narrows what is of the log or the vessel.
    """

    log = forms.ModelChoiceField(
        timber.Log.objects.none(), label="A log and its boards", required=False,
        empty_label="choose a log",
    )  # fmt: skip
    vessel = forms.ModelChoiceField(
        Vessel.objects.none(), label="A vessel and her boards", required=False,
        empty_label="choose a vessel",
    )  # fmt: skip
    q = forms.CharField(label="By a part of the tag, mark or wood", required=False, max_length=80)

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["log"].queryset = timber.Log.objects.order_by("tag")
        self.fields["vessel"].queryset = Vessel.objects.all()


class PrintLabelsForm(forms.Form):
    sheet = forms.ChoiceField(label="Labels")
    first = forms.IntegerField(
        label="First position", initial=1, min_value=1,
        help_text="counted row by row; more than 1 for a sheet begun already",
    )  # fmt: skip
    outline = forms.BooleanField(
        label="Draw an outline round each", required=False,
        help_text="to hold a print on plain paper against the sheet",
    )  # fmt: skip

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        own = [(f"own-{sheet.pk}", sheet.name) for sheet in LabelSheet.objects.all()]
        common = [(key, layout.name) for key, layout in COMMON.items()]
        groups = [("The yard's own", own)] if own else []
        self.fields["sheet"].choices = [*groups, ("Common dimensions", common)]

    def layout(self) -> Layout:
        key = self.cleaned_data["sheet"]
        if key.startswith("own-"):
            return LabelSheet.objects.get(pk=int(key.removeprefix("own-"))).laid_out()
        return COMMON[key]


class LabelSheetForm(TradeModelForm):
    class Meta:
        model = LabelSheet
        fields = ["name", "page_width_mm", "page_height_mm", "columns", "rows", "width_mm",
                  "height_mm", "left_mm", "top_mm", "across_mm", "down_mm"]  # fmt: skip
        field_classes = dict.fromkeys(SIZES, LengthField)

    page_width_mm = LengthField(label=SIZES["page_width_mm"])
    page_height_mm = LengthField(label=SIZES["page_height_mm"])
    width_mm = LengthField(label=SIZES["width_mm"])
    height_mm = LengthField(label=SIZES["height_mm"])
    left_mm = LengthField(label=SIZES["left_mm"], required=False)
    top_mm = LengthField(label=SIZES["top_mm"], required=False)
    across_mm = LengthField(label=SIZES["across_mm"], required=False)
    down_mm = LengthField(label=SIZES["down_mm"], required=False)

    def clean(self):
        """A margin left empty is none; a pitch left empty is a label's own size, without a gap."""
        cleaned = super().clean()
        for name, otherwise in (("left_mm", 0.0), ("top_mm", 0.0),
                                ("across_mm", cleaned.get("width_mm")),
                                ("down_mm", cleaned.get("height_mm"))):  # fmt: skip
            if name in cleaned and cleaned[name] is None and otherwise is not None:
                cleaned[name] = otherwise
        return cleaned
