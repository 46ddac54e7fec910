from django import forms

from restoration import timber
from restoration.calc.member_marks import number_in, propose_mark
from restoration.forms.kinds import grouped_choices
from restoration.models import Member
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import TradeModelForm


class MemberForm(TradeModelForm):
    """One member. Without a mark it gets the next that is free for its kind and side."""

    kind = forms.ChoiceField(choices=grouped_choices)
    mark = forms.CharField(
        max_length=20,
        required=False,
        help_text="Letters and figures without spaces, such as F12 or FR7P. Left empty, the next "
        "free mark of the kind is taken.",
    )
    sided_mm = LengthField(label="Sided", required=False)
    moulded_mm = LengthField(label="Moulded", required=False)
    length_mm = LengthField(label="Length", required=False)

    class Meta:
        model = Member
        fields = [
            *("kind", "side", "mark", "number", "station_from", "station_to"),
            *("sided_mm", "moulded_mm", "length_mm", "wood", "material", "note"),
        ]

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["wood"].queryset = timber.woods()
        self.fields["wood"].empty_label = "not known, or not wood"
        for name in ("station_from", "station_to"):
            self.fields[name].widget.attrs["step"] = "any"
            if self.initial.get(name) is not None:
                self.initial[name] = f"{self.initial[name]:g}"
        self.fields["note"].widget.attrs["rows"] = 3

    def rest(self) -> list:
        return [self[name] for name in self.fields if name != "kind"]

    def clean(self):
        cleaned = super().clean()
        kind, mark = cleaned.get("kind"), cleaned.get("mark")
        if mark and cleaned.get("number") is None:
            cleaned["number"] = number_in(mark)
        if kind and not mark and "mark" not in self.errors:
            proposed = propose_mark(
                kind, self._taken(), cleaned.get("side", ""), cleaned.get("number")
            )
            cleaned["mark"], cleaned["number"] = proposed.mark, proposed.number
        return cleaned

    def _taken(self) -> list[str]:
        others = self.instance.vessel.members.exclude(pk=self.instance.pk)
        return list(others.values_list("mark", flat=True))
