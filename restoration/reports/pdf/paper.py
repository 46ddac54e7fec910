"""A paper of plain blocks as PDF: the same blocks give the same bytes."""

from collections.abc import Callable

from reportlab.lib.pagesizes import landscape
from reportlab.lib.units import mm
from reportlab.platypus import (
    Flowable,
    KeepTogether,
    PageBreak,
    Paragraph,
    Spacer,
    Table,
    TableStyle,
)

from restoration.reports import paper as plain
from restoration.reports.pdf import parts
from restoration.reports.pdf.hull_sheet import HullSheet
from restoration.reports.pdf.keeping import stays
from restoration.reports.pdf.letters import not_printable
from restoration.reports.pdf.looks import with_looks
from restoration.reports.pdf.marks import ClassMark
from restoration.reports.pdf.page import SIZES, SheetWords, folded_out, inside, made
from restoration.reports.pdf.qr import QrCode
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.type import INK, THIN, style
from restoration.reports.pdf.vectors import Drawing
from restoration.reports.pdf.words import listed

GAP = 5 * mm
TALLEST = 86 * mm
SCAN = 30 * mm
MOST_LETTERS = 8  # named one by one; of a text in such a script the first tell which it is


def page_size(name: str, *, lying: bool = False) -> tuple[float, float]:
    size = SIZES[name]
    return landscape(size) if lying else size


def draw_paper(content: plain.Paper, size: str = "A4", *, lying: bool = False) -> bytes:
    page = page_size(size, lying=lying)
    width, _ = inside(page)
    story = [*title(content), *drawn(content.blocks, width)]
    return made([*story, *uncovered(content)], sheet_words(content), page)


def uncovered(content: plain.Paper) -> list[Flowable]:
    """What stands at the end of a paper some of whose letters cannot be printed."""
    lost = not_printable(plain.strings(content))
    if not lost:
        return []
    said = f"Letters that no font here covers: {listed(lost, MOST_LETTERS)}."
    return [parts.text(said, "small")]


def title(content: plain.Paper) -> list[Flowable]:
    return [parts.text(content.title, "title"), Spacer(1, 2 * mm)]


def sheet_words(content: plain.Paper) -> SheetWords:
    return SheetWords(
        title=content.title,
        author=content.author,
        subject=content.kind,
        head_left=f"{content.kind} · {content.of}",
        head_right=content.author,
        foot=content.foot,
        is_draft=False,
    )


def drawn(blocks: tuple[plain.Block, ...], width: float) -> list[Flowable]:
    """Places to sign never stand alone: what is said just before them is on their page."""
    story: list[Flowable] = []
    signed = _signed(blocks)
    for at, block in enumerate(blocks):
        made_of = _DRAW[block.kind](block, width)
        story += [stays(flowable) for flowable in made_of] if at in signed else made_of
    return story


def _signed(blocks: tuple[plain.Block, ...]) -> set[int]:
    """Which blocks are the cautions and the code to scan that stand just before a signature."""
    found: set[int] = set()
    for at in range(len(blocks) - 2, -1, -1):
        after = blocks[at + 1].kind == "signatures" or at + 1 in found
        if after and blocks[at].kind in ("caution", "scan"):
            found.add(at)
    return found


class PaperHeading(parts.Heading):
    """In the bookmarks as a chapter is, and set smaller, as a paper of a page or two asks."""

    def __init__(self, block: plain.Heading):
        super().__init__(block.text, 0, block.key, in_contents=False)
        look = "heading_2" if block.is_chapter else "heading_3"
        self.style = style(look, shaped=bool(self.style.shaping))
        self.level = 0 if block.is_chapter else 1

    def draw(self):
        self.put_in_lists(self.canv)
        Paragraph.draw(self)


def _heading(block: plain.Heading, width: float) -> list[Flowable]:
    return [PaperHeading(block)]


def _words(block: plain.Words, width: float) -> list[Flowable]:
    if block.look == "strong":
        return [stays(parts.marked(parts.bold(block.text)))]
    return parts.texts(block.text, block.look)


def _caution(block: plain.Caution, width: float) -> list[Flowable]:
    return [parts.caution(block.text, width)]


def _facts(block: plain.Facts, width: float) -> list[Flowable]:
    """Kept on one page: a value is looked for beside the others."""
    ruled = parts.title_block(block.pairs, width, columns=block.columns)
    return [Spacer(1, 1 * mm), KeepTogether([ruled]), Spacer(1, 3 * mm)]


def _table(block: plain.Table, width: float) -> list[Flowable]:
    columns = [Column(head.text, head.share, head.figures) for head in block.heads]
    rows = [
        Row(
            [
                _cell(cell, head, "large" if block.is_large else "cell", line.is_total)
                for head, cell in zip(block.heads, line.cells, strict=True)
            ],
            parts.markup(line.note),
            line.is_total,
        )
        for line in block.lines
    ]  # fmt: skip
    table = schedule(columns, rows, width)
    if not block.caption:
        return [table]
    return [stays(parts.text(block.caption, "caption")), table]


def _cell(cell: str | plain.Graded, head: plain.Head, look: str, is_total: bool) -> Flowable:
    if isinstance(cell, plain.Graded):
        return ClassMark(cell.grade, cell.word)
    first, broken, rest = (cell, "", "") if is_total or not head.strong else cell.partition("\n")
    said = parts.bold(first) if first and (is_total or head.strong) else parts.markup(first)
    said += parts.markup(broken + rest)
    return parts.marked(said, look, right=head.figures)


def _figure(block: plain.Figure, width: float) -> list[Flowable]:
    return [KeepTogether([*_captioned(block, width * block.share), Spacer(1, 3 * mm)])]


def _captioned(figure: plain.Figure, width: float, tallest: float = TALLEST) -> list[Flowable]:
    picture = Drawing(with_looks(figure.svg, figure.looks), width, tallest)
    return [picture, parts.text(figure.caption, "caption")] if figure.caption else [picture]


def _side_by_side(block: plain.SideBySide, width: float) -> list[Flowable]:
    """The figures at the left, in a column each; what is said beside them takes the rest."""
    shares = [figure.share for figure in block.figures]
    if block.beside:
        shares.append(max(1 - sum(shares), 0.3))
    unit = (width - GAP * (len(shares) - 1)) / max(sum(shares), 1.0)
    columns = [share * unit for share in shares]
    cells: list[list[Flowable]] = [
        _captioned(figure, column) for figure, column in zip(block.figures, columns, strict=False)
    ]
    if block.beside:
        cells.append(drawn(block.beside, columns[-1]))
    widths = [column + GAP for column in columns[:-1]] + columns[-1:]
    table = parts.WholeRows([cells], colWidths=widths, spaceAfter=6)
    gaps = [("RIGHTPADDING", (0, 0), (-2, -1), GAP)] if len(columns) > 1 else []
    table.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *_no_padding(), *gaps]))
    table.hAlign = "LEFT"
    return [table]


def _no_padding() -> list[tuple]:
    return [(f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")]


def _signatures(block: plain.Signatures, width: float) -> list[Flowable]:
    story: list[Flowable] = []
    for who in block.who:
        lines = Table(
            [["", "", ""], [parts.text(who, "caption"), "", parts.text("Date", "caption")]],
            colWidths=[width * 0.6, width * 0.06, width * 0.34],
            rowHeights=[13 * mm, None],
        )
        lines.setStyle(
            TableStyle(
                [
                    ("LINEBELOW", (0, 0), (0, 0), THIN, INK),
                    ("LINEBELOW", (2, 0), (2, 0), THIN, INK),
                    ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ]
            )
        )
        story.append(lines)
    return [KeepTogether(story)]


def _scan(block: plain.Scan, width: float) -> list[Flowable]:
    beside = [parts.text(block.text, "small"), parts.text(block.address, "small")]
    table = parts.WholeRows([[QrCode(block.address, SCAN), beside]],
                            colWidths=[SCAN + GAP, width - SCAN - GAP])  # fmt: skip
    table.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "MIDDLE"), *_no_padding()]))
    return [table]


def _fold_out(block: plain.FoldOut, width: float) -> list[Flowable]:
    page = next((size for size in SIZES.values() if inside(size)[0] == width), SIZES["A4"])
    return folded_out(lambda wide, tall: HullSheet(block.sheet, wide, tall), page)[:3]


def _new_page(block: plain.NewPage, width: float) -> list[Flowable]:
    return [PageBreak()]


_DRAW: dict[str, Callable] = {
    "fold_out": _fold_out,
    "new_page": _new_page,
    "heading": _heading,
    "words": _words,
    "caution": _caution,
    "facts": _facts,
    "table": _table,
    "figure": _figure,
    "side_by_side": _side_by_side,
    "signatures": _signatures,
    "scan": _scan,
}
