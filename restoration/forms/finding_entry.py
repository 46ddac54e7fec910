"""One screen's worth: a finding, its readings, its causes and its photographs, together."""

import uuid
from collections.abc import Sequence

from django.core.exceptions import ValidationError

from restoration.actions import pending
from restoration.actions.findings import record_finding
from restoration.forms import cause_chips, one_tap
from restoration.forms.finding_rows import CauseFormSet, ReadingFormSet
from restoration.forms.findings import FindingForm
from restoration.forms.photograph_tray import GONE, PhotographTray
from restoration.models import Finding, Member, Survey, User


class FindingEntry:
    def __init__(self, form, readings, causes, tray):
        self.form, self.readings, self.causes, self.tray = form, readings, causes, tray

    @classmethod
    def blank(cls, *, units: str, by: User, causes: Sequence[dict] = ()) -> "FindingEntry":
        """An empty form, but for the causes that were taken over into it."""
        typed = {"made_id": uuid.uuid4()}
        return cls._showing(typed, [], list(causes), PhotographTray(by=by), units)

    @classmethod
    def sent(cls, post, files, *, units: str, by: User) -> "FindingEntry":
        post = one_tap.spelt_out(post)
        return cls(
            FindingForm(post, units=units),
            ReadingFormSet(post, prefix="readings", units=units),
            CauseFormSet(post, prefix="causes", units=units),
            PhotographTray(post, files, by=by),
        )

    @classmethod
    def _showing(cls, typed, readings, causes, tray, units) -> "FindingEntry":
        return cls(
            FindingForm(initial=typed, units=units),
            ReadingFormSet(prefix="readings", rows=readings, units=units),
            CauseFormSet(prefix="causes", rows=causes, units=units),
            tray,
        )

    def as_typed(self, units: str) -> "FindingEntry":
        """The same, shown again letter for letter and not judged yet, with a row more to fill."""
        typed = {name: self.form.data.get(name, "") for name in self.form.fields}
        typed["suspected"] = self.form.data.getlist("suspected")
        return self._showing(typed, self.readings.typed(), self.causes.typed(), self.tray, units)

    def is_valid(self) -> bool:
        judged = [part.is_valid() for part in (self.form, self.readings, self.causes)]
        return all(judged) and not self.tray.errors

    def parts(self, *, survey: Survey, member: Member, by: User) -> dict:
        """The rows of a valid entry, as `record_finding` takes them."""
        typed = dict(self.form.cleaned_data)
        rows = self.causes.in_order()
        rows += cause_chips.suspected(typed.pop("suspected"), rows)
        return {
            "finding": Finding(survey=survey, member=member, recorded_by=by, **typed),
            "readings": [form.row for form in self.readings.filled()],
            "causes": rows,
            "photographs": self.tray.to_keep(),
        }

    def keep(self, *, survey: Survey, member: Member, by: User) -> Finding | None:
        """The finding as it is kept; None if it is refused, and the form then says why."""
        try:
            kept = record_finding(**self.parts(survey=survey, member=member, by=by))
        except ValidationError as error:
            self.form.add_error(None, error.messages)
            return None
        except pending.NoLongerKept:
            self.form.add_error(None, GONE)
            return None
        self.tray.let_go()
        return kept
