from django import forms
from django.utils import timezone

from timber_stock.models import Species

HEART_HELP = (
    "The heart is the pith and the wood round it; a boxed heart opens a check as the timber dries."
)


def short_note() -> forms.Textarea:
    return forms.Textarea(attrs={"rows": 3})


class WoodField(forms.ModelChoiceField):
    """A wood by its botanical name, for common names mean different woods in different ports."""

    def __init__(self, **options):
        options.setdefault("label", "Wood")
        super().__init__(Species.objects.by_botanical_name(), **options)

    def label_from_instance(self, wood):
        return f"{wood.botanical_name} – {wood.common_name}"


def not_in_the_future(day):
    if day and day > timezone.localdate():
        raise forms.ValidationError("This day is still to come. Check the date.")
    return day
