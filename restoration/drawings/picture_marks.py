"""Marks laid over a photograph as a drawing of its own: the picture underneath is not touched."""

from collections.abc import Sequence
from html import escape

from restoration.calc.picture_marks import PictureMark, strokes

LETTER_WIDTH = 0.6
"""Of its height, near enough: the browser alone knows how wide the words come out."""


def picture_marks_svg(marks: Sequence[PictureMark], width: int, height: int) -> str:
    """The marks on a picture of so many pixels, "" where there are none."""
    if not marks:
        return ""
    said = "; ".join(f"{mark.kind} {mark.text}".strip() for mark in marks)
    drawn = "".join(_drawn(mark, width, height) for mark in marks)
    return (
        f'<svg class="marks" viewBox="0 0 {width} {height}" role="img" '
        f'aria-label="Marked: {escape(said)}">{drawn}</svg>'
    )


def _drawn(mark: PictureMark, width: int, height: int) -> str:
    """Each stroke twice, pale and wide under dark and thin, to be seen on any picture."""
    said = strokes(mark, width, height)
    size = max(width, height)
    shapes = [
        '<path d="M' + "L".join(f"{x:.1f} {y:.1f}" for x, y in line) + '"/>' for line in said.lines
    ]
    if said.circle:
        x, y, radius = said.circle
        shapes.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}"/>')
    body = "".join(shapes)
    parts = [
        f'<g class="halo" stroke-width="{0.011 * size:.1f}">{body}</g>',
        f'<g class="stroke" stroke-width="{0.005 * size:.1f}">{body}</g>',
    ]
    if said.text_at and said.text:
        parts.append(_words(said.text, *said.text_at, width, size))
    return "".join(parts)


def _words(text: str, x: float, y: float, width: int, size: int) -> str:
    """Moved to the left where they would run off the picture."""
    letters = 0.03 * size
    x = max(0.0, min(x, width - len(text) * letters * LETTER_WIDTH))
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{letters:.1f}" '
        f'stroke-width="{0.008 * size:.1f}">{escape(text)}</text>'
    )
