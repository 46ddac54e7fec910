from django import forms
from django.utils import timezone

from timber_stock.models import Species

HEART_HELP = (
    "The heart is the pith and the wood round it; a boxed heart opens a check as the timber dries."
)


def short_note() -> forms.Textarea:
    return forms.Textarea(attrs={"rows": 3})


class WoodField(forms.ModelChoiceField):
    """A wood as every page names it: its botanical name goes with it, for common names mean
    different woods in different ports."""

    def __init__(self, **options):
        options.setdefault("label", "Wood")
        super().__init__(Species.objects.by_common_name(), **options)


def not_in_the_future(day):
    if day and day > timezone.localdate():
        raise forms.ValidationError("This day is still to come. Check the date.")
    return day
