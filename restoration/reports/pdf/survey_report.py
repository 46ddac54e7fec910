"""The condition and replacement report, drawn from its content and from nothing else."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields, is_dataclass

from reportlab.platypus import Flowable, PageBreak

from restoration.reports.content import ReportContent
from restoration.reports.pdf.chapters_end import cautions, costs, methods, sign_off
from restoration.reports.pdf.chapters_findings import findings, members
from restoration.reports.pdf.chapters_opening import cover, identity, limits, summary
from restoration.reports.pdf.chapters_timber import schedule_of_replacements, timber_threads
from restoration.reports.pdf.figures import Pictures, box_for
from restoration.reports.pdf.page import SheetWords, inside, made
from restoration.reports.pdf.parts import heading
from restoration.reports.pdf.samples import samples
from restoration.reports.pdf.words import day

TITLE = "Condition and replacement report"

Chapter = Callable[[ReportContent, Pictures, float], list[Flowable]]
CHAPTERS: Sequence[tuple[str, str, Chapter]] = (
    ("Summary", "summary", summary),
    ("Vessel, client and survey", "identity", identity),
    ("Scope and limits", "limits", limits),
    ("Members and their condition", "members", members),
    ("Findings", "findings", findings),
    ("Fastening samples", "samples", samples),
    ("Replacement schedule", "schedule", schedule_of_replacements),
    ("Timber, from member to log", "timber", timber_threads),
    ("Costs", "costs", costs),
    ("Methods and sources", "methods", methods),
    ("Cautions", "cautions", cautions),
    ("Sign-off", "sign_off", sign_off),
)


def draw_report(content: ReportContent, pictures: Pictures) -> bytes:
    """The PDF. The same content, with the same photographs on file, gives the same bytes."""
    width, _ = inside()
    story = [*cover(content, TITLE, list(strings(content)), width), PageBreak()]
    for number, (title, key, chapter) in enumerate(_chapters(content), 1):
        story += heading(f"{number} {title}", 0, key, room=_ROOM.get(key, 200))
        story += chapter(content, pictures, width)
    return made(story, _sheet_words(content))


def _chapters(content: ReportContent) -> list[tuple[str, str, Chapter]]:
    """All but the samples where none was drawn: a report frozen before they were told has none."""
    return [one for one in CHAPTERS if content.samples or one[2] is not samples]


def shrink_photographs(content: ReportContent, pictures: Pictures) -> None:
    """The slow part of drawing, done ahead where what comes after must be quick."""
    width, _ = inside()
    for member in content.members:
        taken = member.finding.pictures if member.finding else ()
        for picture in taken:
            pictures.jpeg(picture.file, *box_for(len(taken), width))


# A chapter that opens with a table wants more of the page before it starts.
_ROOM = {"summary": 700, "members": 300, "findings": 230}


def strings(thing: object) -> Iterator[str]:
    """Every text in the content, to tell which letters cannot be printed."""
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, tuple):
        for item in thing:
            yield from strings(item)
    elif is_dataclass(thing):
        for each in fields(thing):
            yield from strings(getattr(thing, each.name))


def _sheet_words(content: ReportContent) -> SheetWords:
    standing, vessel = content.standing, content.vessel
    which = "DRAFT, not issued" if standing.is_draft else f"Report {standing.number}, issued"
    number = "draft" if standing.is_draft else f"{vessel.code} report {standing.number}"
    return SheetWords(
        title=f"{vessel.name}: {TITLE[0].lower()}{TITLE[1:]}, {number}",
        author=f"{content.survey.surveyor_name}, {content.yard.name}",
        subject=f"Survey of {day(content.survey.surveyed_on)}",
        head_left=f"{vessel.name} · {TITLE}",
        head_right=f"{which} {day(standing.on)}" if standing.number else which,
        foot=(
            ("Yard", content.yard.name),
            ("Report", number if standing.number else "DRAFT, not issued"),
            ("Drawn up" if standing.is_draft else "Issued", day(standing.on)),
        ),
        is_draft=standing.is_draft,
    )
