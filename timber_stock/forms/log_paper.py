from django import forms

from timber_stock.models import PaperKind
from timber_stock.web.fields import DayInput
from timber_stock.web.forms import PlainForm
from timber_stock.web.papers import SENT, take_in_paper
from timber_stock.web.pictures import NotTakenIn

from .choices import not_in_the_future


class LogPaperForm(PlainForm):
    kind = forms.ChoiceField(label="What it is", choices=PaperKind)
    title = forms.CharField(
        label="Called", max_length=120, help_text="as it stands on it, with its number"
    )
    dated_on = forms.DateField(label="Dated", required=False, widget=DayInput)
    paper = forms.FileField(
        label="The paper",
        widget=forms.FileInput(attrs={"accept": "application/pdf,image/*"}),
        help_text=f"{SENT[0].upper()}{SENT[1:]}.",
    )

    def clean_dated_on(self):
        return not_in_the_future(self.cleaned_data["dated_on"])

    def clean_paper(self):
        file = self.cleaned_data["paper"]
        try:
            return take_in_paper(file, file.name)
        except NotTakenIn as error:
            raise forms.ValidationError(str(error)) from error
