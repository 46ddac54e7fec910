"""The layout of a joint's new fastenings on a sheet for the bench: drawing, holes, caution."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.colors import white
from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak, Spacer

from restoration.drawings.hull.paper import Area, Line, Sheet
from restoration.reports.pdf.hull_sheet import HullSheet, Pen
from restoration.reports.pdf.page import SIZES, SheetWords, inside, made
from restoration.reports.pdf.parts import caution, text, title_block
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.type import ACCENT, INK, LINE, SOFT

PENS = {
    "face": Pen(None),
    "hole": Pen(width=0.4, fill=white),
    "edge": Pen(width=0.7),
    "runs-on": Pen(width=0.4, dashes=(2.2, 1.4)),
    "grain": Pen(LINE, 0.3),
    "centre": Pen(width=0.15),
    "dim": Pen(SOFT, 0.22),
    "tick": Pen(INK, 0.4),
    "faint": Pen(LINE, 0.18),
    "grain-way": Pen(SOFT, 0.5),
    "load-way": Pen(ACCENT, 0.6),
}
WIDEST = 118 * mm
TALLEST, LEAST = 0.68, 0.55
"""Of a page: what the drawing takes at most, and at least, where all stands on one page. Smaller,
its letters could not be read; then it has the first page to itself and the holes the next."""
COLUMNS = (
    Column("Hole", 14), Column("Along from the start", 38), Column("Across from the left", 38),
    Column("For", 84),
)  # fmt: skip


@dataclass(frozen=True)
class FasteningSheet:
    """What the sheet says, every length in the reader's own words already."""

    vessel: str
    title: str
    yard: str
    facts: Sequence[tuple[str, str]]
    drawing: Sheet
    holes: Sequence[tuple[str, str, str, str]]
    cautions: Sequence[str]
    paper: str
    bores: Sequence[str] = ()
    rows: Sequence[str] = ()
    short: str = ""


class LayoutDrawing(HullSheet):
    """The plain shapes of the layout, in their own pens."""

    def _draw(self, mark, before) -> None:
        if isinstance(mark, Area | Line):
            self._trace(PENS[mark.tone], mark.points, closed=isinstance(mark, Area))
        else:
            super()._draw(mark, before)


def draw_fastening_sheet(sheet: FasteningSheet) -> bytes:
    """The sheet as a PDF, the same bytes for the same layout."""
    size = SIZES.get(sheet.paper, A4)
    words = SheetWords(
        title=f"Fastenings, {sheet.vessel}, {sheet.title}",
        author=sheet.yard,
        subject="A layout of new fastenings",
        head_left=f"Fastenings · {sheet.vessel}",
        head_right=sheet.title,
        foot=[("Yard", sheet.yard), ("Checked by", ""), ("On", "")],
        is_draft=False,
    )
    return made(_story(sheet, *inside(size)), words, size)


def _story(sheet: FasteningSheet, width: float, height: float) -> list[Flowable]:
    """The drawing as tall as its page lets it be; see LEAST."""
    above, below = _above(sheet, width), _below(sheet, width)
    seen = text(
        "Seen from the side of the heads. Work to the figures, not to the paper.", "caption"
    )
    tall = height - _taken([*above, seen, *below], width, height)
    if tall < LEAST * height:
        tall = height - _taken([*above, seen], width, height)
        below = [PageBreak(), *below]
    else:
        tall = min(tall, TALLEST * height)
    return [*above, LayoutDrawing(sheet.drawing, min(width, WIDEST), tall), seen, *below]


def _above(sheet: FasteningSheet, width: float) -> list[Flowable]:
    return [
        text(sheet.title, "title"),
        title_block(sheet.facts, width),
        Spacer(1, 2 * mm),
        *(caution(words, width) for words in sheet.cautions),
        *([caution(sheet.short, width)] if sheet.short else []),
    ]


def _below(sheet: FasteningSheet, width: float) -> list[Flowable]:
    return [
        schedule(COLUMNS, [Row(list(hole)) for hole in sheet.holes], width),
        *(text(words, "caption") for words in (*sheet.bores, *sheet.rows)),
    ]


def _taken(parts: Sequence[Flowable], width: float, height: float) -> float:
    """What all but the drawing takes of one page, with a little to spare."""
    return 2 * mm + sum(
        part.wrap(width, height)[1] + part.getSpaceBefore() + part.getSpaceAfter() for part in parts
    )
