from django import forms

from timber_stock.actions.boards import SIZES
from timber_stock.models import Board
from timber_stock.models.board import State
from timber_stock.web.fields import DayInput, LengthField
from timber_stock.web.forms import TradeModelForm

from .choices import HEART_HELP, WoodField, not_in_the_future, short_note

# Resawn is never picked: it comes of recording what was sawn from the board.
PICKED_STATES = [choice for choice in State.choices if choice[0] != State.RESAWN]
BUTT_CHECK, TOP_CHECK = "Checked at the butt end, along", "Checked at the top end, along"
CHECK_HELP = "what must come off that end; empty where nobody has looked"
NEW_STATES = [(s.value, s.label) for s in (State.GREEN, State.IN_STICK, State.READY)]


class BoughtBoardForm(TradeModelForm):
    """A board that came to the yard sawn."""

    species = WoodField()
    thickness_mm = LengthField(label="Thickness")
    width_mm = LengthField(label="Width")
    length_mm = LengthField(label="Length")
    butt_check_mm = LengthField(label=BUTT_CHECK, required=False, help_text=CHECK_HELP)
    top_check_mm = LengthField(label=TOP_CHECK, required=False, help_text=CHECK_HELP)
    state = forms.ChoiceField(choices=NEW_STATES)

    class Meta:
        model = Board
        fields = [
            "tag", "species", "supplier", "received_on", "thickness_mm", "width_mm", "length_mm",
            "butt_check_mm", "top_check_mm", "heart", "rings", "has_sapwood", "state", "place",
            "price", "worth", "note",
        ]  # fmt: skip
        widgets = {"received_on": DayInput, "note": short_note()}
        help_texts = {"heart": HEART_HELP}

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["supplier"].required = True

    def clean_received_on(self):
        return not_in_the_future(self.cleaned_data["received_on"])


class BoardForm(TradeModelForm):
    """What may change about a board once it is in the stock."""

    thickness_mm = LengthField(label="Thickness")
    width_mm = LengthField(label="Width")
    length_mm = LengthField(label="Length")
    butt_check_mm = LengthField(label=BUTT_CHECK, required=False, help_text=CHECK_HELP)
    top_check_mm = LengthField(label=TOP_CHECK, required=False, help_text=CHECK_HELP)
    state = forms.ChoiceField(choices=PICKED_STATES)

    class Meta:
        model = Board
        fields = [
            "state", "place", "heart", "rings", "has_sapwood", "thickness_mm", "width_mm",
            "length_mm", "butt_check_mm", "top_check_mm", "price", "worth",
            "note",
        ]  # fmt: skip
        widgets = {"note": short_note()}
        help_texts = {"heart": HEART_HELP}

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        left_out = set()
        if self.instance.state == State.RESAWN:
            left_out |= {"state", *SIZES}
        if self.instance.held_for or self.instance.cut_away_mm:
            left_out |= SIZES
        if self.instance.sawing_id:
            left_out.add("price")  # its price is its log's
        for name in left_out:
            del self.fields[name]

    def changed_fields(self):
        return {*self.changed_data, "as_typed"}
