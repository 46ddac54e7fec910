"""The table of contents: what the last pass over the paper found, with the pages it was on."""

from collections.abc import Iterable

from reportlab.lib.units import mm
from reportlab.platypus import TableStyle
from reportlab.platypus.doctemplate import IndexingFlowable

from restoration.reports.pdf.parts import WholeRows, marked, text
from restoration.reports.pdf.type import HAIR, LINE

NOTICE = "contents"
PADDINGS = (1.2, 0.6, 0.1)
"""The first that keeps the contents on their page; where none does they run on, at the first."""


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
        for padding in (*PADDINGS, PADDINGS[0]):
            self.table = _table(self.last or [(0, "…", 0)], available_width, padding)
            size = self.table.wrapOn(self.canv, available_width, available_height)
            if size[1] <= available_height:
                break
        return size

    def split(self, available_width, available_height):
        return self.table.splitOn(self.canv, available_width, available_height)

    def drawOn(self, canvas, x, y, _sW=0):
        self.table.drawOn(canvas, x, y, _sW)


def _table(entries: list[tuple[int, str, int]], width: float, padding: float) -> WholeRows:
    """A row for each chapter; its parts follow in a line under it, each with its page."""
    rows, rules = [], []
    for title, page, parts in _by_chapter(entries):
        rows.append([marked(title, "entry"), text(str(page), "entry", right=True)])
        if parts:
            said = " · ".join(f"{part} {n}" for part, n in parts)
            rows.append([marked(said, "small"), ""])
            rules.append(("LEFTPADDING", (0, len(rows) - 1), (0, len(rows) - 1), 6 * mm))
        rules.append(("LINEBELOW", (0, len(rows) - 1), (-1, len(rows) - 1), HAIR, LINE))
    table = WholeRows(rows, colWidths=[width - 16 * mm, 16 * mm])
    table.setStyle(
        TableStyle(
            [
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), padding),
                ("BOTTOMPADDING", (0, 0), (-1, -1), padding),
                *rules,
            ]
        )
    )
    return table


def _by_chapter(entries: list[tuple[int, str, int]]) -> list[tuple[str, int, list]]:
    found: list[tuple[str, int, list]] = []
    for level, title, page in entries:
        if level == 0 or not found:
            found.append((title, page, []))
        else:
            found[-1][2].append((title, page))
    return found
