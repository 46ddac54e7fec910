"""A finding as a phone sends it: the same form, with photographs that may be refused singly."""

from dataclasses import dataclass
from itertools import zip_longest

from django.utils.dateparse import parse_datetime
from django.utils.timezone import is_aware

from restoration.actions.findings import (
    MOST_PHOTOGRAPHS,
    PhotographToKeep,
    too_many_photographs,
)
from restoration.forms.finding_entry import FindingEntry
from restoration.forms.finding_rows import CauseFormSet, ReadingFormSet
from restoration.forms.findings import FindingForm
from restoration.models.user import Units
from timber_stock.web import pictures

NOT_YOURS = (
    "This finding was entered on the phone by someone else. They send it themselves, signed in "
    "as they were; it stays on the phone until then."
)
NO_MEMBER = (
    "The register has no such member of this vessel any more. The finding stays on the phone."
)


@dataclass(frozen=True)
class Refused:
    place: int
    name: str
    why: str


class PhotographsSent:
    """Takes in every photograph that is one, and says of each other why it is not."""

    def __init__(self, files, captions):
        self.errors: list[str] = []  # a bad photograph never keeps its finding out
        self.kept: list[PhotographToKeep] = []
        self.refused: list[Refused] = []
        sent = zip_longest(files, captions[: len(files)], fillvalue="")
        for place, (file, caption) in enumerate(sent):
            self._take_in(place, file, caption.replace("\0", "").strip(), len(files))

    def to_keep(self) -> list[PhotographToKeep]:
        return self.kept

    def let_go(self) -> None:
        """Nothing waits anywhere: they came with their finding."""

    def _take_in(self, place, file, caption, number) -> None:
        try:
            if len(self.kept) == MOST_PHOTOGRAPHS:
                raise pictures.NotTakenIn(too_many_photographs(number))
            picture = pictures.take_in(file, file.name)
        except pictures.NotTakenIn as error:
            self.refused.append(Refused(place, file.name, str(error)))
        else:
            self.kept.append(PhotographToKeep(picture, caption))


def received(post, files, *, units: str) -> FindingEntry:
    """Bare numbers are in the unit that the phone's form was made for."""
    units = post["units"] if post.get("units") in Units.values else units
    return FindingEntry(
        FindingForm(post, units=units),
        ReadingFormSet(post, prefix="readings", units=units),
        CauseFormSet(post, prefix="causes", units=units),
        PhotographsSent(files.getlist("photographs"), post.getlist("caption")),
    )


def taken_at(post):
    """When the phone last saw the register, or None where that cannot be read."""
    try:
        moment = parse_datetime(post.get("taken_at", ""))
    except ValueError:
        return None
    return moment if moment and is_aware(moment) else None


def sentences(entry: FindingEntry) -> list[str]:
    """Everything the form refuses, each saying what it is about."""
    said = _of_form(entry.form)
    for name, rows in (("Reading", entry.readings), ("Cause", entry.causes)):
        said += [str(error) for error in rows.non_form_errors()]
        for number, row in enumerate(rows.forms, start=1):
            said += [f"{name} {number}. {sentence}" for sentence in _of_form(row)]
    return said


def _of_form(form) -> list[str]:
    said = []
    for name, errors in form.errors.items():
        about = f"{form.fields[name].label}: " if name in form.fields else ""
        said += [f"{about}{error}" for error in errors]
    return said
