"""Our own SVG drawings on paper, as vectors: the drawing code of the screen is the only one.

It reads what our drawings are made of and no more. An element it does not know raises ValueError,
so that nothing is left off a paper in silence. Classes take their look from the `looks` given,
for a style sheet of the screen is not read here.
"""

import math
import re
from collections.abc import Mapping
from xml.etree import ElementTree

from reportlab.lib.colors import Color, HexColor
from reportlab.platypus import Flowable

from restoration.reports.pdf.letters import printable
from restoration.reports.pdf.svg_path import (
    Matrix,
    ellipse,
    matrix_of,
    path_steps,
    points_of,
    rectangle,
    scale_of,
    then,
    unit_steps,
)
from restoration.reports.pdf.type import BOLD, INK, REGULAR

PIXEL = 0.75  # of a point: what a line that keeps its width is measured in on a screen
SILENT = {"title", "desc", "defs", "style"}
INHERITED = {
    "fill", "stroke", "stroke-width", "stroke-dasharray", "fill-opacity", "stroke-opacity",
    "font-size", "font-weight", "text-anchor", "vector-effect", "opacity",
}  # fmt: skip
Looks = Mapping[str, Mapping[str, str]]


class SvgFigure(Flowable):
    """A drawing as wide as `width` points, or less where it would be taller than `tallest`."""

    def __init__(self, svg: str, width: float, tallest: float, looks: Looks | None = None):
        super().__init__()
        self.root = ElementTree.fromstring(svg)
        left, top, wide, tall = (float(n) for n in self.root.get("viewBox", "").split())
        self.scale = min(width / wide, tallest / tall)
        self.width, self.height = wide * self.scale, tall * self.scale
        self.start = then(
            (1, 0, 0, 1, -left, -top), (self.scale, 0, 0, -self.scale, 0, self.height)
        )
        self.looks = looks or {}
        self.named = {e.get("id"): e for e in self.root.iter() if e.get("id")}

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        self.canv.saveState()
        _Pen(self).draw_inside(self.root, {}, self.start)
        self.canv.restoreState()


class _Pen:
    def __init__(self, figure: SvgFigure):
        self.canvas, self.looks, self.named = figure.canv, figure.looks, figure.named

    def draw_inside(self, parent, look: dict[str, str], matrix: Matrix) -> None:
        look = look | self._own_look(parent)
        for child in parent:
            self._draw(child, look, matrix)

    def _own_look(self, thing) -> dict[str, str]:
        classed: dict[str, str] = {}
        for name in thing.get("class", "").split():
            classed |= self.looks.get(name, {})
        return {k: v for k, v in thing.attrib.items() if k in INHERITED} | classed

    def _draw(self, thing, look: dict[str, str], matrix: Matrix) -> None:
        kind = thing.tag.rpartition("}")[2]
        if kind in SILENT:
            return
        look = {k: v for k, v in look.items() if k != "opacity"} | self._own_look(thing)
        matrix = then(matrix_of(thing.get("transform", "")), matrix)
        if kind in ("g", "a", "svg"):
            self._group(thing, look, matrix)
        elif kind == "text":
            self._text(thing, look, matrix)
        else:
            self._shape(steps_of(thing, kind), look, matrix)

    def _group(self, thing, look, matrix: Matrix) -> None:
        if clip := re.fullmatch(r"url\(#(.+)\)", thing.get("clip-path", "")):
            self.canvas.saveState()
            for shape in self.named[clip[1]]:
                own = then(matrix_of(shape.get("transform", "")), matrix)
                steps = steps_of(shape, shape.tag.rpartition("}")[2])
                self.canvas.clipPath(self._path(steps, own), stroke=0, fill=0)
        self.draw_inside(thing, look, matrix)
        if clip:
            self.canvas.restoreState()

    def _path(self, steps, matrix: Matrix):
        path = self.canvas.beginPath()
        for letter, *points in unit_steps(steps, matrix):
            if letter == "Z":
                path.close()
            else:
                flat = [n for point in points for n in point]
                {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo}[letter](*flat)
        return path

    def _shape(self, steps, look, matrix: Matrix) -> None:
        fill, stroke = colour(look.get("fill", "#000")), colour(look.get("stroke", "none"))
        if not steps or not (fill or stroke):
            return
        canvas, over = self.canvas, float(look.get("opacity", 1))
        canvas.saveState()
        if fill:
            canvas.setFillColor(fill)
            canvas.setFillAlpha(over * float(look.get("fill-opacity", 1)))
        if stroke:
            self._set_line(stroke, look, matrix)
            canvas.setStrokeAlpha(over * float(look.get("stroke-opacity", 1)))
        canvas.drawPath(self._path(steps, matrix), fill=bool(fill), stroke=bool(stroke))
        canvas.restoreState()

    def _set_line(self, stroke: Color, look, matrix: Matrix) -> None:
        by = PIXEL if look.get("vector-effect") == "non-scaling-stroke" else scale_of(matrix)
        self.canvas.setStrokeColor(stroke)
        self.canvas.setLineWidth(max(float(look.get("stroke-width", 1)) * by, 0.2))
        dashes = [float(n) * by for n in re.findall(r"[\d.]+", look.get("stroke-dasharray", ""))]
        self.canvas.setDash(dashes)

    def _text(self, thing, look, matrix: Matrix) -> None:
        words = printable("".join(thing.itertext()))
        size = float(look.get("font-size", 12).removesuffix("px")) * scale_of(matrix)
        face = BOLD if look.get("font-weight") in ("600", "700", "bold") else REGULAR
        fill = colour(look.get("fill", "currentColor"))
        if not words or not fill:
            return
        placed = (1, 0, 0, 1, float(thing.get("x", 0)), float(thing.get("y", 0)))
        along_x, along_y, _, _, left, low = then(placed, matrix)
        canvas = self.canvas
        canvas.saveState()
        canvas.translate(left, low)
        canvas.rotate(math.degrees(math.atan2(along_y, along_x)))
        canvas.setFillColor(fill)
        canvas.setFont(face, size)
        draw = {
            "middle": canvas.drawCentredString, "end": canvas.drawRightString,
        }.get(look.get("text-anchor", "start"), canvas.drawString)  # fmt: skip
        draw(0, 0, words)
        canvas.restoreState()


def steps_of(thing, kind: str):
    """The outline of a shape as steps: (letter, point, ...)."""

    def of(name: str) -> float:
        return float(thing.get(name, 0))

    if kind == "path":
        return path_steps(thing.get("d", ""))
    if kind in ("polygon", "polyline"):
        points = points_of(thing.get("points", ""))
        steps = [("M" if n == 0 else "L", point) for n, point in enumerate(points)]
        return [*steps, ("Z",)] if kind == "polygon" and steps else steps
    if kind == "line":
        return [("M", (of("x1"), of("y1"))), ("L", (of("x2"), of("y2")))]
    if kind == "rect":
        return rectangle(of("x"), of("y"), of("width"), of("height"), of("rx"))
    if kind == "circle":
        return ellipse(of("cx"), of("cy"), of("r"), of("r"))
    if kind == "ellipse":
        return ellipse(of("cx"), of("cy"), of("rx"), of("ry"))
    raise ValueError(f"A drawing holds <{kind}>, which is not known on paper.")


def colour(said: str) -> Color | None:
    if said == "none":
        return None
    if said == "currentColor":
        return INK
    if short := re.fullmatch("#(.)(.)(.)", said):
        return HexColor("#" + "".join(2 * letter for letter in short.groups()))
    return HexColor(said)
