"""The full-size paper pattern: a first page that says how to join it, then sheet by sheet.

The drawing is put into the file once and laid on every sheet, moved by exactly where that sheet
lies: a line goes on from sheet to sheet because it is the same line.
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab import rl_config
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from restoration.calc.tiles import FOOT_MM, MARGIN_MM, OVERLAP_MM, Tile, Tiling
from restoration.reports.pdf.letters import register_fonts
from restoration.reports.pdf.parts import text
from restoration.reports.pdf.tile_marks import (
    BAR_LOW_MM,
    draw_bars,
    draw_corner_letters,
    draw_frame,
    draw_label,
    draw_seams,
)
from restoration.reports.pdf.type import INK, THIN
from restoration.reports.pdf.vectors import Drawing

# The numbers in the file are then plain text, as in the other papers.
rl_config.useA85 = 0
FORM = "pattern"


@dataclass(frozen=True)
class PaperPattern:
    """`svg` is the drawing at full size, `wide_mm` by `tall_mm`; `index_svg` the small one with
    the sheets over it. `facts` are label and value; `advice` sentences on how to print and join."""

    title: str
    author: str
    svg: str
    wide_mm: float
    tall_mm: float
    index_svg: str
    laid: Tiling
    facts: Sequence[tuple[str, str]]
    advice: Sequence[str]


def draw_paper_pattern(pattern: PaperPattern) -> bytes:
    """The PDF. The same pattern gives the same bytes."""
    register_fonts()
    file = io.BytesIO()
    wide, tall = pattern.laid.sheet_mm
    canvas = Canvas(file, pagesize=(wide * mm, tall * mm), invariant=1, lang="en-GB")
    canvas.setTitle(pattern.title)
    canvas.setAuthor(pattern.author)
    canvas.setSubject("Full-size paper pattern")
    canvas.setCreator("Hull & Log")
    # Programs that read this do not fit the page to the printer unasked.
    canvas.setViewerPreference("PrintScaling", "None")
    _put_in(canvas, pattern)
    _first_page(canvas, pattern)
    for tile in pattern.laid.tiles:
        _sheet(canvas, pattern, tile)
    canvas.save()
    return file.getvalue()


def _put_in(canvas: Canvas, pattern: PaperPattern) -> None:
    """The drawing, once, with its lower left corner at nought."""
    canvas.beginForm(FORM, 0, 0, pattern.wide_mm * mm, pattern.tall_mm * mm)
    drawn = Drawing(pattern.svg, pattern.wide_mm * mm, pattern.tall_mm * mm * 1.001)
    drawn.drawOn(canvas, 0, 0)
    canvas.endForm()


def _sheet(canvas: Canvas, pattern: PaperPattern, tile: Tile) -> None:
    laid = pattern.laid
    wide, tall = laid.frame_wide_mm * mm, laid.frame_tall_mm * mm
    canvas.bookmarkPage(tile.label)
    canvas.addOutlineEntry(f"Sheet {tile.label}", tile.label)
    canvas.saveState()
    window = canvas.beginPath()
    window.rect(MARGIN_MM * mm, FOOT_MM * mm, wide, tall)
    canvas.clipPath(window, stroke=0, fill=0)
    # The form's zero is the drawing's lower left corner, the tile's the frame's top left.
    canvas.translate(
        (MARGIN_MM - tile.left_mm) * mm,
        (FOOT_MM + laid.frame_tall_mm + tile.top_mm - pattern.tall_mm) * mm,
    )
    canvas.doForm(FORM)
    canvas.restoreState()
    draw_frame(canvas, laid)
    draw_seams(canvas, laid, tile)
    draw_corner_letters(canvas, laid, tile)
    draw_bars(canvas, MARGIN_MM, BAR_LOW_MM)
    draw_label(canvas, laid, tile, pattern.title)
    canvas.showPage()


def _first_page(canvas: Canvas, pattern: PaperPattern) -> None:
    wide, tall = (side * mm for side in pattern.laid.sheet_mm)
    left, room = MARGIN_MM * mm + 4, wide - 2 * MARGIN_MM * mm - 8
    canvas.bookmarkPage("first")
    canvas.addOutlineEntry("How to join it", "first")
    at = tall - MARGIN_MM * mm - 4
    at = _write(canvas, [(pattern.title, "title")], left, at, room)
    facts = " · ".join(f"{label}: {value}" for label, value in pattern.facts)
    at = _write(canvas, [(facts, "small")], left, at, room)
    at = _write(canvas, [(said, "body") for said in pattern.advice], left, at - 4, room)
    low = FOOT_MM * mm + 6
    drawing = Drawing(pattern.index_svg, room, max(at - low - 6, 40.0))
    drawing.drawOn(canvas, left, at - drawing.height - 6)
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(THIN)
    canvas.line(left, low - 4, left + room, low - 4)
    draw_bars(canvas, MARGIN_MM + 1.5, BAR_LOW_MM)
    canvas.showPage()


def _write(canvas: Canvas, said: Sequence[tuple[str, str]], left: float, at: float, room: float):
    """Paragraphs below one another from `at` down; where the next would begin."""
    for words, named in said:
        paragraph = text(words, named)
        _, high = paragraph.wrap(room, at)
        paragraph.drawOn(canvas, left, at - high)
        at -= high + paragraph.style.spaceAfter
    return at


def how_to_join(laid: Tiling) -> list[str]:
    """The advice of the first page; common practice of pasting sheets, and this paper's marks."""
    frame = f"{laid.frame_wide_mm:.1f} × {laid.frame_tall_mm:.1f} mm"
    seams = (
        [
            "Cut every sheet along the dashed lines at its left and its upper edge, lay it over "
            "the sheet beside or above it so that the crosses on the dotted line meet, and paste. "
            f"Neighbours share a strip {OVERLAP_MM:g} mm wide. Sheets on which nothing would lie "
            "are left out."
        ]
        if len(laid.tiles) > 1
        else []
    )
    return [
        "Print at 100 %, “actual size”; not fitted to the page. Then lay a rule to the bars at "
        "the foot, on this sheet and on the last: 100 mm, and 4 in. Measure the frame of a sheet "
        f"too, {frame}, for a printer may be out along the paper and right across it. If they "
        "are out, do not cut wood by it.",
        *seams,
        "Paper moves with the damp: paste it up on one day, and check the length over all before "
        "it is used.",
    ]
