"""The cover: what the report is, of whom, her picture, and the contents."""

from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Spacer

from restoration.reports.content import ReportContent
from restoration.reports.pdf.contents import Contents
from restoration.reports.pdf.figures import Photograph, Pictures
from restoration.reports.pdf.letters import STAND_IN, not_printable
from restoration.reports.pdf.page import SIZES, inside
from restoration.reports.pdf.parts import text, title_block
from restoration.reports.pdf.words import count, day, days, listed

PICTURE_TALL, PICTURE_SHARE = 64 * mm, 0.26
LONG_NAME = 48
NOTE_TALL = 16 * mm
"""What the note on letters takes, and the picture gives up for it."""


def cover(
    content: ReportContent, title: str, said: Sequence[str], pictures: Pictures, width: float
) -> list[Flowable]:
    """The title block of the whole report, her picture, the contents. `said` is all its text."""
    survey, vessel, note = content.survey, content.vessel, _letters_note(said)
    facts = [
        ("Client", content.client.name),
        ("Surveyed", days(survey.surveyed_on, survey.ended_on)),
        ("Where", f"{survey.place}, {survey.lying}"),
        ("Surveyor", survey.surveyor_name),
        ("Meant for", content.readers),
        ("Yard", content.yard.name),
    ]
    return [
        Spacer(1, 4 * mm if content.cover else 16 * mm),
        text(title, "title"),
        text(vessel.name, "name" if len(vessel.name) <= LONG_NAME else "long_name"),
        text(_state(content), "state"),
        *_picture(content, pictures, cover_box(content.paper, width, NOTE_TALL if note else 0.0)),
        title_block(facts, width),
        *note,
        Spacer(1, 7 * mm),
        text("Contents", "heading_2"),
        Contents(),
    ]


def cover_box(paper: str, width: float, less: float = 0.0) -> tuple[float, float]:
    """No more than a quarter of the page, so that the contents find room under it."""
    _, tall = inside(SIZES.get(paper, SIZES["A4"]))
    return width, min(PICTURE_TALL, PICTURE_SHARE * tall) - less


def _picture(
    content: ReportContent, pictures: Pictures, box: tuple[float, float]
) -> list[Flowable]:
    if content.cover is None:
        return []
    picture = Photograph(content.cover, pictures, box)
    picture.hAlign = "LEFT"
    caption = [text(content.cover.caption, "caption")] if content.cover.caption else []
    return [picture, *caption, Spacer(1, 5 * mm)]


def _state(content: ReportContent) -> str:
    standing = content.standing
    if standing.is_draft:
        return f"DRAFT of {day(standing.on)}. Not issued: it may still change."
    replaced = f", in place of report {standing.supersedes}" if standing.supersedes else ""
    return f"Report {standing.number}, issued {day(standing.on)} by {standing.by}{replaced}."


def _letters_note(said: Sequence[str]) -> list[Flowable]:
    lost = not_printable(said)
    if not lost:
        return []
    return [
        Spacer(1, 3 * mm),
        text(
            f"The font of this report does not cover {count(len(lost), 'letter')} that it holds. "
            f"Each is printed as {STAND_IN}: {listed(lost, 12)}.",
            "small",
        ),
    ]
