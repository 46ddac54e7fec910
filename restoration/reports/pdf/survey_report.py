"""The condition and replacement report, drawn from its content and from nothing else."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, PageBreak

from restoration.reports.content import ReportContent
from restoration.reports.paper import strings
from restoration.reports.pdf.chapter_cover import cover
from restoration.reports.pdf.chapter_index import index
from restoration.reports.pdf.chapter_money import costs
from restoration.reports.pdf.chapter_summary import summary
from restoration.reports.pdf.chapters_causes import causes
from restoration.reports.pdf.chapters_end import cautions, methods, sign_off
from restoration.reports.pdf.chapters_findings import findings, members
from restoration.reports.pdf.chapters_hull import hull
from restoration.reports.pdf.chapters_opening import identity, limits
from restoration.reports.pdf.chapters_order import order_of_work
from restoration.reports.pdf.chapters_sections import sections
from restoration.reports.pdf.chapters_sections import shown as sections_shown
from restoration.reports.pdf.chapters_timber import schedule_of_replacements, timber_threads
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.page import SIZES, SheetWords, Told, inside, made, nobody
from restoration.reports.pdf.parts import heading
from restoration.reports.pdf.samples import samples
from restoration.reports.pdf.words import day

TITLE = "Condition and replacement report"
HULL = "hull"

Draw = Callable[[ReportContent, Pictures, float], list[Flowable]]


@dataclass(frozen=True)
class Chapter:
    """Its title and the name of its place; `room`, in points, is what it wants of the page it
    starts on. `shown` leaves it out of a report that has nothing of the kind to say."""

    title: str
    key: str
    draw: Draw
    room: float = 200.0
    shown: Callable[[ReportContent], bool] = lambda content: True


def _has_hull(content: ReportContent) -> bool:
    """A report frozen before it kept the hull sheet says nothing of one."""
    return content.hull is not None or bool(content.no_hull)


def _has(name: str) -> Callable[[ReportContent], bool]:
    return lambda content: bool(getattr(content, name))


# In the order they are printed; a chapter of its own module is added by a line here.
CHAPTERS: Sequence[Chapter] = (
    Chapter("Summary", "summary", summary, room=700),
    Chapter("Hull sheet", HULL, lambda content, pictures, width: [], shown=_has_hull),
    Chapter("Vessel, client and survey", "identity", identity),
    Chapter("Scope and limits", "limits", limits),
    Chapter("Members and their condition", "members", members, room=300),
    Chapter("Findings", "findings", findings, room=230),
    Chapter("Causes", "causes", causes),
    Chapter("Fastening samples", "samples", samples, shown=_has("samples")),
    Chapter("Replacement schedule", "schedule", schedule_of_replacements),
    Chapter("Order of work", "order", order_of_work, shown=_has("order")),
    Chapter("How timber is cut, and why", "sections", sections, shown=sections_shown),
    Chapter("Timber, from member to log", "timber", timber_threads),
    Chapter("Costs", "costs", costs),
    Chapter("Methods and sources", "methods", methods),
    Chapter("Cautions", "cautions", cautions),
    Chapter("Sign-off", "sign_off", sign_off),
    Chapter("Index of members", "index", index),
)


def draw_report(content: ReportContent, pictures: Pictures, told: Told = nobody) -> bytes:
    """The PDF. The same content, with the same photographs on file, gives the same bytes.

    `told` hears the number of each page as it is drawn.
    """
    size = SIZES.get(content.paper, SIZES["A4"])
    width, _ = inside(size)
    story = [*cover(content, TITLE, list(strings(content, but=())), pictures, width), PageBreak()]
    shown = [chapter for chapter in CHAPTERS if chapter.shown(content)]
    for number, chapter in enumerate(shown, 1):
        title = f"{number} {chapter.title}"
        if chapter.key == HULL:
            story += hull(content, pictures, width, title)
            continue
        story += heading(title, 0, chapter.key, room=chapter.room)
        story += chapter.draw(content, pictures, width)
    return made(story, _sheet_words(content), size, told)


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
