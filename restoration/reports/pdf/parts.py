"""The parts papers are made of: headings, texts, title blocks, cautions. Plain text goes in."""

import re
from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Table, TableStyle

from restoration.reports.pdf.keeping import stays
from restoration.reports.pdf.letters import has_loose_accents, markup, printable
from restoration.reports.pdf.type import ACCENT, HAIR, INK, STRONG, THIN, style

NO_BREAK = "\N{NO-BREAK SPACE}"
LEFT, RIGHT, TOP, BOTTOM = 22 * mm, 18 * mm, 25 * mm, 24 * mm


class Said(Paragraph):
    """Breaks inside a figure only in a column that is narrower than the figure."""

    made = ""

    def wrap(self, available_width, available_height):
        if NO_BREAK in self.made and self.minWidth() > available_width:
            self.__init__(self.made.replace(NO_BREAK, " "), self.style)
        return super().wrap(available_width, available_height)


def text(words: str, named: str = "body", *, right: bool = False) -> Paragraph:
    """One paragraph; line breaks that were typed stay."""
    return marked(markup(words), named, right=right)


def marked(made: str, named: str = "body", *, right: bool = False) -> Paragraph:
    """One paragraph of markup made with `bold`, `link` and `markup` only."""
    said = Said(made, style(named, shaped=has_loose_accents(made), right=right))
    said.made = made
    return stays(said) if named.startswith("heading") else said


def texts(words: str, named: str = "body") -> list[Flowable]:
    """A long text, a paragraph after each blank line, so that it breaks well over pages."""
    blocks = re.split(r"\n\s*\n", words.replace("\r\n", "\n").strip())
    return [text(block, named) for block in blocks if block.strip()]


def bold(words: str) -> str:
    return f"<b>{markup(words)}</b>"


def link(words: str, key: str) -> str:
    return f'<a href="#{markup(key)}" color="#93391a">{markup(words)}</a>'


def seen(mark: str, what: str, key: str = "") -> str:
    """Markup of no width: the index of members finds here what is said of a member."""
    anchor = f'<a name="{markup(key)}"/>' if key else ""
    return f'{anchor}<onDraw name="mark_seen" label="{markup(what)}|{markup(mark)}"/>'


class Heading(Paragraph):
    """Puts itself in the bookmarks and, if `in_contents`, in the table of contents.

    It never ends a page: what follows it begins on the same one.
    """

    stays_with_next = True

    def __init__(
        self, title: str, level: int, key: str, *, in_contents: bool = True, opening: str = ""
    ):
        shaped = has_loose_accents(title)
        super().__init__(opening + markup(title), style(f"heading_{level + 1}", shaped=shaped))
        self.title, self.level, self.key = printable(title), level, key
        self.in_contents = in_contents

    def draw(self):
        c = self.canv
        self.put_in_lists(c)
        if self.level == 0:
            c.saveState()
            c.setStrokeColor(ACCENT)
            c.setLineWidth(STRONG)
            c.line(0, -3, self.width, -3)
            c.restoreState()
        super().draw()

    def put_in_lists(self, canvas) -> None:
        canvas.bookmarkHorizontal(self.key, 0, self.height + 6)
        canvas.addOutlineEntry(self.title, self.key, self.level, closed=self.level > 0)
        if self.in_contents:
            canvas._doctemplate.notify("contents", (*self.entry(), canvas.getPageNumber()))

    def entry(self) -> tuple[int, str]:
        return self.level, f'<a href="#{markup(self.key)}">{markup(self.title)}</a>'

    def split(self, available_width, available_height):
        return []


class UnseenHeading(Heading):
    """Stands in the contents and the bookmarks, for a page that bears a title of its own."""

    stays_with_next = False

    def wrap(self, available_width, available_height):
        self.width, self.height = 0.0, 0.0
        return 0, 0

    def getSpaceBefore(self):
        return 0

    getSpaceAfter = getSpaceBefore

    def draw(self):
        self.put_in_lists(self.canv)


class Room(CondPageBreak):
    """A new page where less than this is left of one; never a second where one just began."""

    def wrap(self, available_width, available_height):
        frame = self._doctemplateAttr("frame")
        if frame is not None and frame._atTop:
            return 0, 0
        return super().wrap(available_width, available_height)


def heading(
    title: str, level: int, key: str, *, room: float = 32 * mm, in_contents: bool = True
) -> list[Flowable]:
    """A heading that starts a new page rather than stand without what follows it."""
    return [Room(room), Heading(title, level, key, in_contents=in_contents)]


def subheading(title: str) -> list[Flowable]:
    """A small heading inside a chapter, in no list."""
    return [Room(22 * mm), text(title, "heading_3")]


class WholeRows(Table):
    """A table that breaks between rows; a row only where it is taller than a whole page."""

    def split(self, available_width, available_height):
        self.splitInRow = 0
        frame = getattr(self, "_frame", None)
        parts = super().split(available_width, available_height)
        if not parts and frame is not None and frame._atTop:
            self.splitInRow = 1
            parts = super().split(available_width, available_height)
        return parts


def title_block(facts: Sequence[tuple[str, str]], width: float, *, columns: int = 3) -> Flowable:
    """Particulars as at the corner of a drawing: a small label over each value, ruled all round."""
    cells = [[text(label, "label"), text(value, "cell")] for label, value in facts]
    cells += [[]] * (-len(cells) % columns)
    rows = [cells[n : n + columns] for n in range(0, len(cells), columns)]
    table = WholeRows(rows, colWidths=[width / columns] * columns)
    table.setStyle(
        TableStyle(
            [
                ("GRID", (0, 0), (-1, -1), HAIR, INK),
                ("BOX", (0, 0), (-1, -1), THIN, INK),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                *_padding(5, 5, 3, 4),
            ]
        )
    )
    return table


def caution(words: str, width: float) -> Flowable:
    """A caution: an accent rule beside it, and the word."""
    said = marked(f'<font color="#93391a"><b>Caution.</b></font> {markup(words)}', "small")
    table = WholeRows([[said]], colWidths=[width], spaceBefore=3, spaceAfter=5)
    table.setStyle(TableStyle([("LINEBEFORE", (0, 0), (0, -1), 2, ACCENT), *_padding(8, 0, 1, 2)]))
    return table


def _padding(left: float, right: float, top: float, bottom: float) -> list[tuple]:
    sides = {"LEFT": left, "RIGHT": right, "TOP": top, "BOTTOM": bottom}
    return [(f"{side}PADDING", (0, 0), (-1, -1), points) for side, points in sides.items()]
