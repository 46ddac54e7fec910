"""A pattern's drawing as SVG. Everything it looks like stands in it, so that paper shows it too."""

from collections.abc import Iterable
from html import escape

from restoration.calc.pattern import Point
from restoration.drawings.hull.paper import Area, Words
from restoration.drawings.pattern.shapes import LOOKS, WORD_TONES, Circle, Drawing, Look, Shape


def svg(drawing: Drawing) -> str:
    inside = "".join(_shape(each) for each in drawing.shapes)
    return (
        f'<svg class="pattern-drawing" viewBox="0 0 {drawing.width:.3f} {drawing.height:.3f}" '
        f'role="img" aria-label="{escape(drawing.says)}" xmlns="http://www.w3.org/2000/svg">'
        f"{inside}</svg>"
    )


def svg_file(drawing: Drawing) -> str:
    """A file of its own, at its true size when it is printed or plotted."""
    sized = f'<svg width="{drawing.width:.3f}mm" height="{drawing.height:.3f}mm" '
    return svg(drawing).replace("<svg ", sized, 1)


def _shape(shape: Shape) -> str:
    if isinstance(shape, Words):
        return _words(shape)
    look = _look(LOOKS[shape.tone])
    if isinstance(shape, Circle):
        at = f'cx="{shape.x:.3f}" cy="{shape.y:.3f}" r="{shape.radius:.3f}"'
        return f"<circle {at} {look}/>"
    close = "z" if isinstance(shape, Area) else ""
    return f'<path d="{_path(shape.points)}{close}" {look}/>'


def _look(look: Look) -> str:
    dash = f' stroke-dasharray="{look.dash}"' if look.dash else ""
    return f'fill="{look.fill}" stroke="{look.stroke}" stroke-width="{look.width:g}"{dash}'


def _words(words: Words) -> str:
    at = f"{words.x:.3f} {words.y:.3f}"
    turned = f' transform="rotate({words.angle:.3f} {at})"' if words.angle else ""
    bold = ' font-weight="700"' if words.tone == "bold" else ""
    return (
        f'<text x="{words.x:.3f}" y="{words.y:.3f}" font-size="{words.size:g}" '
        f'text-anchor="{words.anchor}" fill="{WORD_TONES[words.tone]}"{bold}{turned}>'
        f"{escape(words.text)}</text>"
    )


def _path(points: Iterable[Point]) -> str:
    return "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in points)
