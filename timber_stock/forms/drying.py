from django import forms

from timber_stock.models import Climate
from timber_stock.web.forms import PlainForm
from timber_stock.wood.service import PLACES, ServiceMoisture

from .asking import UsualChoice

DRIEST, WETTEST = 4, 60
WANTED = f"Ask for a moisture from {DRIEST} to {WETTEST} percent."


class DryingForm(PlainForm):
    """What the board shall be dry enough for: a place in the boat, or a moisture before it."""

    wanted_for = UsualChoice(label="Dry enough for")
    wanted = forms.FloatField(
        label="Or for, %",
        required=False,
        min_value=DRIEST,
        max_value=WETTEST,
        error_messages={"min_value": WANTED, "max_value": WANTED},
    )
    at = forms.ModelChoiceField(
        Climate.objects.with_months(),
        label="In the air of",
        required=False,
        empty_label="where the stock lies",
    )

    def __init__(self, *args, service: dict[str, ServiceMoisture], **options):
        super().__init__(*args, **options)
        self.service = service
        self.fields["wanted_for"].choices = [
            (key, f"{said.place}, {said.expected_percent:g} %") for key, said in service.items()
        ]
        self.fields["wanted_for"].initial = self.usual_place()

    @staticmethod
    def usual_place() -> str:
        return "topsides" if "topsides" in PLACES else next(iter(PLACES))

    def wanted_percent(self) -> float:
        asked = self.cleaned_data if self.is_bound and self.is_valid() else {}
        if asked.get("wanted") is not None:
            return asked["wanted"]
        return self.service[asked.get("wanted_for") or self.usual_place()].expected_percent

    def climate(self) -> Climate | None:
        asked = self.cleaned_data.get("at") if self.is_bound and self.is_valid() else None
        return asked or Climate.objects.for_the_stock()
