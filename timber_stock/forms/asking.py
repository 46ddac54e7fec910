"""Forms that answer a question instead of keeping something."""

from typing import ClassVar

from django import forms

from timber_stock.web.forms import PlainForm


class AskingForm(PlainForm):
    """Has its `answer` once it is valid; what cannot be is refused by the sum, in its own words."""

    answer: object = None
    FAULTS: ClassVar[dict[str, str]] = {}
    """The field a refusal stands beside, by words that occur in it; else it heads the form."""

    def clean(self):
        if not self.errors:
            try:
                self.answer = self.reckon(self.cleaned_data)
            except ValueError as error:
                self.add_error(self._at_fault(str(error)), str(error))
        return self.cleaned_data

    def reckon(self, asked: dict) -> object:
        raise NotImplementedError

    def _at_fault(self, sentence: str) -> str | None:
        return next((name for words, name in self.FAULTS.items() if words in sentence), None)


class UsualChoice(forms.ChoiceField):
    """A choice that stands as it begins when nothing is sent: no one need choose."""

    def clean(self, value):
        return super().clean(value or self.initial)
