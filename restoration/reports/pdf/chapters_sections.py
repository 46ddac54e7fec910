"""Why timber is cut as it is: its section dried as specified and otherwise; where in the log it
lay."""

from collections.abc import Sequence

from reportlab.platypus import Flowable, Table, TableStyle

from restoration.reports.content import ReportContent
from restoration.reports.pdf.figures import GAP, Pictures
from restoration.reports.pdf.keeping import Kept, stays
from restoration.reports.pdf.parts import Heading, caution, seen, text
from restoration.reports.pdf.vectors import Drawing
from restoration.reports.pdf.words import listed
from restoration.reports.section_facts import Choice, FigureDrawn

TALLEST = 160.0
CAUTION = (
    "Movement is reckoned from mean figures of the wood; single timbers differ. It says nothing of "
    "strength: scantlings and species are for a competent person to check against the rules that "
    "apply."
)


def sections(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    story: list[Flowable] = [
        text(
            "Wood shrinks about twice as much along its rings as across them, so the same section "
            "dries to another shape as its rings run. The green section is drawn broken, the dried "
            "one full; the cross is the heart. As specified stands to the left."
        )
    ]
    for n, choice in enumerate(content.choices):
        story += _choice(choice, width, f"choice_{n}")
    for words in dict.fromkeys(choice.reckoned for choice in content.choices):
        story.append(text(f"{words} The figures and their sources are under methods.", "small"))
    if content.choices:
        story.append(caution(CAUTION, width))
    for n, choice in enumerate(content.sawn):
        story += _choice(choice, width, f"sawn_{n}")
    return story


def shown(content: ReportContent) -> bool:
    return bool(content.choices or content.sawn)


def _choice(choice: Choice, width: float, key: str) -> list[Flowable]:
    title = f"{listed(choice.marks)} {choice.term}"
    opening = "".join(seen(mark, "section") for mark in choice.marks)
    heading = Heading(title, 1, key, in_contents=False, opening=opening)
    drawn = figures_row(choice.drawn, width)
    return [Kept([heading, stays(text(choice.asked)), drawn], float("inf"))]


def figures_row(drawn: Sequence[FigureDrawn], width: float) -> Flowable:
    """Drawings side by side, all at one scale, each with its caption under it."""
    column = (width - GAP) / 2
    cells = [[Drawing(one.svg, column, TALLEST), text(one.caption, "caption")] for one in drawn[:2]]
    cells += [[] for _ in range(2 - len(cells))]
    table = Table([cells], colWidths=[column + GAP / 2] * 2, splitByRow=0, spaceAfter=6)
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), GAP / 2),
            ]
        )
    )
    table.hAlign = "LEFT"
    return table
