from django import forms

from restoration.models import User, Yard
from timber_stock.sawing import log_volume


class AccountForm(forms.ModelForm):
    class Meta:
        model = User
        fields = ["first_name", "last_name", "email", "units"]


class YardForm(forms.ModelForm):
    log_rule = forms.ChoiceField(
        label="log rule",
        choices=lambda: [(name, rule.label) for name, rule in log_volume.RULES.items()],
        help_text="The rule by which a log's volume is shown beside its true solid.",
    )

    class Meta:
        model = Yard
        fields = ["name", "address", "currency", "log_rule"]
