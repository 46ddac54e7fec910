"""The table of contents: what the last pass over the paper found, with the pages it was on."""

from collections.abc import Iterable

from reportlab.lib.units import mm
from reportlab.platypus import TableStyle
from reportlab.platypus.doctemplate import IndexingFlowable

from restoration.reports.pdf.parts import WholeRows, marked, text
from restoration.reports.pdf.type import HAIR, LINE

NOTICE = "contents"


class Contents(IndexingFlowable):
    """Headings send it (level, link, page); it draws them once they no longer move."""

    def __init__(self):
        super().__init__()
        self.entries: list[tuple[int, str, int]] = []
        self.last: list[tuple[int, str, int]] = []

    def expect(self, entries: Iterable[tuple[int, str]]) -> None:
        """What it will hold, so that the first pass over the paper leaves the right room for it."""
        self.entries = [(level, title, 0) for level, title in entries]

    def beforeBuild(self):
        self.last, self.entries = self.entries, []

    def notify(self, kind, stuff):
        if kind == NOTICE:
            self.entries.append(stuff)

    def isSatisfied(self):
        return self.entries == self.last

    def wrap(self, available_width, available_height):
        self.table = _table(self.last or [(0, "…", 0)], available_width)
        return self.table.wrapOn(self.canv, available_width, available_height)

    def split(self, available_width, available_height):
        return self.table.splitOn(self.canv, available_width, available_height)

    def drawOn(self, canvas, x, y, _sW=0):
        self.table.drawOn(canvas, x, y, _sW)


def _table(entries: list[tuple[int, str, int]], width: float) -> WholeRows:
    rows = [
        [marked(title, _named(level)), text(str(page), _named(level), right=True)]
        for level, title, page in entries
    ]
    rules = [
        ("LINEBELOW", (0, n), (-1, n), HAIR, LINE)
        for n, entry in enumerate(entries)
        if not entry[0]
    ]
    rules += [("LEFTPADDING", (0, n), (0, n), 6 * mm * e[0]) for n, e in enumerate(entries)]
    table = WholeRows(rows, colWidths=[width - 16 * mm, 16 * mm])
    table.setStyle(
        TableStyle(
            [
                ("RIGHTPADDING", (0, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 1.5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
                *rules,
            ]
        )
    )
    return table


def _named(level: int) -> str:
    return "entry" if level == 0 else "cell"
