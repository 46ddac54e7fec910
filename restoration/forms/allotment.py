from collections.abc import Sequence

from django import forms
from django.core.exceptions import ValidationError

from restoration import timber
from restoration.calc.free_length import Stretch, to_the_edge
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

from .days import DayDone


class AllotForm(PlainForm):
    """A length of one board, from and to as measured from its butt end."""

    board = forms.ModelChoiceField(
        timber.Board.objects.all(),
        widget=forms.HiddenInput,
        error_messages={"required": "Choose a board.", "invalid_choice": "Choose a board."},
    )
    from_mm = LengthField(label="From", help_text="Measured from the butt end, like the next.")
    to_mm = LengthField(
        label="To", help_text="Leave the saw its kerf between two pieces out of one board."
    )
    on = DayDone(label="Date")
    note = forms.CharField(max_length=200, required=False)

    def __init__(self, *args, free: Sequence[Stretch] = (), **options):
        super().__init__(*args, **options)
        self.free = free

    def clean(self):
        start, end = self.cleaned_data.get("from_mm"), self.cleaned_data.get("to_mm")
        if start is None or end is None:
            return
        start, end = to_the_edge(start, self.free), to_the_edge(end, self.free)
        if end <= start:
            raise ValidationError(
                {"to_mm": "This must be farther from the butt end than where it begins."}
            )
        self.cleaned_data.update(from_mm=start, to_mm=end)


class AllTheSame(PlainForm):
    """Asks for a reason where the hull is not to be opened there now."""

    override_reason = forms.CharField(
        label="Why all the same",
        max_length=300,
        required=False,
        help_text="it is not to come out now: the reason is kept",
    )

    def __init__(self, *args, held: bool = False, **options):
        super().__init__(*args, **options)
        if not held:
            del self.fields["override_reason"]


class DoneForm(PlainForm):
    """When a piece was cut or fitted, and by whom."""

    on = DayDone(label="Date")
    by = forms.CharField(label="By whom", max_length=120)


class FittedForm(AllTheSame, DoneForm):
    """The same of a piece that goes into the hull."""

    field_order = ["on", "by", "override_reason"]
