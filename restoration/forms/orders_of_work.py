import re

from django import forms

from restoration.forms.days import (
    TOO_LONG_AGO,
    DayInput,
    is_still_to_come,
    is_too_long_ago,
)
from restoration.models import Member, RuleKind, Turn
from timber_stock.web.forms import PlainForm

RULES = [
    (RuleKind.FIRST, "this one first"),
    (RuleKind.BEFORE, "this one back before those go out"),
    (RuleKind.TOGETHER, "this one together with those"),
    (RuleKind.APART, "this one never together with those"),
    (RuleKind.PINNED, "this one in that turn"),
]
ONLY_FOR_A_REASON = ": only with a reason"
LONE = (RuleKind.FIRST, RuleKind.PINNED)


class Marks(forms.CharField):
    """Members by their marks, several at once; `by_mark` says which there are."""

    by_mark: dict[str, Member] = {}

    def to_python(self, value):
        typed = re.split(r"[\s,;]+", (super().to_python(value) or "").upper().strip(" ,;"))
        marks = [mark for mark in dict.fromkeys(typed) if mark]
        missing = [mark for mark in marks if mark not in self.by_mark]
        if missing:
            raise forms.ValidationError(f"No member of this mark is there: {', '.join(missing)}.")
        return [self.by_mark[mark] for mark in marks]


class MostOut(forms.IntegerField):
    def validate(self, value):
        super().validate(value)
        if value is not None and value < 1:
            raise forms.ValidationError(
                f"Never more than {value} out means that nothing is done: at least one."
            )
        if value is not None and value > 9999:
            raise forms.ValidationError("Leave this empty where there is no limit.")


class OutForm(PlainForm):
    """Which members are to be out: those that wait for a replacement, and others by mark."""

    members = forms.MultipleChoiceField(
        label="Members to be out", required=False, widget=forms.CheckboxSelectMultiple
    )
    more = Marks(
        label="Others to come out too",
        required=False,
        max_length=2000,
        help_text="Marks of members without a specification that must come out to get at the "
        "others: FR10P, P3P",
    )
    most_out = MostOut(
        label="Never more out at once than",
        required=False,
        help_text="Empty where there is no limit.",
    )

    def __init__(self, *args, offered: list[Member], members: list[Member], **options):
        super().__init__(*args, **options)
        self.by_pk = {str(member.pk): member for member in offered}
        self.fields["members"].choices = [(pk, member.mark) for pk, member in self.by_pk.items()]
        self.fields["more"].by_mark = {member.mark.upper(): member for member in members}

    def clean(self):
        cleaned = super().clean()
        chosen = [self.by_pk[pk] for pk in cleaned.get("members", [])]
        found = {member.pk: member for member in [*chosen, *(cleaned.get("more") or [])]}
        if not found and not self.errors:
            raise forms.ValidationError("Choose at least one member to be out.")
        cleaned["out"] = list(found.values())
        return cleaned


class RuleForm(PlainForm):
    """Something about one member, or between it and others. Marks are typed or picked."""

    one = Marks(label="This one", max_length=20)
    kind = forms.ChoiceField(label="What is fixed", choices=RULES, widget=forms.RadioSelect)
    others = Marks(
        label="Those", max_length=400, required=False, help_text="One mark or several: F12, F14"
    )
    turn = forms.IntegerField(label="Turn", required=False)

    def __init__(self, *args, out: list[Member], **options):
        super().__init__(*args, **options)
        by_mark = {member.mark.upper(): member for member in out}
        for name in ("one", "others"):
            self.fields[name].by_mark = by_mark
            self.fields[name].widget.attrs |= {"list": "marks-out", "autocapitalize": "characters"}

    def clean_one(self) -> Member:
        found = self.cleaned_data["one"]
        if len(found) != 1:
            raise forms.ValidationError("Give one mark here, and the others beside it.")
        return found[0]

    def clean(self):
        cleaned = super().clean()
        kind, turn, others = cleaned.get("kind"), cleaned.get("turn"), cleaned.get("others")
        if kind == RuleKind.PINNED and "turn" not in self.errors:
            if turn is None:
                self.add_error("turn", "Say to which turn.")
            elif not 1 <= turn <= 9999:
                self.add_error("turn", f"There is no turn {turn}: turns count from 1.")
        if kind and kind not in LONE and not others and "others" not in self.errors:
            self.add_error("others", "Say which others it is about.")
        if others and cleaned.get("one") in others:
            self.add_error("others", "A member cannot stand against itself.")
        cleaned["others"] = [] if kind in LONE else others
        cleaned["turn"] = turn if kind == RuleKind.PINNED else None
        return cleaned


class PairForm(PlainForm):
    one = Marks(label="This member", max_length=20)
    other = Marks(label="and this one", max_length=20)

    def __init__(self, *args, members: list[Member], **options):
        super().__init__(*args, **options)
        for name in ("one", "other"):
            self.fields[name].by_mark = {member.mark.upper(): member for member in members}

    def clean(self):
        cleaned = super().clean()
        if self.errors:
            return cleaned
        pair = [*cleaned["one"], *cleaned["other"]]
        if len(pair) != 2:
            raise forms.ValidationError("Give one mark on each side.")
        if pair[0] == pair[1]:
            raise forms.ValidationError("A member is no neighbour of itself.")
        cleaned["one"], cleaned["other"] = pair
        return cleaned


class MoveForm(PlainForm):
    """Where a member may go. `against`: what stands against each turn, by its number; a turn that
    takes the member only for a reason says so, and one that takes it freely is chosen first."""

    to = forms.TypedChoiceField(label="Out in turn", coerce=int)
    reason = forms.CharField(
        label="Why all the same",
        max_length=300,
        required=False,
        help_text="Only where something stands against it; kept with the member.",
    )

    def __init__(self, *args, turns: list[Turn], against: dict[int, list[str]], **options):
        super().__init__(*args, **options)
        words = {turn.number: _with(turn) for turn in turns}
        self.fields["to"].choices = [
            (to, words.get(to, f"{to}, a turn of its own") + (ONLY_FOR_A_REASON if said else ""))
            for to, said in against.items()
        ]
        self.fields["to"].initial = next((to for to, said in against.items() if not said), None)


class TurnForm(forms.ModelForm):
    class Meta:
        model = Turn
        fields = ["note", "begun_on", "done_on"]
        widgets = {"begun_on": DayInput, "done_on": DayInput}

    def clean(self):
        cleaned = super().clean()
        for name in ("begun_on", "done_on"):
            if is_still_to_come(cleaned.get(name)):
                self.add_error(name, "That day is still to come.")
            elif is_too_long_ago(cleaned.get(name)):
                self.add_error(name, TOO_LONG_AGO)
        return cleaned


def _with(turn: Turn) -> str:
    return f"{turn.number}, with {_marks(turn)}" if turn.listed else f"{turn.number}"


def _marks(turn: Turn, most: int = 6) -> str:
    marks = [place.member.mark for place in turn.listed]
    return ", ".join(marks[:most]) + (f" and {len(marks) - most} more" if marks[most:] else "")
