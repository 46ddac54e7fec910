import io
from datetime import date, datetime, time, timedelta

from django.utils import timezone

from restoration import timber
from restoration.actions.allotments import allot_board, record_cut, record_fitted
from restoration.actions.findings import PhotographToKeep, record_finding
from restoration.actions.photographs import mark_photograph
from restoration.actions.replacement import specify_replacement
from restoration.actions.retightening import visit_made
from restoration.models import (
    Finding,
    FindingCause,
    Member,
    Reading,
    ReplacementSpec,
    Survey,
    User,
    Vessel,
)
from timber_stock.web import pictures

from .pictures import draw
from .read import flat, lengths, marks, mm, read
from .reports import report_on

PLAIN = ["place", "lying", "qualification", "present", "weather", "scope", "methods", "not_reached"]


def load_surveys(site: str) -> None:
    said = read("surveys")
    for row in said["survey"]:
        report_on(load_survey(row), site)
    for row in said["spec"]:
        load_spec(row)


def load_survey(row: dict) -> Survey:
    surveyor = User.objects.get(username="surveyor")
    survey = Survey(
        vessel=Vessel.objects.get(code=row["vessel"]),
        surveyed_on=row["on"],
        ended_on=row.get("ended"),
        surveyor_name=surveyor.full_name(),
        recorded_by=surveyor,
        **{name: flat(row[name]) for name in PLAIN if name in row},
    )
    survey.full_clean()
    survey.save()
    members = {member.mark: member for member in survey.vessel.members.all()}
    clock = Clock(row["on"])
    for mark in marks(row["sound"]):
        record_finding(finding=graded(survey, members[mark], [0, 0, 0], clock))
    for mark, reason in row.get("not_examined", {}).items():
        finding = graded(survey, members[mark], None, clock)
        finding.not_examined_reason = reason
        record_finding(finding=finding)
    for said in row.get("finding", []):
        for mark in marks(said["members"]):
            load_finding(survey, members[mark], said, clock, row.get("instruments", {}))
    return survey


class Clock:
    """A surveyor's day: a finding every few minutes from nine o'clock on."""

    def __init__(self, day: date):
        self.now = timezone.make_aware(datetime.combine(day, time(9)))

    def tick(self) -> datetime:
        self.now += timedelta(minutes=3)
        return self.now


def graded(survey: Survey, member: Member, grades: list | None, clock: Clock) -> Finding:
    finding = Finding(
        survey=survey, member=member, recorded_by=survey.recorded_by, recorded_at=clock.tick()
    )
    if grades is None:
        finding.condition = "NE"
    else:
        finding.condition, finding.urgency, finding.measure = str(grades[0]), *grades[1:]
    return finding


def load_finding(
    survey: Survey, member: Member, said: dict, clock: Clock, instruments: dict[str, str]
) -> None:
    finding = graded(survey, member, said["grades"], clock)
    finding.seen = flat(said["seen"])
    if "extent" in said:
        finding.extent_from_mm, finding.extent_to_mm = map(mm, said["extent"])
    pictures_said = said.get("photographs", [])
    record_finding(
        finding=finding,
        readings=[reading(instruments, *row) for row in said.get("readings", [])],
        causes=[
            FindingCause(cause=cause, certainty=certainty, evidence=evidence)
            for cause, certainty, evidence in said.get("causes", [])
        ],
        photographs=[
            photograph(kind, caption.format(mark=member.mark))
            for kind, caption, *_ in pictures_said
        ],
    )
    for picture, (_, _, *drawn) in zip(finding.photographs.all(), pictures_said, strict=True):
        for kind, points, text in drawn:
            by = survey.recorded_by
            mark_photograph(photograph=picture, kind=kind, points=points, text=text, by=by)


def reading(instruments: dict[str, str], kind: str, said: str | float, at: str) -> Reading:
    value = mm(said) if isinstance(said, str) and kind != "sounding" else said
    words = said if kind == "sounding" else ""
    return Reading(
        kind=kind,
        value=None if words else value,
        words=words,
        at_mm=mm(at),
        instrument=instruments.get(kind, ""),
    )


def photograph(kind: str, caption: str) -> PhotographToKeep:
    picture = pictures.take_in(io.BytesIO(draw(kind, caption)), f"{caption}.jpg")
    return PhotographToKeep(picture, caption)


def load_spec(row: dict) -> None:
    woods = {wood.code: wood for wood in timber.woods()}
    yard = User.objects.get(username="yard")
    finding = Finding.objects.filter(
        member__vessel__code=row["vessel"], member__mark=row["member"]
    ).first()
    sizes = dict(zip(("sided", "moulded", "length"), row["size"], strict=True))
    plain = ("rings", "rings_face", "seasoning", "place_in_boat", "fastenings", "note")
    spec = ReplacementSpec(
        wood=woods[row["wood"]],
        moisture_percent=row.get("moisture"),
        hours_estimate=str(row["hours"]),
        cost_estimate=row["cost"],
        specified_at=finding.recorded_at + timedelta(days=6),
        **{name: row[name] for name in plain if name in row},
        **lengths(sizes, "sided", "moulded", "length"),
    )
    others = [woods[code] for code in row.get("other_woods", [])]
    specify_replacement(finding=finding, spec=spec, other_woods=others, by=yard)
    for said in row.get("allotment", []):
        load_allotment(spec, said, yard)


def load_allotment(spec: ReplacementSpec, said: dict, by: User) -> None:
    board = timber.Board.objects.get(tag=said["board"])
    start, end = map(mm, said["length"])
    allotment = allot_board(
        spec=spec, board_id=board.pk, from_mm=start, to_mm=end, by=by, on=said["on"]
    )
    if "cut" in said:
        record_cut(allotment=allotment, on=said["cut"], by=said["by"])
    if "fitted" in said:
        record_fitted(allotment=allotment, on=said["fitted"], by=said["by"])
    for on, note in said.get("retightened", []):
        visit_made(task=allotment.retightenings.open().first(), on=on, by=said["by"], note=note)
