"""A report laid out for reading on screen: the same content as on paper, chapter by chapter."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from restoration.drawings.hull.svg import svg
from restoration.drawings.picture_marks import picture_marks_svg
from restoration.reports.content import (
    CauseNamed,
    FindingMade,
    MemberState,
    PictureTaken,
    Replacement,
    ReportContent,
)
from restoration.reports.hull_figure import hull_sheet
from restoration.reports.in_plain_words import in_plain_words, opening
from restoration.reports.links import condition_key, finding_key, schedule_key, thread_key
from restoration.reports.order_of_work import TurnTold
from restoration.reports.origin import origin
from restoration.reports.pdf.chapters_findings import READING_NAMES, says_nothing_more, where
from restoration.reports.pdf.words import exact, length, number, sentence
from restoration.reports.section_facts import Choice
from restoration.reports.summary import (
    Money,
    Summary,
    add_up,
    areas,
    causes_named,
    instruments,
    summarise,
)

Address = Callable[[int], str]


@dataclass(frozen=True)
class Shown:
    """A photograph by its number in the report, where it is served, and its marks drawn."""

    number: int
    picture: PictureTaken
    address: str
    overlay: SafeString


@dataclass(frozen=True)
class ReadingShown:
    name: str
    value: str
    at: str
    instrument: str


@dataclass(frozen=True)
class Found:
    """One member's finding, with the names of the places it is told at."""

    member: MemberState
    key: str
    where: str
    readings: tuple[ReadingShown, ...]
    pictures: tuple[Shown, ...]

    @property
    def finding(self) -> FindingMade:
        return self.member.finding

    @property
    def reason(self) -> str:
        return sentence(self.finding.not_examined_reason)

    @property
    def causes(self) -> list[tuple[CauseNamed, str]]:
        """Each with its evidence as a sentence."""
        return [(c, sentence(c.evidence) or "none stated.") for c in self.finding.causes]


@dataclass(frozen=True)
class Area:
    """A part of the hull: its members, what was found, and those of whom no more is said."""

    name: str
    members: tuple[tuple[MemberState, str, str, str], ...]  # with places and where it is
    found: tuple[Found, ...]
    nothing_more: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Drawn:
    """A choice with its drawings ready to stand on the page."""

    choice: Choice
    figures: tuple[tuple[SafeString, str], ...]


def reading(content: ReportContent, address: Address, cover: str = "") -> dict:
    """What the page of a report shows. `address` says where a photograph of that number is
    served; `cover` where her picture is, "" where there is none."""
    in_short = summarise(content)
    return {
        "content": content,
        "in_short": in_short,
        "opening": opening(content),
        "plain": in_plain_words(content),
        "cover": cover if content.cover else "",
        "hull": _hull(content),
        "areas": _areas(content, address),
        "causes": _causes(content),
        "turns": _turns(content),
        "replacements": _replacements(content),
        "choices": [_drawn(choice) for choice in content.choices],
        "sawn": [_drawn(choice) for choice in content.sawn],
        "threads": [(t, thread_key(t.mark), " ".join(origin(t))) for t in content.threads],
        "money": _money(content, in_short),
        "instruments": [
            (name, READING_NAMES.get(kind, kind), taken)
            for (name, kind), taken in instruments(content.members).items()
        ],
        "figures": list(dict.fromkeys(line for c in content.choices for line in c.figures)),
    }


def _hull(content: ReportContent) -> SafeString:
    sheet = hull_sheet(content)
    # Every text in the drawing is escaped where it is written.
    return mark_safe(svg(sheet)) if sheet else mark_safe("")


def _areas(content: ReportContent, address: Address) -> list[Area]:
    """Photographs are numbered through the report in the order of the findings, as on paper."""
    count, found = 0, []
    for name, members in areas(content.members).items():
        told = []
        for member in members:
            taken = member.finding.pictures if member.finding else ()
            shown = tuple(
                _shown(count + n, picture, address) for n, picture in enumerate(taken, start=1)
            )
            count += len(taken)
            if member.finding and not says_nothing_more(member.finding):
                told.append(_found(member, shown, content.units))
        found.append(_area(name, members, told))
    return found


def _area(name: str, members: Iterable[MemberState], told: list[Found]) -> Area:
    members = list(members)
    rest = [m for m in members if m.finding and says_nothing_more(m.finding)]
    return Area(
        name,
        tuple(
            (m, condition_key(m.mark), finding_key(m.mark) if m.finding else "", where(m))
            for m in members
        ),
        tuple(told),
        tuple((m.mark, finding_key(m.mark)) for m in rest),
    )


def _found(member: MemberState, pictures: tuple[Shown, ...], units: str) -> Found:
    readings = tuple(
        ReadingShown(
            READING_NAMES.get(r.kind, r.kind), _value(r, units), length(r.at_mm, units, ""),
            r.instrument,
        )
        for r in member.finding.readings
    )  # fmt: skip
    return Found(member, finding_key(member.mark), where(member), readings, pictures)


def _value(reading, units: str) -> str:
    figure = ""
    if reading.value is not None:
        if reading.kind in ("probe", "bolt"):
            figure = exact(reading.value, units)
        else:
            figure = number(reading.value) + (" %" if reading.kind == "moisture" else "")
    return ", ".join(part for part in (figure, reading.words) if part)


def _shown(number: int, picture: PictureTaken, address: Address) -> Shown:
    overlay = picture_marks_svg(picture.marks, picture.width_px, picture.height_px)
    return Shown(number, picture, address(number), mark_safe(overlay))


def _causes(content: ReportContent) -> list[tuple[CauseNamed, list]]:
    return [
        (
            held[0][1],
            [
                (m, cause, finding_key(m.mark), sentence(cause.evidence) or "No evidence stated.")
                for m, cause in held
            ],
        )
        for held in causes_named(content.members).values()
    ]


def _replacements(content: ReportContent) -> list[tuple[Replacement, str]]:
    """Each with the name of its place; where a member has several the first is led to."""
    rows, met = [], set()
    for r in content.replacements:
        rows.append((r, "" if r.mark in met else schedule_key(r.mark)))
        met.add(r.mark)
    return rows


def _turns(content: ReportContent) -> list[tuple[TurnTold, str]]:
    """Each turn of the order of work with the members that are out in it."""
    turns = content.order.turns if content.order else ()
    return [(turn, ", ".join(f"{m.mark} {m.term}" for m in turn.members)) for turn in turns]


def _drawn(choice: Choice) -> Drawn:
    return Drawn(choice, tuple((mark_safe(one.svg), one.caption) for one in choice.drawn))


def _money(content: ReportContent, in_short: Summary) -> list[tuple[str, Money]]:
    if not content.replacements:
        return []
    groups = dict.fromkeys(r.group for r in content.replacements)
    return [
        *(
            (f"{group.capitalize()} members",
             add_up(r for r in content.replacements if r.group == group))
            for group in groups
        ),
        ("All that is specified", in_short.all_work),
        ("of which fitted", in_short.fitted),
        ("of which still to be fitted", in_short.to_do),
    ]  # fmt: skip
