"""A blank round to take along on paper: the members in the order of the round, as plain facts."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from restoration.calc import grading
from restoration.models import Member, Survey

READINGS = ("probe", "moisture %", "sound", "bolt", "pH")


@dataclass(frozen=True)
class SheetRow:
    """One member: what it is called, and what was last found of it ("" for nothing)."""

    part: str
    mark: str
    term: str
    side: str
    station_from: float | None
    station_to: float | None
    sided_mm: float | None
    moulded_mm: float | None
    length_mm: float | None
    material: str
    last: str


@dataclass(frozen=True)
class FieldSheet:
    """Everything that the sheet says. `order` names the order of the round in words."""

    vessel: str
    surveyed_on: date
    place: str
    surveyor: str
    order: str
    units: str
    rows: tuple[SheetRow, ...]
    scales: tuple[tuple[str, tuple[str, ...]], ...]
    standing: str


def field_sheet(
    survey: Survey, stops: Sequence[tuple[str, Member, str]], order: str, units: str
) -> FieldSheet:
    """The sheet of a survey. stops: part of the round, member, what was last found of it."""
    scales = (
        ("Condition", grading.CONDITIONS),
        ("Urgency", grading.URGENCIES),
        ("Measure", grading.MEASURES),
    )
    return FieldSheet(
        vessel=survey.vessel.name,
        surveyed_on=survey.surveyed_on,
        place=survey.place,
        surveyor=survey.surveyor_name,
        order=order,
        units=units,
        rows=tuple(_row(part, member, last) for part, member, last in stops),
        scales=tuple(
            (name, tuple(f"{code} {grade.label}" for code, grade in scale.items()))
            for name, scale in scales
        ),
        standing=grading.STANDING,
    )


def _row(part: str, member: Member, last: str) -> SheetRow:
    return SheetRow(
        part=part,
        mark=member.mark,
        term=member.term(),
        side="" if member.side == "C" else member.get_side_display(),
        station_from=member.station_from,
        station_to=member.station_to,
        sided_mm=member.sided_mm,
        moulded_mm=member.moulded_mm,
        length_mm=member.length_mm,
        material=member.wood.common_name if member.wood else member.material,
        last=last,
    )
