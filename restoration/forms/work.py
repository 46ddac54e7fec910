from datetime import timedelta

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from restoration.models import Member, ReplacementSpec, User, Vessel, Work, WorkStep
from restoration.models.work import MOST_HOURS
from timber_stock.web.forms import PlainForm

from .allotment import AllTheSame
from .days import DayDone, DayInput

MOST_DAYS_AHEAD = 3660


class BoardFilter(PlainForm):
    vessel = forms.ModelChoiceField(
        Vessel.objects.none(), required=False, empty_label="all vessels"
    )
    person = forms.ModelChoiceField(User.objects.none(), required=False, empty_label="everybody")

    def __init__(self, *args, vessels, people, **options):
        super().__init__(*args, **options)
        self.fields["vessel"].queryset = vessels
        name_people(self.fields["person"], people)


class WorkForm(AllTheSame):
    """What was done, on which day, by whom, and for how long."""

    stage = forms.ChoiceField(label="What was done", choices=Work)
    done = forms.BooleanField(
        label="It is finished with that", required=False, initial=True,
        help_text="not ticked: only hours are recorded",
    )  # fmt: skip
    on = DayDone(label="Date")
    by = forms.CharField(label="By whom", max_length=120)
    hours = forms.DecimalField(min_value=0, max_value=MOST_HOURS, decimal_places=2, required=False)
    note = forms.CharField(max_length=200, required=False)
    field_order = ["stage", "done", "on", "by", "hours", "note"]
    passing_over = forms.BooleanField(
        label="What comes between was passed over", required=False,
        help_text="shaping or dry fitting that is not recorded",
    )  # fmt: skip

    def clean(self):
        cleaned = super().clean()
        finished = cleaned.get("done") and cleaned.get("stage") != Work.OTHER
        if not finished and not cleaned.get("hours") and "hours" not in self.errors:
            raise ValidationError({"hours": "Say how many hours it took."})
        return cleaned

    def finishes(self) -> bool:
        return self.cleaned_data["done"] and self.cleaned_data["stage"] != Work.OTHER


class OneTapForm(PlainForm):
    """The next stage as the board's own button sends it."""

    stage = forms.ChoiceField(choices=Work)
    on = DayDone()
    by = forms.CharField(max_length=120)


class PlanForm(PlainForm):
    person = forms.ModelChoiceField(
        User.objects.none(), label="Next step for", required=False, empty_label="nobody yet"
    )
    wanted_on = forms.DateField(label="Wanted by", widget=DayInput, required=False)

    def __init__(self, *args, people, **options):
        super().__init__(*args, **options)
        name_people(self.fields["person"], people)

    def clean_wanted_on(self):
        """A day that has gone by meanwhile may stand; a new one is not set in the past."""
        wanted = self.cleaned_data["wanted_on"]
        if wanted and wanted < timezone.localdate() and wanted != self.initial.get("wanted_on"):
            raise ValidationError("That day is past: give today or a later one.")
        if wanted and wanted > timezone.localdate() + timedelta(days=MOST_DAYS_AHEAD):
            raise ValidationError("That is more than ten years ahead. Is the year right?")
        return wanted


class WaitForm(PlainForm):
    """What it waits for: another replacement of the vessel, or a member that must be out."""

    after = forms.ModelChoiceField(
        ReplacementSpec.objects.none(), label="Until this replacement is fastened", required=False,
        empty_label="none",
    )  # fmt: skip
    member_out = forms.ModelChoiceField(
        Member.objects.none(), label="Or until this member is out", required=False,
        empty_label="none",
    )  # fmt: skip
    note = forms.CharField(max_length=200, required=False)

    def __init__(self, *args, spec, **options):
        super().__init__(*args, **options)
        vessel = spec.finding.member.vessel_id
        others = ReplacementSpec.objects.open().filter(finding__member__vessel=vessel)
        fastened = WorkStep.objects.done().filter(stage="fastened").values("spec")
        others = others.exclude(pk=spec.pk).exclude(pk__in=fastened)
        others = others.select_related("finding__member").along_the_hull()
        self.fields["after"].queryset = others
        self.fields["after"].label_from_instance = _mark_and_term
        self.fields["member_out"].queryset = Member.objects.filter(vessel=vessel).along_the_hull()
        self.fields["member_out"].label_from_instance = lambda m: f"{m.mark}, {m.term()}"

    def clean(self):
        cleaned = super().clean()
        if bool(cleaned.get("after")) == bool(cleaned.get("member_out")) and not self.errors:
            raise ValidationError("Say one thing that it waits for, not none and not two.")
        return cleaned


def _mark_and_term(spec: ReplacementSpec) -> str:
    return f"{spec.finding.member.mark}, {spec.finding.member.term()}"


def name_people(field: forms.ModelChoiceField, people) -> None:
    field.queryset = people
    field.label_from_instance = lambda user: user.full_name()
