from django import forms

from restoration.calc.round_order import neighbours
from restoration.models import Finding, Member
from restoration.models.round import AREA, in_order, stop_of
from timber_stock.web.fields import ChosenRows
from timber_stock.web.forms import PlainForm


class CopyForm(PlainForm):
    """Which members of the same kind a finding is copied to."""

    made_id = forms.UUIDField(widget=forms.HiddenInput(attrs={"autocomplete": "off"}))
    to = ChosenRows(
        queryset=Member.objects.none(),
        widget=forms.CheckboxSelectMultiple,
        label="Copy to",
        error_messages={"required": "Choose at least one member to copy this finding to."},
    )

    def __init__(self, *args, finding: Finding, **options):
        super().__init__(*args, **options)
        self.fields["to"].queryset = alike(finding.member)


def alike(member: Member):
    of_kind = Member.objects.filter(vessel=member.vessel_id, kind=member.kind)
    return of_kind.exclude(pk=member.pk).along_the_hull()


def next_to(member: Member, others: list[Member]) -> list[int]:
    """The member next forward and the one next aft, on the same side."""
    stops = [stop_of(other) for other in in_order([member, *others], AREA)]
    return [int(stop.key) for stop in neighbours(stop_of(member), stops)]
