"""What stands on every sheet of a full-size drawing: frame, cut lines, register marks, bars.

The marks lie at places of the drawing that two sheets share, so that they meet when it is joined.
"""

from reportlab.lib.units import mm

from restoration.calc.tiles import FOOT_MM, MARGIN_MM, OVERLAP_MM, Tile, Tiling
from restoration.reports.pdf.letters import printable
from restoration.reports.pdf.type import ACCENT, BOLD, HAIR, INK, LINE, REGULAR, SOFT, THIN
from timber_stock.measure import mm_from_inches

CROSS_MM = 4.0
BAR_MM, BAR_INCHES = 100.0, 4.0
BAR_LOW_MM = 9.0


def draw_frame(canvas, laid: Tiling) -> None:
    canvas.setStrokeColor(LINE)
    canvas.setLineWidth(HAIR)
    wide, tall = laid.frame_wide_mm * mm, laid.frame_tall_mm * mm
    canvas.rect(MARGIN_MM * mm, FOOT_MM * mm, wide, tall)


def draw_seams(canvas, laid: Tiling, tile: Tile) -> None:
    """Along each edge that a neighbour shares: where to cut or lay, and two crosses."""
    for row, column, is_cut in (
        (tile.row, tile.column - 1, True),
        (tile.row - 1, tile.column, True),
        (tile.row, tile.column + 1, False),
        (tile.row + 1, tile.column, False),
    ):
        if laid.has(row, column):
            _seam(canvas, laid, (column - tile.column, row - tile.row), is_cut)


def _seam(canvas, laid: Tiling, way: tuple[int, int], is_cut: bool) -> None:
    """The middle of the strip shared with the neighbour that lies this way."""
    wide, tall = laid.frame_wide_mm, laid.frame_tall_mm
    half = OVERLAP_MM / 2
    if way[0]:
        x = half if way[0] < 0 else wide - half
        ends, crosses = ((x, 0.0), (x, tall)), [(x, tall * share) for share in (0.25, 0.75)]
    else:
        y = half if way[1] < 0 else tall - half
        ends, crosses = ((0.0, y), (wide, y)), [(wide * share, y) for share in (0.25, 0.75)]
    canvas.saveState()
    canvas.setStrokeColor(ACCENT)
    canvas.setLineWidth(HAIR)
    canvas.setDash([6, 3] if is_cut else [0.5, 3])
    _line(canvas, laid, *ends)
    canvas.setDash([])
    for x, y in crosses:
        _line(canvas, laid, (x - CROSS_MM, y), (x + CROSS_MM, y))
        _line(canvas, laid, (x, y - CROSS_MM), (x, y + CROSS_MM))
    canvas.restoreState()


def _line(canvas, laid: Tiling, start: tuple[float, float], end: tuple[float, float]) -> None:
    """From and to places in the frame, mm from its top left corner."""
    (x, y), (u, v) = (
        ((MARGIN_MM + x) * mm, (FOOT_MM + laid.frame_tall_mm - y) * mm) for x, y in (start, end)
    )
    canvas.line(x, y, u, v)


def draw_bars(canvas, left_mm: float, low_mm: float) -> None:
    """Two bars to lay a rule to: 100 mm, and 4 in above it."""
    for low, long_mm, parts, words in (
        (low_mm, BAR_MM, 10, "100 mm"),
        (low_mm + 6, mm_from_inches(BAR_INCHES), 4, "4 in"),
    ):
        _bar(canvas, left_mm, low, long_mm, parts)
        canvas.setFont(REGULAR, 6.5)
        canvas.setFillColor(INK)
        canvas.drawString((left_mm + long_mm + 1.5) * mm, (low + 0.3) * mm, words)


def _bar(canvas, left_mm: float, low_mm: float, long_mm: float, parts: int) -> None:
    """Black and white in turn; its ends are the outer edges of two upright strokes."""
    canvas.setFillColor(INK)
    step = long_mm / parts
    for part in range(0, parts, 2):
        canvas.rect((left_mm + part * step) * mm, (low_mm + 0.6) * mm, step * mm, 1.2 * mm, 0, 1)
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(HAIR)
    canvas.rect(left_mm * mm, (low_mm + 0.6) * mm, long_mm * mm, 1.2 * mm, stroke=1, fill=0)
    for x in (left_mm, left_mm + long_mm):
        canvas.line(x * mm, low_mm * mm, x * mm, (low_mm + 2.4) * mm)


def draw_label(canvas, laid: Tiling, tile: Tile, name: str) -> None:
    """Row and column large, and what the sheet is of, at the right of the foot."""
    right = laid.sheet_mm[0] - MARGIN_MM
    canvas.setFillColor(INK)
    canvas.setFont(BOLD, 17)
    canvas.drawRightString(right * mm, (BAR_LOW_MM + 5.5) * mm, tile.label)
    canvas.setFillColor(SOFT)
    for words, low in ((name, 2.6), (_neighbours(laid, tile), -0.6)):
        canvas.setFont(REGULAR, 6.5)
        room = (right - MARGIN_MM - mm_from_inches(BAR_INCHES) - 16) * mm
        canvas.drawRightString(right * mm, (BAR_LOW_MM + low) * mm, _shortened(canvas, words, room))


def _neighbours(laid: Tiling, tile: Tile) -> str:
    if len(laid.tiles) == 1:
        return "The only sheet"
    return f"One of {len(laid.tiles)} sheets; see the first page"


def _shortened(canvas, words: str, room: float) -> str:
    said = printable(words)
    while canvas.stringWidth(said, REGULAR, 6.5) > room and len(said) > 2:
        said = f"{said[:-2].rstrip()}…"
    return said


def draw_corner_letters(canvas, laid: Tiling, tile: Tile) -> None:
    """The sheet's name again, faint, inside its frame: after cutting, the foot is gone."""
    canvas.setFillColor(LINE)
    canvas.setFont(BOLD, 9)
    x, y = MARGIN_MM + OVERLAP_MM + 2, FOOT_MM + laid.frame_tall_mm - OVERLAP_MM - 5
    canvas.drawString(x * mm, y * mm, tile.label)
    canvas.setLineWidth(THIN)
