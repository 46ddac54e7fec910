from collections.abc import Sequence

from django import forms

from restoration.models import Survey
from timber_stock.web.days import day_said


class BetweenSurveysForm(forms.Form):
    """Which two surveys: in whatever order they are chosen, the earlier comes first."""

    a = forms.ChoiceField(label="Earlier survey", required=False)
    b = forms.ChoiceField(label="Later survey", required=False)

    def __init__(self, *args, surveys: Sequence[Survey], **options):
        super().__init__(*args, **options)
        self.surveys = {str(survey.pk): survey for survey in surveys}
        choices = [(key, f"{day_said(each.surveyed_on)}, {each.place}")
                   for key, each in self.surveys.items()]  # fmt: skip
        for name, survey in zip(("b", "a"), surveys, strict=False):
            self.fields[name].choices = choices
            self.initial[name] = str(survey.pk)

    def pair(self) -> tuple[Survey, Survey] | None:
        """The earlier and the later; the newest two where none are chosen; none where the same
        is chosen twice or there are not two."""
        if len(self.surveys) < 2 or (self.is_bound and not self.is_valid()):
            return None
        said = self.cleaned_data if self.is_bound else {}
        keys = [said.get(name) or self.initial[name] for name in ("a", "b")]
        if keys[0] == keys[1]:
            return None
        one, other = sorted(
            (self.surveys[key] for key in keys), key=lambda s: (s.surveyed_on, s.pk)
        )
        return one, other
