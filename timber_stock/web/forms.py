from django import forms
from django.core.exceptions import ValidationError

from timber_stock import measure

from .fields import LengthField


class PlainForm(forms.Form):
    """Tells its length fields how this person reads lengths."""

    def __init__(self, *args, units: str = "imperial", **options):
        super().__init__(*args, **options)
        set_units(self, units)


class SaysItOnce:
    """A field that could not be read is refused for that alone.

    The model sees nothing in it, and would say besides that something is wanted there.
    """

    def add_error(self, field, error):
        if field is None and hasattr(error, "error_dict"):
            fresh = {
                name: said
                for name, said in error.error_dict.items()
                if name not in self.fields or name not in self.errors
            }
            if not fresh:
                return
            error = ValidationError(fresh)
        super().add_error(field, error)


class TradeModelForm(SaysItOnce, forms.ModelForm):
    """A model form whose lengths are read back as they were typed (see `AsTyped`)."""

    def __init__(self, *args, units: str = "imperial", **options):
        super().__init__(*args, **options)
        set_units(self, units)
        for name in length_names(self):
            if typed := still_says(self.instance, name, units):
                self.initial[name] = typed

    def save(self, commit=True):
        if hasattr(self.instance, "as_typed"):
            typed = {name: self.data.get(self.add_prefix(name), "") for name in length_names(self)}
            self.instance.as_typed = {**self.instance.as_typed, **typed}
        return super().save(commit)


def set_units(form, units: str) -> None:
    for field in form.fields.values():
        if isinstance(field, LengthField):
            field.units = units


def length_names(form) -> list[str]:
    return [name for name, field in form.fields.items() if isinstance(field, LengthField)]


def still_says(instance, name: str, units: str) -> str:
    """What was typed, while it still says the stored millimetres to who reads it; else nothing.

    A number typed bare says another length to whoever reads in the other units.
    """
    typed = getattr(instance, "as_typed", {}).get(name, "")
    stored = getattr(instance, name, None)
    if not typed or stored is None or typed.replace(" ", "").isdigit():
        return ""
    try:
        mm = measure.parse_length_mm(typed, "mm" if units == "metric" else "in")
    except ValueError:
        return ""
    return typed if abs(mm - stored) < 0.005 else ""
