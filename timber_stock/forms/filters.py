"""What a list is narrowed to. What cannot be read is left out, never refused."""

from django import forms

from timber_stock.models import Species
from timber_stock.models.board import Heart, Rings

from .choices import WoodField


class StockFilter(forms.Form):
    q = forms.CharField(
        label="Tag or wood", required=False, max_length=80, widget=forms.SearchInput
    )
    wood = WoodField(required=False, empty_label="any wood")

    stock: str  # the related name by which a wood finds its logs or boards

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        in_use = Species.objects.by_common_name().filter(**{f"{self.stock}__isnull": False})
        self.fields["wood"].queryset = in_use.distinct()

    def narrow(self, stock):
        self.is_valid()
        asked = self.cleaned_data
        if text := asked.get("q"):
            stock = stock.matching(text)
        if wood := asked.get("wood"):
            stock = stock.filter(species=wood)
        return stock


class LogFilter(StockFilter):
    stock = "log"
    which = forms.ChoiceField(
        label="Logs",
        required=False,
        choices=[("", "not sawn up"), ("all", "all, also sawn up")],
    )

    def narrow(self, logs):
        logs = super().narrow(logs)
        return logs if self.cleaned_data.get("which") == "all" else logs.not_sawn_up()


class BoardFilter(StockFilter):
    stock = "board"
    which = forms.ChoiceField(
        label="Boards",
        required=False,
        choices=[("", "in stock"), ("in_stick", "in stick"), ("all", "all, also gone or resawn")],
    )
    heart = forms.ChoiceField(label="Heart", required=False, choices=[("", "any"), *Heart.choices])
    rings = forms.ChoiceField(
        label="Ring direction", required=False, choices=[("", "any"), *Rings.choices]
    )
    held = forms.ChoiceField(
        label="Held or free",
        required=False,
        choices=[("", "either"), ("free", "free"), ("held", "held for someone")],
    )

    def narrow(self, boards):
        boards = super().narrow(boards)
        asked = self.cleaned_data
        for name in ("heart", "rings"):
            if asked.get(name):
                boards = boards.filter(**{name: asked[name]})
        if asked.get("held"):
            boards = boards.held() if asked["held"] == "held" else boards.free()
        if asked.get("which") == "in_stick":
            return boards.in_stick()
        return boards if asked.get("which") == "all" else boards.in_stock()
