"""Our own drawings on paper: the SVG that the screen shows, written again as PDF vectors.

It reads what our drawing code writes and nothing else: groups, the plain shapes, paths of straight
strokes, text, one clip. Whatever else turns up is an error, never left out in silence. Lengths
of the drawing are scaled alike; strokes that keep their width on screen keep it on paper.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

from restoration.reports.pdf.letters import printable
from restoration.reports.pdf.type import BOLD, INK, REGULAR

POINTS_PER_PIXEL = 0.6
"""A stroke of one pixel on screen is so many points on paper: thin, and still seen."""
ANCHORS = {"start": "drawString", "middle": "drawCentredString", "end": "drawRightString"}
LOOK = {
    "fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linejoin", "stroke-linecap",
    "fill-opacity", "opacity", "vector-effect", "text-anchor", "font-size", "font-weight",
}  # fmt: skip
TELLS_NOTHING = {"class", "id", "role", "xmlns", "aria-label", "aria-hidden", "paint-order"}
NUMBERS = re.compile(r"-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?")
STEPS = re.compile(r"([MmLlHhVvZz])([^A-Za-z]*)")


@dataclass(frozen=True)
class Look:
    """How the next shape is drawn; a group hands its own on to what is in it."""

    said: tuple[tuple[str, str], ...] = ()

    def with_own(self, element: Element) -> "Look":
        own = {name: value for name, value in element.attrib.items() if name in LOOK}
        kept = dict(self.said) | own
        if "opacity" in own:  # one inside the other fade together
            kept["opacity"] = str(float(own["opacity"]) * float(dict(self.said).get("opacity", 1)))
        return replace(self, said=tuple(kept.items()))

    def get(self, name: str, otherwise: str) -> str:
        return dict(self.said).get(name, otherwise)


class Drawing(Flowable):
    """One of our SVG drawings, as large as `width` and `most_tall` (points) allow."""

    hAlign = "LEFT"

    def __init__(self, svg: str, width: float, most_tall: float = 700.0):
        super().__init__()
        self.root = ElementTree.fromstring(svg)
        self.left, self.top, wide, tall = _numbers(self.root.attrib["viewBox"])
        self.scale = min(width / wide, most_tall / tall)
        self.width, self.height = wide * self.scale, tall * self.scale
        self.clips = {e.attrib["id"]: e for e in self.root.iter() if _name(e) == "clipPath"}
        self.says = next((e.text or "" for e in self.root if _name(e) == "title"), "")

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        c = self.canv
        c.saveState()
        c.translate(0, self.height)
        c.scale(self.scale, -self.scale)
        c.translate(-self.left, -self.top)
        for child in self.root:
            self._draw(child, Look())
        c.restoreState()

    def _draw(self, element: Element, look: Look) -> None:
        name = _name(element)
        if name in ("title", "desc", "defs", "clipPath"):
            return
        _refuse_unknown(element)
        look = look.with_own(element)
        self.canv.saveState()
        self._clip(element.attrib.get("clip-path"))
        _turn(self.canv, element.attrib.get("transform", ""))
        if name in ("g", "a"):
            for child in element:
                self._draw(child, look)
        elif name == "text":
            self._write(element, look)
        else:
            self._shape(element, look)
        self.canv.restoreState()

    def _clip(self, named: str | None) -> None:
        if not named:
            return
        shape = next(iter(self.clips[named.removeprefix("url(#").removesuffix(")")]))
        angle = _turn(self.canv, shape.attrib.get("transform", ""))
        self.canv.clipPath(self._path(shape), stroke=0, fill=0)
        self.canv.rotate(-angle)

    def _shape(self, element: Element, look: Look) -> None:
        fill, stroke = _colour(look.get("fill", "#000")), _colour(look.get("stroke", "none"))
        c, opacity = self.canv, float(look.get("opacity", "1"))
        if fill is not None:
            c.setFillColor(fill, alpha=opacity * float(look.get("fill-opacity", "1")))
        if stroke is not None:
            c.setStrokeColor(stroke, alpha=opacity)
            self._set_stroke(look)
        c.drawPath(self._path(element), stroke=int(stroke is not None), fill=int(fill is not None))

    def _set_stroke(self, look: Look) -> None:
        each = 1.0
        if look.get("vector-effect", "") == "non-scaling-stroke":
            each = POINTS_PER_PIXEL / self.scale
        c = self.canv
        c.setLineWidth(float(look.get("stroke-width", "1")) * each)
        dashes = look.get("stroke-dasharray", "none")
        c.setDash([] if dashes == "none" else [n * each for n in _numbers(dashes)])
        c.setLineJoin({"round": 1, "bevel": 2}.get(look.get("stroke-linejoin", ""), 0))
        c.setLineCap({"round": 1, "square": 2}.get(look.get("stroke-linecap", ""), 0))

    def _path(self, element: Element):
        path, at = self.canv.beginPath(), _figures(element)
        name = _name(element)
        if name in ("circle", "ellipse"):
            rx, ry = (at["r"], at["r"]) if name == "circle" else (at["rx"], at["ry"])
            path.ellipse(at["cx"] - rx, at["cy"] - ry, 2 * rx, 2 * ry)
        elif name == "rect":
            box = at.get("x", 0.0), at.get("y", 0.0), at["width"], at["height"]
            if at.get("rx"):
                path.roundRect(*box, at["rx"])
            else:
                path.rect(*box)
        elif name == "line":
            path.moveTo(at["x1"], at["y1"])
            path.lineTo(at["x2"], at["y2"])
        elif name in ("polygon", "polyline"):
            _through(path, _numbers(element.attrib["points"]), closed=name == "polygon")
        elif name == "path":
            _follow(path, element.attrib["d"])
        else:
            raise ValueError(f"A drawing holds <{name}>, which papers do not draw yet.")
        return path

    def _write(self, element: Element, look: Look) -> None:
        at = _figures(element)
        c, fill = self.canv, _colour(look.get("fill", "#000"))
        c.setFillColor(fill or INK, alpha=float(look.get("opacity", "1")))
        bold = look.get("font-weight", "") in ("bold", "600", "700")
        c.setFont(BOLD if bold else REGULAR, float(look.get("font-size", "12").rstrip("px")))
        c.translate(at.get("x", 0.0), at.get("y", 0.0))
        c.scale(1, -1)
        said = printable("".join(element.itertext()))
        getattr(c, ANCHORS[look.get("text-anchor", "start")])(0, 0, said)


def _name(element: Element) -> str:
    return element.tag.rpartition("}")[2]


def _refuse_unknown(element: Element) -> None:
    known = LOOK | TELLS_NOTHING | SHAPES | {"transform", "clip-path", "href", "tabindex"}
    for name in element.attrib:
        if name not in known and not name.startswith("data-"):
            raise ValueError(f"A drawing has the attribute {name}, which papers do not draw yet.")


SHAPES = {
    *("x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "ry", "width", "height", "d"),
    "points",
}


def _figures(element: Element) -> dict[str, float]:
    return {
        name: float(value)
        for name, value in element.attrib.items()
        if name in SHAPES - {"d", "points"}
    }


def _numbers(words: str) -> list[float]:
    return [float(figure) for figure in NUMBERS.findall(words)]


def _colour(said: str):
    if said in ("none", "transparent"):
        return None
    if said == "currentColor":
        return INK
    if not said.startswith("#"):
        raise ValueError(f"A drawing has the colour {said}; papers know none and #rrggbb.")
    digits = said[1:]
    return HexColor("#" + ("".join(d * 2 for d in digits) if len(digits) == 3 else digits))


def _turn(canvas, said: str) -> float:
    """Moves and turns as the words have it; says by how many degrees it was turned."""
    turned = 0.0
    for kind, inside in re.findall(r"(\w+)\(([^)]*)\)", said):
        figures = _numbers(inside)
        if kind == "translate":
            canvas.translate(figures[0], figures[1] if len(figures) > 1 else 0.0)
        elif kind == "rotate":
            about = figures[1:] or (0.0, 0.0)
            canvas.translate(*about)
            canvas.rotate(figures[0])
            canvas.translate(-about[0], -about[1])
            turned += figures[0]
        else:
            raise ValueError(f"A drawing is moved by {kind}, which papers do not do yet.")
    return turned


def _through(path, figures: list[float], *, closed: bool) -> None:
    points = list(zip(figures[::2], figures[1::2], strict=True))
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if closed:
        path.close()


def _follow(path, steps: str) -> None:
    """A path of straight strokes, in absolute and relative steps."""
    left = STEPS.sub("", steps).strip()
    if left:
        raise ValueError(f"A drawing has a path with “{left[:20]}”, which papers do not draw yet.")
    x = y = x0 = y0 = 0.0
    for letter, moves_to, (x1, y1) in _points(steps):
        if letter in "Zz":
            path.close()
            x, y = x0, y0
            continue
        own = letter.islower()
        x, y = (x if x1 is None else x1 + own * x), (y if y1 is None else y1 + own * y)
        if moves_to:
            path.moveTo(x, y)
            x0, y0 = x, y
        else:
            path.lineTo(x, y)


def _points(steps: str) -> Iterator[tuple[str, bool, tuple[float | None, float | None]]]:
    """Each step's letter, whether it moves with the pen up, and where to; None keeps a figure."""
    for letter, inside in STEPS.findall(steps):
        figures = _numbers(inside)
        if letter in "Zz":
            yield letter, False, (None, None)
        elif letter in "Hh":
            yield from ((letter, False, (figure, None)) for figure in figures)
        elif letter in "Vv":
            yield from ((letter, False, (None, figure)) for figure in figures)
        else:
            pairs = zip(figures[::2], figures[1::2], strict=True)
            for n, pair in enumerate(pairs):
                yield letter, letter in "Mm" and n == 0, pair
