from django import forms

from timber_stock.web.forms import PlainForm

LESS_THAN_NOTHING = "A sawing cannot cost less than nothing."


def cost_field() -> forms.DecimalField:
    return forms.DecimalField(
        label="What the sawing cost",
        max_digits=10,
        decimal_places=2,
        min_value=0,
        required=False,
        error_messages={"min_value": LESS_THAN_NOTHING},
        help_text="what the sawyer was paid; nothing where the yard sawed it itself and keeps its "
        "hours, empty where it is not known yet",
    )


class SawingCostForm(PlainForm):
    cost = cost_field()
