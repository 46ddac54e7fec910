"""Recording what was found of a member: added, never changed; sent twice, kept once."""

import uuid
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction
from django.utils import timezone

from restoration.models import Finding, FindingCause, Member, Photograph, Reading, Survey
from timber_stock.web.pictures import Picture

MOST_PHOTOGRAPHS = 20
MOST_READINGS = 30


@dataclass(frozen=True)
class PhotographToKeep:
    picture: Picture
    caption: str = ""


def record_finding(
    *,
    finding: Finding,
    readings: Sequence[Reading] = (),
    causes: Sequence[FindingCause] = (),
    photographs: Sequence[PhotographToKeep] = (),
) -> Finding:
    """Keep a finding with all that belongs to it, or nothing of it.

    Causes are ranked in the order they are given. The finding's `made_id` is the mark of the
    form it was entered in: if that was kept already, the finding kept then is returned, and
    nothing is added.
    """
    if stored := _stored(finding):
        return stored
    _check(finding, readings, photographs)
    try:
        with _files_stay_only_with_their_rows() as written:
            finding.full_clean()
            finding.save()
            _keep_readings_and_causes(finding, readings, causes)
            for position, photograph in enumerate(photographs, start=1):
                _keep_photograph(finding, position, photograph, written)
    except (IntegrityError, ValidationError):
        if stored := _stored(finding):  # the same form came twice at the same moment
            return stored
        raise
    return finding


def kept_already(*, made_id: str, survey: Survey, member: Member) -> Finding | None:
    """The finding that this form was kept as before, if it comes a second time."""
    try:
        made_id = uuid.UUID(made_id)
    except ValueError:
        return None
    return Finding.objects.filter(made_id=made_id, survey=survey, member=member).first()


def _stored(finding: Finding) -> Finding | None:
    stored = Finding.objects.filter(made_id=finding.made_id).select_related("member").first()
    if stored and (stored.member_id, stored.survey_id) != (finding.member_id, finding.survey_id):
        raise ValidationError(
            f"This form was used already, for {stored.member}. Open the form of "
            f"{finding.member} again and enter its finding there."
        )
    return stored


def _check(finding: Finding, readings: Sequence, photographs: Sequence) -> None:
    if finding.member.vessel_id != finding.survey.vessel_id:
        raise ValidationError(f"{finding.member} is no member of the vessel of this survey.")
    if len(readings) > MOST_READINGS:
        raise ValidationError(
            f"A finding holds up to {MOST_READINGS} readings, and these are {len(readings)}. "
            "Put the rest into a second finding of this member."
        )
    if len(photographs) > MOST_PHOTOGRAPHS:
        raise ValidationError(too_many_photographs(len(photographs)))


def too_many_photographs(number: int) -> str:
    return (
        f"A finding holds up to {MOST_PHOTOGRAPHS} photographs, and these are {number}. "
        "Put the rest into a second finding of this member."
    )


@contextmanager
def _files_stay_only_with_their_rows() -> Iterator[list]:
    """One transaction; the files named in the list are removed again if it does not hold."""
    written: list = []
    try:
        with transaction.atomic():
            yield written
    except BaseException:
        for file in written:
            file.storage.delete(file.name)
        raise


def _keep_readings_and_causes(
    finding: Finding, readings: Sequence[Reading], causes: Sequence[FindingCause]
) -> None:
    for rank, cause in enumerate(causes, start=1):
        cause.rank = rank
    for row in (*readings, *causes):
        row.finding = finding
        row.full_clean()
        row.save()


def _keep_photograph(
    finding: Finding, position: int, photograph: PhotographToKeep, written: list
) -> None:
    picture = photograph.picture
    row = Photograph(
        finding=finding,
        width_px=picture.width_px,
        height_px=picture.height_px,
        sha256=picture.sha256,
        caption=photograph.caption,
        taken_at=_with_zone(picture.taken_at),
        position=position,
    )
    name = f"{finding.made_id.hex}-{position}.jpg"
    for file, data in ((row.image, picture.jpeg), (row.thumbnail, picture.thumbnail)):
        file.save(name, ContentFile(data), save=False)
        written.append(file)
    row.full_clean()
    row.save()


def _with_zone(moment: datetime | None) -> datetime | None:
    """A camera that gives no offset is taken to keep the yard's time."""
    if moment is None or timezone.is_aware(moment):
        return moment
    return timezone.make_aware(moment)
