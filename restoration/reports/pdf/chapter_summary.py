"""The summary: one page in plain words, for whoever reads nothing else."""

from reportlab.platypus import Flowable, KeepInFrame

from restoration.reports.content import ReportContent
from restoration.reports.in_plain_words import in_plain_words, opening
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.marks import ClassMark
from restoration.reports.pdf.page import SIZES, inside
from restoration.reports.pdf.parts import bold, marked, text
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.words import listed
from restoration.reports.summary import summarise

HEADING_TALL = 40.0


def summary(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    """Never more than its page: names so long that it would be are set smaller."""
    _, tall = inside(SIZES.get(content.paper, SIZES["A4"]))
    page: list[Flowable] = [text(opening(content)), _counts(content, width)]
    for said in in_plain_words(content):
        page.append(text(said.asked, "heading_3"))
        page += [_answer(words) for words in said.answers]
    return [KeepInFrame(width, tall - HEADING_TALL, page, mode="shrink", hAlign="LEFT")]


def _answer(words: str) -> Flowable:
    """What a sentence speaks of, up to its colon, stands out."""
    head, colon, rest = words.partition(":")
    if not colon or len(head) > 90:
        return text(words)
    return marked(f"{bold(head)}:{markup(rest)}")


def _counts(content: ReportContent, width: float) -> Flowable:
    columns = [Column("Condition", 34), Column("Members", 18, figures=True), Column("Marks", 118)]
    rows = [
        Row([ClassMark(g.grade, g.word), str(len(g.members)), listed(g.marks, 24) or "–"])
        for g in summarise(content).conditions
    ]
    return schedule(columns, rows, width)
