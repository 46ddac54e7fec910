from django import forms

from restoration.forms.days import DayInput
from restoration.models import Survey


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
