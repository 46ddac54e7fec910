from django import forms

from restoration.models import User, Yard
from timber_stock.sawing import log_volume
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import TradeModelForm


class AccountForm(forms.ModelForm):
    class Meta:
        model = User
        fields = ["first_name", "last_name", "email", "units"]


class YardForm(TradeModelForm):
    log_rule = forms.ChoiceField(
        label="log rule",
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
