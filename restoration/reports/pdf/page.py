"""The sheet: running head, foot strip, draft mark, contents, page x of y, the same bytes twice."""

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from reportlab import rl_config
from reportlab.lib.pagesizes import A4, landscape, letter
from reportlab.lib.units import mm
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
)
from reportlab.platypus.doctemplate import IndexingFlowable

from restoration.drawings.hull import fold_out
from restoration.reports.pdf.contents import Contents
from restoration.reports.pdf.keeping import flat, gathered
from restoration.reports.pdf.mark_index import MARK_SEEN
from restoration.reports.pdf.parts import BOTTOM, LEFT, RIGHT, TOP, Heading, text
from restoration.reports.pdf.type import BOLD, DRAFT_WASH, HAIR, INK, THIN

# Pictures go in as they are; the text coding would make them a quarter larger.
rl_config.useA85 = 0

SIZES = {"A4": A4, "Letter": letter}
UPRIGHT, ACROSS, FOLD_OUT = "upright", "across", "fold-out"
FOLD_OUTS = {
    SIZES[name]: (paper.width_mm * mm, paper.height_mm * mm)
    for name, paper in fold_out.FOLD_OUTS.items()
}
"""For a drawing that must be read in every corner, by the paper it folds out of."""


@dataclass(frozen=True)
class SheetWords:
    """What the edges of every page and the file itself say."""

    title: str
    author: str
    subject: str
    head_left: str
    head_right: str
    foot: Sequence[tuple[str, str]]
    is_draft: bool


class PageTotal(IndexingFlowable):
    """Learns how many pages there are in one pass over the paper, and says it in the next."""

    known, found = 0, 0

    def beforeBuild(self):
        self.known, self.found = self.found, 0

    def notify(self, kind, stuff):
        if kind == "page":
            self.found = stuff

    def isSatisfied(self):
        return self.known == self.found

    def wrap(self, available_width, available_height):
        return 0, 0

    def draw(self):
        pass


Told = Callable[[int], None]


def nobody(page: int) -> None:
    """Hears of each page, and does nothing."""


class Paper(BaseDocTemplate):
    """One kind of page, drawn from `words`; nothing in the file depends on when it is made."""

    def __init__(self, file: io.BytesIO, words: SheetWords, page_size=A4, told: Told = nobody):
        super().__init__(
            file,
            pagesize=page_size,
            invariant=1,
            title=words.title,
            author=words.author,
            subject=words.subject,
            creator="Hull & Log",
            lang="en-GB",
            displayDocTitle=1,
        )
        self.words, self.told = words, told
        self.total = PageTotal()
        self.width_inside, self.height_inside = inside(page_size)
        self.addPageTemplates(
            [
                _template(UPRIGHT, page_size),
                _template(ACROSS, landscape(page_size)),
                _fold_out_template(FOLD_OUTS.get(page_size, FOLD_OUTS[A4])),
            ]
        )

    def is_measuring(self) -> bool:
        """In its first pass it only learns what is on which page: no picture is put in yet."""
        return self.total.known == 0

    def afterPage(self):
        self.notify("page", self.page)
        self.told(self.page)


def _template(name: str, page_size) -> PageTemplate:
    wide, tall = inside(page_size)
    frame = Frame(
        LEFT, BOTTOM, wide, tall, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0
    )
    return PageTemplate(id=name, frames=[frame], onPage=_draw_edges, pagesize=page_size)


def _fold_out_template(size) -> PageTemplate:
    """A frame to the edge, as the drawing on it has a margin, a border and a title of its own."""
    frame = Frame(0, 0, *size, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0)
    return PageTemplate(id=FOLD_OUT, frames=[frame], onPage=_draw_fold_out_edge, pagesize=size)


def folded_out(drawing: Callable[[float, float], Flowable], page_size=A4) -> list[Flowable]:
    """A drawing, made for so much width and height, on a page twice the size of the paper."""
    wide, tall = FOLD_OUTS.get(page_size, FOLD_OUTS[A4])
    return [
        NextPageTemplate(FOLD_OUT), PageBreak(), drawing(wide, tall),
        NextPageTemplate(UPRIGHT), PageBreak(),
    ]  # fmt: skip


def _draw_fold_out_edge(canvas, paper: "Paper") -> None:
    """One line along the foot says whose page it is."""
    canvas.setNamedCB(MARK_SEEN, _mark_seen)
    canvas.saveState()
    if paper.words.is_draft:
        _draw_draft_mark(canvas, paper)
    words, page = paper.words, _page_words(canvas, paper)
    said = f"{words.head_left} · {words.head_right} · page {page}"
    line = _one_line(said, "label", canvas._pagesize[0] - 2 * LEFT)
    line.drawOn(canvas, LEFT, 3.4 * mm)
    canvas.restoreState()


def turned(story: Sequence[Flowable], *, back: bool = True) -> list[Flowable]:
    """These on pages of their own that lie across; after them the paper stands upright again."""
    after = [NextPageTemplate(UPRIGHT), PageBreak()] if back else []
    return [NextPageTemplate(ACROSS), PageBreak(), *story, *after]


def inside(page_size=A4) -> tuple[float, float]:
    """Width and height between the margins."""
    return page_size[0] - LEFT - RIGHT, page_size[1] - TOP - BOTTOM


def made(story: Sequence[Flowable], words: SheetWords, page_size=A4, told: Told = nobody) -> bytes:
    """The paper as a PDF file; `told` hears the number of each page as it is drawn."""
    file = io.BytesIO()
    paper = Paper(file, words, page_size, told)
    _expect_contents(story)
    paper.multiBuild([paper.total, *gathered(story)])
    return file.getvalue()


def _expect_contents(story: Sequence[Flowable]) -> None:
    """Told ahead what it will hold, the paper settles in its second pass."""
    headings = [one.entry() for one in flat(story) if isinstance(one, Heading) and one.in_contents]
    for flowable in story:
        if isinstance(flowable, Contents):
            flowable.expect(headings)


def _mark_seen(canvas, kind: str, label: str) -> None:
    what, _, mark = label.partition("|")
    canvas._doctemplate.notify(MARK_SEEN, (what, mark, canvas.getPageNumber()))


def _draw_edges(canvas, paper: Paper) -> None:
    canvas.setNamedCB(MARK_SEEN, _mark_seen)
    canvas.saveState()
    if paper.words.is_draft:
        _draw_draft_mark(canvas, paper)
    canvas.setStrokeColor(INK)
    _draw_head(canvas, paper)
    _draw_foot(canvas, paper)
    canvas.restoreState()


def _draw_draft_mark(canvas, paper: Paper) -> None:
    """Across the sheet and under the text, so pale that all of it can be read."""
    wide, tall = canvas._pagesize
    canvas.saveState()
    canvas.translate(wide / 2, tall / 2)
    canvas.rotate(55)
    canvas.setFillColor(DRAFT_WASH)
    canvas.setFont(BOLD, 150)
    canvas.drawCentredString(0, -54, "DRAFT")
    canvas.restoreState()


def _draw_head(canvas, paper: Paper) -> None:
    wide, _ = inside(canvas._pagesize)
    most, rule = wide * 0.66, canvas._pagesize[1] - TOP + 5 * mm
    rest = wide - most
    left = _one_line(paper.words.head_left, "small", most - 6)
    right = _one_line(paper.words.head_right, "small", rest, right=True)
    left.drawOn(canvas, LEFT, rule + 2.5)
    right.drawOn(canvas, LEFT + most, rule + 2.5)
    canvas.setLineWidth(THIN)
    canvas.line(LEFT, rule, LEFT + wide, rule)


def _draw_foot(canvas, paper: Paper) -> None:
    """A strip of ruled cells, as along the foot of a drawing; the last is page x of y."""
    cells = [*paper.words.foot, ("Page", _page_words(canvas, paper))]
    shares = [0.34, 0.26, 0.24, 0.16]
    low, high, at = BOTTOM - 15 * mm, BOTTOM - 5.5 * mm, LEFT
    wide, _ = inside(canvas._pagesize)
    canvas.setLineWidth(THIN)
    canvas.rect(LEFT, low, wide, high - low)
    canvas.setLineWidth(HAIR)
    for share, (label, value) in zip(shares, cells, strict=True):
        if at > LEFT:
            canvas.line(at, low, at, high)
        _draw_cell(canvas, at + 4, low, share * wide - 8, label, value)
        at += share * wide


def _page_words(canvas, paper: Paper) -> str:
    return f"{canvas.getPageNumber()} of {paper.total.known or '…'}"


def _draw_cell(canvas, left: float, low: float, wide: float, label: str, value: str) -> None:
    for words, named, above in ((label, "label", 15.5), (value, "small", 3)):
        _one_line(words, named, wide).drawOn(canvas, left, low + above)


def _one_line(words: str, named: str, wide: float, *, right: bool = False):
    """As much of the words as one line holds: the edges of the sheet have no second one."""
    said = text(words, named, right=right)
    while said.wrap(wide, said.style.leading)[1] > said.style.leading and len(words) > 1:
        words = f"{words[:-2].rstrip()}…"
        said = text(words, named, right=right)
    return said
