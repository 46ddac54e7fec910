"""The index by member mark: on which page what is said of a member, each a link."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus.doctemplate import IndexingFlowable

from restoration.reports.pdf.parts import bold, link, marked
from restoration.reports.pdf.tables import Column, Row, schedule

MARK_SEEN = "mark_seen"


@dataclass(frozen=True)
class Sought:
    """One column of the index: what is looked for, its head, and the name of the place by mark."""

    what: str
    head: str
    keys: dict[str, str]


class MarkIndex(IndexingFlowable):
    """`members` are mark and term in the order they are listed; `sought` the columns."""

    def __init__(self, members: Sequence[tuple[str, str]], sought: Sequence[Sought]):
        super().__init__()
        self.members, self.sought = members, sought
        self.pages: dict[tuple[str, str], int] = {}
        self.last: dict[tuple[str, str], int] = {}

    def beforeBuild(self):
        self.last, self.pages = self.pages, {}

    def notify(self, kind, stuff):
        if kind == MARK_SEEN:
            what, mark, page = stuff
            self.pages.setdefault((what, mark), page)

    def isSatisfied(self):
        return self.pages == self.last

    def wrap(self, available_width, available_height):
        self.table = self._table(available_width)
        return self.table.wrapOn(self.canv, available_width, available_height)

    def split(self, available_width, available_height):
        return self._table(available_width).splitOn(self.canv, available_width, available_height)

    def drawOn(self, canvas, x, y, _sW=0):
        self.table.drawOn(canvas, x, y, _sW)

    def _table(self, width: float):
        columns = [Column("Mark", 18), Column("Member", 48)]
        columns += [Column(each.head, 24, figures=True) for each in self.sought]
        return schedule(columns, [self._row(*member) for member in self.members], width)

    def _row(self, mark: str, term: str) -> Row:
        return Row([marked(bold(mark), "cell"), term, *(self._cell(s, mark) for s in self.sought)])

    def _cell(self, sought: Sought, mark: str):
        key = sought.keys.get(mark)
        if not key:
            return "–"
        page = self.last.get((sought.what, mark))
        return marked(link(str(page or "…"), key), "cell", right=True)
