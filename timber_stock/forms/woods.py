"""Woods: what the list is narrowed to, a wood of the yard's own, and one figure of its own."""

from django import forms
from django.utils import timezone
from django.utils.text import slugify

from timber_stock.models import Species, WoodFigure
from timber_stock.wood.cautions import trade_controlled
from timber_stock.wood.figures import KINDS

from .choices import short_note

DURABLE_GROUPS = ("resistant", "very resistant", "highly resistant")


class WoodFilter(forms.Form):
    q = forms.CharField(label="Name", required=False, max_length=80, widget=forms.SearchInput)
    group = forms.ChoiceField(
        label="Kind of wood",
        required=False,
        choices=[("", "any"), ("hardwood", "hardwood"), ("softwood", "softwood")],
    )
    which = forms.ChoiceField(
        label="Only",
        required=False,
        choices=[
            ("", "all woods"),
            ("durable", "durable heartwood"),
            ("controlled", "under trade controls"),
            ("own", "with the yard's own figures"),
            ("memory", "with figures from memory"),
        ],
    )

    def narrow(self, woods):
        """What the database can tell; the rest is told from the figures, by `keeps`."""
        self.is_valid()
        asked = self.cleaned_data
        if text := asked.get("q"):
            woods = woods.matching(text)
        if group := asked.get("group"):
            woods = woods.filter(group=group)
        return woods

    def keeps(self, line) -> bool:
        which = self.cleaned_data.get("which")
        if which == "durable":
            return is_durable(line.durability)
        if which == "controlled":
            return trade_controlled(line.figures.key)
        if which == "own":
            return line.wood.is_ours or bool(line.wood.own_figures.all())
        if which == "memory":
            return any(figure.to_be_checked for figure in line.figures.figures.values())
        return True


def is_durable(durability) -> bool:
    """Class 2 or better throughout, or in the American group of resistant woods."""
    if durability.worst_class is not None and durability.worst_class <= 2:
        return True
    return durability.american_group.lower().startswith(DURABLE_GROUPS)


class WoodForm(forms.ModelForm):
    """A wood that is not in the published list. Its figures are entered on its page."""

    class Meta:
        model = Species
        fields = ["common_name", "botanical_name", "group", "source"]
        labels = {"common_name": "Common name", "botanical_name": "Botanical name",
                  "group": "Kind of wood", "source": "Note"}  # fmt: skip
        help_texts = {
            "botanical_name": "it tells woods of one common name apart",
            "source": "where this wood grows, or what is known of it",
        }
        widgets = {"source": short_note()}

    def clean(self):
        names = [self.cleaned_data.get(name) for name in ("common_name", "botanical_name")]
        same = Species.objects.filter(
            common_name__iexact=names[0] or "", botanical_name__iexact=names[1] or ""
        )
        if all(names) and same.exclude(pk=self.instance.pk).exists():
            self.add_error(
                "botanical_name",
                "This wood is in the list already. Correct its figures on its own page.",
            )
        return self.cleaned_data

    def save(self, commit=True):
        if not self.instance.pk:
            self.instance.is_ours = True
            self.instance.code = _free_code(self.instance)
        return super().save(commit)


def _free_code(wood: Species) -> str:
    """A code that no published wood will ever have: theirs are without hyphens."""
    root = f"own-{slugify(wood.common_name)}"[:50]
    code, n = root, 1
    while Species.objects.filter(code=code).exists():
        n += 1
        code = f"{root}-{n}"
    return code


class FigureForm(forms.ModelForm):
    class Meta:
        model = WoodFigure
        fields = ["value", "source"]
        help_texts = {
            "source": "a sentence: who found it, on what and how, or which publication says so"
        }

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        kind = KINDS[self.instance.kind]
        self.fields["value"].label = f"{kind.label[0].upper()}{kind.label[1:]}" + (
            f", {kind.unit}" if kind.unit else ""
        )
        if kind.name == "durability_class":
            self.fields["value"].help_text = "1 very durable to 5 not durable, or a range as 2-3"
        elif not kind.is_word:
            self.fields["value"].help_text = f"a number from {kind.low:g} to {kind.high:g}"

    def keep(self, by: str) -> WoodFigure:
        self.instance.entered_by = by
        self.instance.entered_on = timezone.localdate()
        return self.save()
