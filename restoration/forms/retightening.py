from django import forms

from restoration.models import RetightenTask
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

from .days import DayDone, DayInput


class VisitMadeForm(PlainForm):
    on = DayDone(label="Date")
    by = forms.CharField(label="By whom", max_length=120)
    note = forms.CharField(
        label="What was found", max_length=300, required=False, help_text="turns, slack, checks"
    )


class VisitDueForm(forms.ModelForm):
    """When to come instead. The reason it was set down for stays."""

    class Meta:
        model = RetightenTask
        fields = ["due_on"]
        widgets = {"due_on": DayInput}


class VisitForm(PlainForm):
    """A visit that somebody wants, besides those proposed."""

    due_on = forms.DateField(label="Due on", widget=DayInput)
    reason = forms.CharField(label="Why", max_length=500, widget=forms.Textarea({"rows": 3}))
    take_up_mm = LengthField(label="Expected to be taken up", required=False)
