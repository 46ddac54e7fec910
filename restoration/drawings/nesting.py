"""Pieces laid out on the face of a board: one drawing for the screen and for paper, to a scale.

Plain shapes in paper millimetres, the butt end at the left, left of the chalk line above. Only
presentation attributes are used, so that the same drawing goes into a PDF.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place, covered
from restoration.calc.nesting_set_out import Marked, set_out
from restoration.calc.nesting_sheet import DEFECT_KINDS, Sheet, face_polygon, heartwood, usable
from restoration.drawings.nesting_labels import Label, Point, labels_of, line_in
from timber_stock.measure import MM_PER_INCH

INK, SOFT, ACCENT, WASH = "#1b242c", "#4a555f", "#93391a", "#eef1ea"
SAP, OFF = "#f1e6c9", "#dcdcd3"
EDGE_MM, RULER_MM = 5.0, 9.0
GRAIN_MM = (10.0, 7.0, 4.0)
LETTER_OFF_MM = 2.0
SCALES = (1, 2, 5, 10, 20, 25, 50, 100, 200)
SCREEN_MM = (230.0, 100.0)
FOOT_MM = 12 * MM_PER_INCH


@dataclass(frozen=True)
class Drawn:
    """A piece with where it lies; `name` picks it out in the page, `note` is said of it."""

    piece: Piece
    place: Place
    name: str = ""
    mark: str = ""
    note: str = ""

    @property
    def words(self) -> str:
        return self.mark or self.piece.label


@dataclass(frozen=True)
class Drawing:
    svg: str
    scale: int
    width_mm: float
    height_mm: float


def layout_drawing(
    sheet: Sheet,
    laid: Sequence[Drawn],
    says: str,
    *,
    room_mm: tuple[float, float] = SCREEN_MM,
    marks: bool = False,
    units: str = "metric",
) -> Drawing:
    """The face with its pieces at the largest round scale that fits the room (width, height).

    `marks` adds the corners A and B by which each piece is set out; the ruler is in `units`.
    """
    _, low, right, high = face_polygon(sheet).bounds
    scale = _scale(right, high - low, room_mm)
    frame = _Frame(scale, high)
    width = right / scale + 2 * EDGE_MM
    height = (high - low) / scale + 2 * EDGE_MM + RULER_MM
    body = [*_face(sheet, frame), *_ruler(sheet, frame, height, units), _chalk_line(sheet, frame)]
    corners = [set_out(drawn.piece, drawn.place) for drawn in laid] if marks else []
    named = [(frame.shape(covered(each.piece, each.place)), each.words) for each in laid]
    patches = [(shape, str(n)) for n, shape in _patches(sheet, frame)]
    letters = [shapely.Point(frame.at(*at)).buffer(3.2) for m in corners for at in (m.a_mm, m.b_mm)]
    room = shapely.box(1, 1, width - 1, height - EDGE_MM - RULER_MM + 3.5)
    labels = labels_of([*named, *patches], shapely.union_all(letters), room)
    body += [_piece(drawn, label, frame) for drawn, label in zip(laid, labels, strict=False)]
    # Over all pieces, so that none is covered.
    body += [_label(drawn, label) for drawn, label in zip(laid, labels, strict=False)]
    body += [
        _number(words, label)
        for (_, words), label in zip(patches, labels[len(laid) :], strict=True)
    ]
    body += [_corners(m, shape, frame) for m, (shape, _) in zip(corners, named, strict=False)]
    svg = (
        f'<svg class="layout-drawing" viewBox="0 0 {width:.2f} {height:.2f}" role="group" '
        f'aria-label="{escape(says)}" xmlns="http://www.w3.org/2000/svg" data-scale="{scale}">'
        f"{''.join(body)}</svg>"
    )
    return Drawing(svg, scale, width, height)


@dataclass(frozen=True)
class _Frame:
    """From the face to the paper."""

    scale: int
    high_mm: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        return EDGE_MM + x / self.scale, EDGE_MM + (self.high_mm - y) / self.scale

    def shape(self, shape: shapely.Polygon) -> shapely.Polygon:
        """As it lies on the paper, its holes with it."""
        return affinity.affine_transform(
            shape,
            (1 / self.scale, 0, 0, -1 / self.scale, EDGE_MM, EDGE_MM + self.high_mm / self.scale),
        )

    def path(self, shape: BaseGeometry) -> str:
        """The rings of a shape; a hole is wound against its shell and stays empty."""
        rings = [
            ring
            for part in shapely.get_parts(shapely.orient_polygons(shape))
            if isinstance(part, shapely.Polygon)
            for ring in (part.exterior, *part.interiors)
        ]
        return "".join(f"M{self._through(ring.coords[:-1])}z" for ring in rings)

    def _through(self, points: Iterable[tuple[float, float]]) -> str:
        places = (self.at(x, y) for x, y in points)
        return "L".join(f"{x:.2f} {y:.2f}" for x, y in places)


def _scale(long_mm: float, wide_mm: float, room_mm: tuple[float, float]) -> int:
    for scale in SCALES:
        width = long_mm / scale + 2 * EDGE_MM
        if width <= room_mm[0] and wide_mm / scale + 2 * EDGE_MM + RULER_MM <= room_mm[1]:
            return scale
    return SCALES[-1]


def _face(sheet: Sheet, frame: _Frame) -> Iterable[str]:
    """Cut off, sapwood and clear wood in three tones; each defect crossed by its outline."""
    face = face_polygon(sheet)
    clear = usable(sheet, sapwood=True)
    yield _area(frame.path(face), OFF)
    yield _area(frame.path(clear), SAP)
    yield _area(frame.path(clear.intersection(heartwood(sheet))), "#ffffff")
    for number, defect in enumerate(sheet.defects, 1):
        shape = shapely.Polygon(defect.points_mm).intersection(face)
        title = f"<title>Defect {number}: {DEFECT_KINDS[defect.kind]}</title>"
        yield f"<g>{title}{_area(frame.path(shape), SOFT, '#ffffff', 0.2)}</g>"
    yield _area(frame.path(face), "none", INK, 0.5)


def _patches(sheet: Sheet, frame: _Frame) -> Iterable[tuple[int, shapely.Polygon]]:
    """What is seen of each defect on the paper: on the face, and not under a later one."""
    left = face_polygon(sheet)
    for number, defect in reversed(list(enumerate(sheet.defects, 1))):
        shape = shapely.Polygon(defect.points_mm)
        seen = max(shapely.get_parts(left.intersection(shape)), key=shapely.area, default=None)
        if isinstance(seen, shapely.Polygon) and not seen.is_empty:
            yield number, frame.shape(seen)
        left = left.difference(shape)


def _number(words: str, label: Label) -> str:
    """Of a defect: light on its patch, or dark beside one too small for it."""
    x, y = label.baseline()
    ink = SOFT if label.leader else "#ffffff"
    return _line(label.leader, SOFT) + _words(x, y, words, ink, label.size, label.angle_deg)


def _area(path: str, fill: str, stroke: str = "none", width: float = 0.2) -> str:
    return (
        f'<path d="{path}" fill="{fill}" stroke="{stroke}" stroke-width="{width}"/>' if path else ""
    )


def _chalk_line(sheet: Sheet, frame: _Frame) -> str:
    (x0, y0), (x1, y1) = frame.at(0, 0), frame.at(sheet.length_mm, 0)
    return (
        f'<path d="M{x0 - 3:.2f} {y0:.2f}L{x1 + 3:.2f} {y1:.2f}" fill="none" stroke="{SOFT}" '
        f'stroke-width="0.2" stroke-dasharray="7 1.2 1 1.2"/>'
    )


def _ruler(sheet: Sheet, frame: _Frame, height: float, units: str) -> Iterable[str]:
    """Metres or feet from the butt, so that the paper can be held against a rule."""
    at = height - EDGE_MM - RULER_MM + 4.5
    end = frame.at(sheet.length_mm, 0)[0]
    ticks = []
    step_mm, steps, each, sign = _graduations(units, frame.scale)
    for n in range(int(sheet.length_mm // step_mm) + 1):
        whole = n % steps == 0
        x = frame.at(n * step_mm, 0)[0]
        ticks.append(f"M{x:.2f} {at:.2f}L{x:.2f} {at + (2.4 if whole else 1.2):.2f}")
        if whole:
            yield _words(x, at + 5.4, f"{n // steps * each} {sign}", SOFT, 2.4)
    line = f"M{EDGE_MM:.2f} {at:.2f}L{end:.2f} {at:.2f}"
    yield (f'<path d="{line}{"".join(ticks)}" fill="none" stroke="{SOFT}" stroke-width="0.18"/>')


def _graduations(units: str, scale: int) -> tuple[float, int, int, str]:
    """Between two ticks, ticks to a figure, what each figure counts on by, and its unit."""
    fine = scale <= 25
    if units == "metric":
        return (100.0, 10, 1, "m") if fine else (500.0, 2, 1, "m")
    return (FOOT_MM / 4, 4, 1, "ft") if fine else (FOOT_MM, 5, 5, "ft")


def _piece(drawn: Drawn, label: Label, frame: _Frame) -> str:
    shape = covered(drawn.piece, drawn.place)
    name = f' data-piece="{escape(drawn.name)}"' if drawn.name else ""
    where = f' data-x="{drawn.place.x_mm:.4f}" data-y="{drawn.place.y_mm:.4f}"' if name else ""
    title = f"<title>{escape(drawn.note or drawn.piece.label)}</title>"
    return (
        f'<g class="laid"{name}{where}>{title}{_area(frame.path(shape), WASH, INK, 0.35)}'
        f"{_grain(drawn, label, frame.shape(shape))}</g>"
    )


def _label(drawn: Drawn, label: Label) -> str:
    name = f' data-label="{escape(drawn.name)}"' if drawn.name else ""
    x, y = label.baseline()
    mark = _words(x, y, drawn.words, INK, label.size, label.angle_deg)
    return f'<g class="label"{name}>{_line(label.leader, INK)}{mark}</g>'


def _grain(drawn: Drawn, label: Label, shape: shapely.Polygon) -> str:
    """A short line along the piece's own grain, where there is room for it beside its name."""
    # The paper's y runs down, so that what turns left on the face turns the other way on it.
    return _line(line_in(shape, label, drawn.words, -drawn.place.angle_deg, GRAIN_MM), SOFT)


def _line(ends: tuple[Point, Point] | None, stroke: str) -> str:
    if ends is None:
        return ""
    (x0, y0), (x1, y1) = ends
    return (
        f'<path d="M{x0:.2f} {y0:.2f}L{x1:.2f} {y1:.2f}" fill="none" '
        f'stroke="{stroke}" stroke-width="0.15"/>'
    )


def _corners(marked: Marked, shape: shapely.Polygon, frame: _Frame) -> str:
    """A dot on each of the two corners, and its letter just inside the piece."""
    found = ""
    for letter, point in (("A", marked.a_mm), ("B", marked.b_mm)):
        x, y = frame.at(*point)
        inside = shape.intersection(shapely.Point(x, y).buffer(6)).centroid
        far = max(shapely.Point(x, y).distance(inside), 0.1) / LETTER_OFF_MM
        u, v = x + (inside.x - x) / far, y + (inside.y - y) / far
        found += f'<circle cx="{x:.2f}" cy="{y:.2f}" r="0.7" fill="{ACCENT}"/>'
        found += _words(u, v + 0.8, letter, ACCENT, 2.2)
    return found


def _words(x: float, y: float, text: str, fill: str, size: float, angle_deg: float = 0.0) -> str:
    turned = f' transform="rotate({angle_deg:.1f} {x:.2f} {y:.2f})"' if angle_deg else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.3g}" fill="{fill}" '
        f'text-anchor="middle"{turned}>{escape(text)}</text>'
    )
