from django import forms
from django.core.exceptions import ValidationError

from restoration.forms.days import DayInput, is_still_to_come
from restoration.models import Survey
from timber_stock.web.forms import PlainForm


class SurveyForm(forms.ModelForm):
    class Meta:
        model = Survey
        fields = [
            "surveyed_on",
            "ended_on",
            "place",
            "lying",
            "surveyor_name",
            "qualification",
            "present",
            "weather",
            "scope",
            "methods",
            "not_reached",
        ]
        widgets = {
            "surveyed_on": DayInput(),
            "ended_on": DayInput(),
            "scope": forms.Textarea(attrs={"rows": 3}),
            "methods": forms.Textarea(attrs={"rows": 4}),
            "not_reached": forms.Textarea(attrs={"rows": 4}),
        }

    def clean_surveyed_on(self):
        return _begun(self.cleaned_data["surveyed_on"])

    def clean_ended_on(self):
        return _begun(self.cleaned_data["ended_on"])


class EndForm(PlainForm):
    reason = forms.CharField(
        label="Why they were not examined",
        max_length=200,
        help_text="Such as: ceiling not lifted; tide made before the keel was reached.",
    )
    ended_on = forms.DateField(
        label="The survey's last day",
        required=False,
        widget=DayInput,
        help_text="May stay empty for a survey of one day.",
    )

    def clean_ended_on(self):
        return _begun(self.cleaned_data["ended_on"])


def _begun(day):
    if is_still_to_come(day):
        raise ValidationError("That day is still to come. Give the day on which she was examined.")
    return day
