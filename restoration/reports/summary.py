"""The report in short: counts, what presses, what must be done, what it may cost.

Nothing here is judged by the program: it counts and adds up what the surveyor set.
"""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from restoration.reports.content import (
    NO_FINDING,
    CauseNamed,
    ClassWords,
    FindingMade,
    MemberState,
    PictureTaken,
    Replacement,
    ReportContent,
    TimberThread,
)

NO_FINDING_WORDS = "no finding recorded"


@dataclass(frozen=True)
class Graded:
    """One class, its word and the members in it."""

    grade: str
    word: str
    members: tuple[MemberState, ...]

    @property
    def marks(self) -> tuple[str, ...]:
        return tuple(member.mark for member in self.members)


@dataclass(frozen=True)
class Money:
    """Estimates added up. `without_*` counts the replacements that have no such estimate."""

    count: int
    hours: Decimal
    cost: Decimal
    without_hours: int
    without_cost: int


@dataclass(frozen=True)
class Summary:
    conditions: tuple[Graded, ...]
    urgencies: tuple[Graded, ...]
    measures: tuple[Graded, ...]
    causes: tuple[tuple[str, int], ...]
    all_work: Money
    fitted: Money
    to_do: Money

    @property
    def worst_urgency(self) -> Graded | None:
        return next((graded for graded in self.urgencies if graded.members), None)

    @property
    def has_findings(self) -> bool:
        return any(graded.members for graded in self.conditions if graded.grade != NO_FINDING)

    @property
    def examined(self) -> int:
        return sum(len(g.members) for g in self.conditions if g.grade in ("0", "1", "2", "3"))

    def in_condition(self, grade: str) -> Graded:
        return next(graded for graded in self.conditions if graded.grade == grade)


def summarise(content: ReportContent) -> Summary:
    words = content.words
    fitted = [r for r in content.replacements if r.is_fitted]
    to_do = [r for r in content.replacements if not r.is_fitted]
    return Summary(
        conditions=_conditions(content),
        urgencies=_graded(content, words.urgencies, lambda finding: finding.urgency),
        measures=_graded(content, words.measures, lambda finding: finding.measure),
        causes=_causes(content.members),
        all_work=add_up(content.replacements),
        fitted=add_up(fitted),
        to_do=add_up(to_do),
    )


def add_up(replacements: Iterable[Replacement]) -> Money:
    replacements = list(replacements)
    hours = [r.hours for r in replacements if r.hours is not None]
    costs = [r.cost for r in replacements if r.cost is not None]
    return Money(
        count=len(replacements),
        hours=sum(hours, Decimal("0.0")),
        cost=sum(costs, Decimal("0.00")),
        without_hours=len(replacements) - len(hours),
        without_cost=len(replacements) - len(costs),
    )


def renewed_since(
    day: date, replacements: Iterable[Replacement], threads: Iterable[TimberThread]
) -> list[str]:
    """The marks of the members whose new pieces are all fitted, the last on or after that day."""
    days: dict[str, list[date]] = {}
    for thread in threads:
        if thread.fitted_on:
            days.setdefault(thread.mark, []).append(thread.fitted_on)
    fitted: dict[str, bool] = {}
    for r in replacements:
        fitted[r.mark] = r.is_fitted and fitted.get(r.mark, True)
    return [mark for mark, all_of_it in fitted.items()
            if all_of_it and max(days.get(mark, [date.min])) >= day]  # fmt: skip


def pictures_of(members: Iterable[MemberState]) -> list[PictureTaken]:
    """The photographs in the order of the findings, as they are numbered in the report."""
    ordered = (member for ones in areas(members).values() for member in ones)
    return [picture for m in ordered if m.finding for picture in m.finding.pictures]


def areas(members: Iterable[MemberState]) -> dict[str, list[MemberState]]:
    """The members by area of the hull, each in the order it came."""
    found: dict[str, list[MemberState]] = {}
    for member in members:
        found.setdefault(member.group, []).append(member)
    return found


def instruments(members: Iterable[MemberState]) -> Counter[tuple[str, str]]:
    """How many readings each instrument took, by its name and the kind of reading."""
    return Counter(
        (reading.instrument, reading.kind)
        for member in members
        if member.finding
        for reading in member.finding.readings
    )


def causes_named(
    members: Iterable[MemberState],
) -> dict[str, list[tuple[MemberState, CauseNamed]]]:
    """By cause: the members it is named for; first the cause that is ranked first most often."""
    found: dict[str, list[tuple[MemberState, CauseNamed]]] = {}
    for member in members:
        for cause in member.finding.causes if member.finding else ():
            found.setdefault(cause.code, []).append((member, cause))
    order = sorted(found, key=lambda code: -sum(c.rank == 1 for _, c in found[code]))
    return {code: found[code] for code in order}


def _conditions(content: ReportContent) -> tuple[Graded, ...]:
    """Worst first; then those not examined and those this survey says nothing of."""
    words = {c.grade: c.label for c in content.words.conditions}
    order = ("3", "2", "1", "0", "NE", NO_FINDING)
    return tuple(
        Graded(
            grade,
            words.get(grade, NO_FINDING_WORDS),
            tuple(m for m in content.members if m.condition == grade),
        )
        for grade in order
    )


def _graded(
    content: ReportContent,
    classes: tuple[ClassWords, ...],
    asked: Callable[[FindingMade], int | None],
) -> tuple[Graded, ...]:
    return tuple(
        Graded(
            c.grade,
            c.label,
            tuple(m for m in content.members if m.finding and str(asked(m.finding)) == c.grade),
        )
        for c in reversed(classes)
    )


def _causes(members: Iterable[MemberState]) -> tuple[tuple[str, int], ...]:
    """How many members each cause is named for in the first place, most first."""
    first = Counter(
        min(m.finding.causes, key=lambda cause: cause.rank).name
        for m in members
        if m.finding and m.finding.causes
    )
    return tuple(first.most_common())
