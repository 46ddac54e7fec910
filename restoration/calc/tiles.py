"""A drawing at full size spread over sheets of paper that overlap, to be cut and joined.

All in mm. The drawing's own frame has its zero at the top left corner, x to the right, y down.
Sheets are named by row and column, A1 at the top left, as on a map.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from restoration.calc.checks import finite
from timber_stock.measure import mm_from_inches


@dataclass(frozen=True)
class Paper:
    name: str
    width_mm: float
    height_mm: float


PAPERS = {
    # ISO 216:2007, Writing paper and certain classes of printed matter: A series.
    "A4": Paper("A4", 210.0, 297.0),
    "A3": Paper("A3", 297.0, 420.0),
    # 8 1/2 x 11 in, the size A of ANSI/ASME Y14.1.
    "Letter": Paper("Letter", mm_from_inches(8.5), mm_from_inches(11)),
}
MARGIN_MM = 10.0
"""Left, right and top: common practice, more than printers leave white (from memory)."""
FOOT_MM = 24.0
"""Below: for the name of the sheet and the bars that check its scale."""
OVERLAP_MM = 12.0
MOST_SHEETS = 300


@dataclass(frozen=True)
class Tile:
    """One sheet; `left_mm`, `top_mm` is where its frame begins on the drawing."""

    row: int
    column: int
    left_mm: float
    top_mm: float

    @property
    def label(self) -> str:
        return f"{row_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True)
class Tiling:
    """How a drawing lies on sheets. Every frame is `frame_wide_mm` by `frame_tall_mm`.

    `tiles` are those on which something is drawn; the others of `rows` x `columns` stay out.
    """

    paper: Paper
    is_across: bool
    rows: int
    columns: int
    tiles: tuple[Tile, ...]

    @property
    def sheet_mm(self) -> tuple[float, float]:
        wide, tall = self.paper.width_mm, self.paper.height_mm
        return (tall, wide) if self.is_across else (wide, tall)

    @property
    def frame_wide_mm(self) -> float:
        return self.sheet_mm[0] - 2 * MARGIN_MM

    @property
    def frame_tall_mm(self) -> float:
        return self.sheet_mm[1] - MARGIN_MM - FOOT_MM

    def has(self, row: int, column: int) -> bool:
        return any(tile.row == row and tile.column == column for tile in self.tiles)


Drawn = Callable[[float, float, float, float], bool]


def tiling(wide_mm: float, tall_mm: float, paper: str, is_drawn: Drawn) -> Tiling:
    """The sheets for a drawing of this size, upright or across, whichever takes fewer.

    `is_drawn(left, top, right, foot)` says whether anything lies in that part of the drawing.
    Neighbouring frames share a strip OVERLAP_MM wide. Raises ValueError for a paper not in PAPERS,
    a size that is not more than nothing, or more than MOST_SHEETS sheets.
    """
    if paper not in PAPERS:
        raise ValueError(f"Sheets are {', '.join(PAPERS)}.")
    if min(finite(wide_mm, "width"), finite(tall_mm, "height")) <= 0:
        raise ValueError("A drawing is wider and taller than nothing.")
    found = [_laid(wide_mm, tall_mm, PAPERS[paper], across) for across in (False, True)]
    fewest = min(each.rows * each.columns for each in found)
    if fewest > 4 * MOST_SHEETS:
        raise ValueError(_too_many(fewest))
    drawn = [_without_blanks(each, is_drawn) for each in found]
    best = min(drawn, key=lambda each: len(each.tiles))
    if len(best.tiles) > MOST_SHEETS:
        raise ValueError(_too_many(len(best.tiles)))
    return best


def row_letters(row: int) -> str:
    """A to Z, then AA, AB and so on."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _too_many(sheets: int) -> str:
    return (
        f"That would take {sheets:,} sheets, and {MOST_SHEETS} are made at most: take larger "
        "paper, or have the DXF file plotted."
    )


def _laid(wide_mm: float, tall_mm: float, paper: Paper, across: bool) -> Tiling:
    blank = Tiling(paper, across, 0, 0, ())
    step_x, step_y = blank.frame_wide_mm - OVERLAP_MM, blank.frame_tall_mm - OVERLAP_MM
    columns = max(1, math.ceil((wide_mm - OVERLAP_MM) / step_x))
    rows = max(1, math.ceil((tall_mm - OVERLAP_MM) / step_y))
    # The drawing lies in the middle of all the sheets together.
    left = (wide_mm - OVERLAP_MM - columns * step_x) / 2
    top = (tall_mm - OVERLAP_MM - rows * step_y) / 2
    if columns * rows > 4 * MOST_SHEETS:
        return Tiling(paper, across, rows, columns, ())
    tiles = tuple(
        Tile(row, column, left + column * step_x, top + row * step_y)
        for row in range(rows)
        for column in range(columns)
    )
    return Tiling(paper, across, rows, columns, tiles)


def _without_blanks(laid: Tiling, is_drawn: Drawn) -> Tiling:
    wide, tall = laid.frame_wide_mm, laid.frame_tall_mm
    kept = tuple(
        tile
        for tile in laid.tiles
        if is_drawn(tile.left_mm, tile.top_mm, tile.left_mm + wide, tile.top_mm + tall)
    )
    return Tiling(laid.paper, laid.is_across, laid.rows, laid.columns, kept)
