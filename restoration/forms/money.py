from django import forms

from restoration.models import CostKind
from timber_stock.web.forms import PlainForm

from .days import DayDone

LESS_THAN_NOTHING = (
    "What was spent cannot be less than nothing. To undo an entry, take it back in the list below."
)


class CostForm(PlainForm):
    """One sum that was spent."""

    kind = forms.ChoiceField(label="What for", choices=CostKind)
    amount = forms.DecimalField(
        max_digits=10,
        decimal_places=2,
        min_value=0,
        error_messages={"min_value": LESS_THAN_NOTHING},
    )
    on = DayDone(label="Date")
    note = forms.CharField(max_length=200, required=False)

    def __init__(self, *args, currency: str, **options):
        super().__init__(*args, **options)
        self.fields["amount"].help_text = f"in {currency}"
