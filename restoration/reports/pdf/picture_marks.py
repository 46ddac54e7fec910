"""Marks drawn over a photograph on paper, in the same places as on screen."""

from collections.abc import Sequence

from reportlab.lib.colors import white

from restoration.calc.picture_marks import PictureMark, Strokes, strokes
from restoration.reports.pdf.letters import printable
from restoration.reports.pdf.type import ACCENT, BOLD

LETTERS = 7.5
HALO, STROKE = 2.6, 1.2


def draw_marks(canvas, marks: Sequence[PictureMark], width: float, height: float) -> None:
    """Over a picture that fills (0, 0) to (width, height) in points; clipped to it."""
    if not marks:
        return
    canvas.saveState()
    edge = canvas.beginPath()
    edge.rect(0, 0, width, height)
    canvas.clipPath(edge, stroke=0)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    for mark in marks:
        said = strokes(mark, width, height)
        for colour, line in ((white, HALO), (ACCENT, STROKE)):
            canvas.setStrokeColor(colour)
            canvas.setLineWidth(line)
            _draw_lines(canvas, said, height)
        _draw_words(canvas, said, width, height)
    canvas.restoreState()


def _draw_lines(canvas, said: Strokes, height: float) -> None:
    """The strokes run downwards from the top, paper upwards from the foot."""
    path = canvas.beginPath()
    for first, *rest in said.lines:
        path.moveTo(first[0], height - first[1])
        for x, y in rest:
            path.lineTo(x, height - y)
    if said.circle:
        x, y, radius = said.circle
        path.circle(x, height - y, radius)
    canvas.drawPath(path, stroke=1, fill=0)


def _draw_words(canvas, said: Strokes, width: float, height: float) -> None:
    """On a white patch, kept within the picture."""
    if not said.text_at or not said.text:
        return
    words = printable(said.text)
    wide = canvas.stringWidth(words, BOLD, LETTERS) + 4
    left = max(0.0, min(said.text_at[0], width - wide))
    low = max(0.0, min(height - said.text_at[1], height - LETTERS - 3))
    canvas.setFillColor(white)
    canvas.rect(left, low - 1.5, wide, LETTERS + 3, stroke=0, fill=1)
    canvas.setFillColor(ACCENT)
    canvas.setFont(BOLD, LETTERS)
    canvas.drawString(left + 2, low + 1, words)
