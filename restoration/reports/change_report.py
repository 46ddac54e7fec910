"""What became of a hull from one survey to the next, as a paper for her owner."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Protocol

from restoration.calc import between_surveys as calc
from restoration.drawings.hull.paper import Member as Drawn
from restoration.drawings.hull.paper import Sheet
from restoration.drawings.hull.paper import Words as Said
from restoration.models import Finding, Member, Survey, Yard
from restoration.reports.paper import (
    Block,
    Caution,
    Facts,
    FoldOut,
    Graded,
    Head,
    Heading,
    Line,
    Paper,
    Table,
    Words,
)
from restoration.reports.pdf.words import day, days, listed, sentence, shortened
from restoration.reports.wording import CAUTIONS

KIND = "Change report"
STANDING = (
    "The classes are compared as each survey set them; nothing is judged here. A member that only "
    "one of the surveys looked at is not thereby better or worse."
)
GOING_ON = (
    "Rot and corrosion go on by themselves; to be looked at again in the next round: {marks}."
)
LONGEST_NOTE = 400
NO_FINDING = "no finding"


class Compared(Protocol):
    """A member with what the two surveys say of it."""

    member: Member
    earlier: Finding | None
    later: Finding | None
    outcome: str
    seen: calc.Seen
    goes_on: bool


def change_report(
    earlier: Survey,
    later: Survey,
    compared: Sequence[Compared],
    *,
    on: date,
    hull: Sheet | None = None,
) -> Paper:
    """`compared` has the members along the hull; `hull` is the hull sheet with what changed."""
    yard, vessel = Yard.current(), later.vessel
    groups = [(o, w, [c for c in compared if c.outcome == o]) for o, w in calc.OUTCOMES.items()]
    going_on = [c.member.mark for c in compared if c.goes_on]
    said = _what_was_seen([c.later for c in compared if c.outcome in ("worse", "found")])
    blocks: list[Block] = [_particulars(earlier, later, groups), Words(STANDING, "small")]
    if going_on:
        blocks.append(Words(GOING_ON.format(marks=listed(going_on)), "strong"))
    for outcome, words, ones in groups:
        blocks += _group(outcome, words, ones, earlier, later, said)
    return Paper(
        kind=KIND,
        of=f"{vessel.name}, {day(earlier.surveyed_on)} to {day(later.surveyed_on)}",
        author=yard.name,
        foot=(("Yard", yard.name), ("For", vessel.client.name), ("Drawn up", day(on))),
        file_name=f"{vessel.code}-changes-{earlier.surveyed_on:%Y}-to-{later.surveyed_on:%Y}",
        blocks=(
            *blocks,
            Caution(CAUTIONS[0]),
            Caution(CAUTIONS[1]),
            *([FoldOut(_printed(hull))] if hull else []),
        ),
    )


def _particulars(earlier: Survey, later: Survey, groups) -> Facts:
    counts = [f"{len(ones)} {words}" for _, words, ones in groups if ones]
    return Facts(
        (
            ("Earlier survey", _survey(earlier)),
            ("Later survey", _survey(later)),
            ("In short", "\n".join(counts) or "She has no members in the register."),
        )
    )


def _survey(survey: Survey) -> str:
    when = days(survey.surveyed_on, survey.ended_on)
    return f"{when}, {survey.place}, {survey.get_lying_display()}; {survey.surveyor_name}"


def _what_was_seen(findings: Sequence[Finding | None]) -> dict[int, str]:
    keys = [finding.pk for finding in findings if finding]
    return dict(Finding.objects.filter(pk__in=keys).values_list("pk", "seen"))


def _group(outcome, words, ones, earlier: Survey, later: Survey, said) -> list[Block]:
    """A table of those that changed; of the others only their marks."""
    if not ones:
        return []
    heading = Heading(f"{words.capitalize()} ({len(ones)})", f"became_{outcome}")
    if outcome in ("same", "unseen"):
        return [heading, Words(f"{listed([c.member.mark for c in ones], most=400)}.", "small")]
    heads = (
        Head("Member", 62), Head(day(earlier.surveyed_on), 40), Head(day(later.surveyed_on), 40),
        Head("Replaced", 30),
    )  # fmt: skip
    return [heading, Table(heads, tuple(_line(one, said) for one in ones))]


def _line(one: Compared, said: dict[int, str]) -> Line:
    note = said.get(one.later.pk, "") if one.later else ""
    return Line(
        (
            f"{one.member.mark} {one.member.term()}",
            _class(one.earlier),
            _class(one.later),
            day(one.seen.fitted_on, ""),
        ),
        note=sentence(shortened(note.strip(), LONGEST_NOTE)),
    )


def _class(finding: Finding | None) -> str | Graded:
    if finding is None:
        return NO_FINDING
    return Graded(finding.condition, finding.condition_word())


def _printed(sheet: Sheet) -> Sheet:
    """The badges with a mark that the fonts of papers have: 1›3 for 1→3."""
    return replace(sheet, items=tuple(_item(item) for item in sheet.items))


def _item(item):
    if isinstance(item, Drawn):
        return replace(item, marks=tuple(_item(mark) for mark in item.marks))
    return replace(item, text=item.text.replace("→", "›")) if isinstance(item, Said) else item
