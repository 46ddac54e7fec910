"""The members of a vessel and what one survey found of each, from rows to plain facts."""

from django.utils import timezone

from restoration.calc import grading, vocabulary
from restoration.models import Finding, FindingCause, Member, Photograph, Reading, Survey
from restoration.reports.content import (
    CauseNamed,
    FindingApart,
    FindingMade,
    MemberState,
    PictureTaken,
    ReadingTaken,
)


def member_states(survey: Survey) -> tuple[MemberState, ...]:
    """Every member of the vessel, backbone first and forward to aft, found or not."""
    findings = (
        Finding.objects.filter(survey=survey)
        .latest_of_each_member()
        .select_related("recorded_by", "copied_from__member", "made_apart_from__recorded_by")
        .prefetch_related("causes", "readings", "photographs__marks", "made_apart__recorded_by")
    )
    found = {finding.member_id: finding for finding in findings}
    members = Member.objects.filter(vessel_id=survey.vessel_id).select_related("wood")
    in_order = sorted(members, key=hull_order)
    return tuple(_state(member, found.get(member.pk)) for member in in_order)


def hull_order(member: Member) -> tuple:
    """Area by area and kind by kind as the vocabulary has them, then forward to aft."""
    kinds = list(vocabulary.member_kinds())
    station = member.station_from if member.station_from is not None else float("inf")
    return (kinds.index(member.kind), station, member.number or 0, member.side, member.mark)


def _state(member: Member, finding: Finding | None) -> MemberState:
    return MemberState(
        mark=member.mark,
        term=member.term(),
        group=member.group(),
        side=member.get_side_display(),
        station_from=member.station_from,
        station_to=member.station_to,
        sided_mm=member.sided_mm,
        moulded_mm=member.moulded_mm,
        length_mm=member.length_mm,
        material=str(member.wood) if member.wood else member.material,
        finding=_made(finding) if finding else None,
    )


def _made(finding: Finding) -> FindingMade:
    urgency, measure = finding.urgency, finding.measure
    return FindingMade(
        condition=finding.condition,
        condition_word=grading.condition(finding.condition).label,
        urgency=urgency,
        urgency_word="" if urgency is None else grading.urgency(urgency).label,
        measure=measure,
        measure_word="" if measure is None else grading.measure(measure).label,
        not_examined_reason=finding.not_examined_reason,
        seen=finding.seen,
        extent_from_mm=finding.extent_from_mm,
        extent_to_mm=finding.extent_to_mm,
        recorded_on=timezone.localdate(finding.recorded_at),
        recorded_by=finding.recorded_by.full_name(),
        causes=tuple(_cause(named) for named in finding.causes.all()),
        readings=tuple(_reading(reading) for reading in finding.readings.all()),
        pictures=tuple(_picture(picture) for picture in finding.photographs.all()),
        copied_from=finding.copied_from.member.mark if finding.copied_from else "",
        apart=tuple(_apart(other) for other in _made_apart(finding)),
    )


def _made_apart(finding: Finding) -> list[Finding]:
    """The finding it was entered beside without knowing, and those entered so beside it."""
    earlier = [finding.made_apart_from] if finding.made_apart_from else []
    return [*earlier, *finding.made_apart.all()]


def _apart(other: Finding) -> FindingApart:
    return FindingApart(
        recorded_by=other.recorded_by.full_name(),
        recorded_on=timezone.localdate(other.recorded_at),
        condition=other.condition,
        condition_word=grading.condition(other.condition).label,
        seen=other.seen,
    )


def _cause(named: FindingCause) -> CauseNamed:
    cause = vocabulary.cause(named.cause)
    return CauseNamed(
        rank=named.rank,
        code=cause.code,
        name=cause.name,
        certainty=named.get_certainty_display(),
        evidence=named.evidence,
        guidance=cause.remedy_guidance,
        guidance_standing=vocabulary.EVIDENCE[cause.evidence],
    )


def _reading(reading: Reading) -> ReadingTaken:
    return ReadingTaken(
        kind=reading.kind,
        value=reading.value,
        words=reading.words,
        at_mm=reading.at_mm,
        instrument=reading.instrument,
    )


def _picture(picture: Photograph) -> PictureTaken:
    return PictureTaken(
        file=picture.image.name,
        sha256=picture.sha256,
        width_px=picture.width_px,
        height_px=picture.height_px,
        caption=picture.caption,
        taken_on=picture.taken_at and timezone.localdate(picture.taken_at),
        marks=tuple(mark.as_mark() for mark in picture.marks.all()),
    )
