from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from restoration.models import User, Yard
from timber_stock.sawing import log_volume
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import TradeModelForm

from .days import TOO_LONG_AGO, DayInput, is_too_long_ago


class AccountForm(forms.ModelForm):
    class Meta:
        model = User
        fields = ["first_name", "last_name", "email", "units"]


MOST_DAYS_AHEAD = 366


class YardForm(TradeModelForm):
    rate_from = forms.DateField(
        label="A new rate counts from",
        widget=DayInput,
        required=False,
        help_text="Hours worked before that day keep the rate they had. Empty: the rate in force "
        "was mistyped, and is put right for all its hours.",
    )
    log_rule = forms.ChoiceField(
        label="Log rule",
        choices=lambda: [(name, rule.label) for name, rule in log_volume.RULES.items()],
        help_text="The rule by which a log's volume is shown beside its true solid.",
    )

    planing_allowance_mm = LengthField(
        label="Planing allowance",
        help_text="off both faces together; how much is taken is common practice of each yard",
    )
    sawing_variation_mm = LengthField(
        label="Sawing variation",
        help_text="standard deviation of what your saw cuts: measure a few boards in several "
        "places; the figure here to begin with is common practice",
    )

    class Meta:
        model = Yard
        fields = [
            "name", "address", "currency", "log_rule", "planing_allowance_mm",
            "sawing_variation_mm", "ring_limits", "paper", "hourly_rate", "cost_by",
        ]  # fmt: skip
        help_texts = {
            "hourly_rate": "What an hour of work is reckoned at, in the yard's currency. Empty: "
            "hours are shown without money.",
            "cost_by": "How the price of a log and its sawing fall on what came out of it.",
            "paper": "What your papers are printed on; a report may be issued on the other.",
            "ring_limits": "Authorities differ on what is quarter-sawn; each page names whose "
            "limits it goes by.",
        }

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["rate_from"].initial = timezone.localdate
        names = list(self.fields)
        names.remove("rate_from")
        names.insert(names.index("hourly_rate") + 1, "rate_from")
        self.order_fields(names)

    def clean_rate_from(self):
        day = self.cleaned_data["rate_from"]
        if is_too_long_ago(day):
            raise ValidationError(TOO_LONG_AGO)
        if day and (day - timezone.localdate()).days > MOST_DAYS_AHEAD:
            raise ValidationError("That is more than a year ahead.")
        return day
