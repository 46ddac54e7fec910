"""Pieces laid out on the face of a board: one drawing for the screen and for paper, to a scale.

Plain shapes in paper millimetres, the butt end at the left, left of the chalk line above. Only
presentation attributes are used, so that the same drawing goes into a PDF.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

import shapely
from shapely.geometry.base import BaseGeometry

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place, covered
from restoration.calc.nesting_set_out import Marked, set_out
from restoration.calc.nesting_sheet import DEFECT_KINDS, Sheet, face_polygon, heartwood, usable
from timber_stock.measure import MM_PER_INCH

INK, SOFT, ACCENT, WASH = "#1b242c", "#4a555f", "#93391a", "#eef1ea"
SAP, OFF = "#f1e6c9", "#dcdcd3"
EDGE_MM, RULER_MM, LETTER_MM = 5.0, 9.0, 2.5
ROOM_FOR_GRAIN_MM = 6.0
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
    body += [_piece(drawn, frame) for drawn in laid]
    body += [_label(drawn, frame) for drawn in laid]  # over all pieces, so that none is covered
    if marks:
        body += [_corners(set_out(drawn.piece, drawn.place), frame) for drawn in laid]
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
        yield f"<g>{title}{_area(frame.path(shape), SOFT)}</g>"
        x, y = frame.at(*shape.representative_point().coords[0])
        yield _words(x, y + LETTER_MM * 0.35, str(number), "#ffffff", LETTER_MM * 0.8)
    yield _area(frame.path(face), "none", INK, 0.5)


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


def _piece(drawn: Drawn, frame: _Frame) -> str:
    shape = covered(drawn.piece, drawn.place)
    name = f' data-piece="{escape(drawn.name)}"' if drawn.name else ""
    where = f' data-x="{drawn.place.x_mm:.4f}" data-y="{drawn.place.y_mm:.4f}"' if name else ""
    title = f"<title>{escape(drawn.note or drawn.piece.label)}</title>"
    return (
        f'<g class="laid"{name}{where}>{title}{_area(frame.path(shape), WASH, INK, 0.35)}'
        f"{_grain(drawn, frame)}</g>"
    )


def _label(drawn: Drawn, frame: _Frame) -> str:
    x, y = frame.at(*_roomiest(covered(drawn.piece, drawn.place)))
    name = f' data-label="{escape(drawn.name)}"' if drawn.name else ""
    mark = _words(x, y + LETTER_MM * 0.35, drawn.mark or drawn.piece.label, INK, LETTER_MM)
    return f'<g class="label"{name}>{mark}</g>'


def _roomiest(shape: shapely.Polygon) -> tuple[float, float]:
    """Where there is room to write: its middle, or that of the largest circle in it where the
    middle lies too near an edge, or outside as in a hollow floor."""
    line = shapely.maximum_inscribed_circle(shape, tolerance=2.0)
    middle = shape.centroid
    if shape.contains(middle) and shape.exterior.distance(middle) > 0.8 * line.length:
        return float(middle.x), float(middle.y)
    x, y = line.coords[0]
    return float(x), float(y)


def _grain(drawn: Drawn, frame: _Frame) -> str:
    """A short line along the piece's own grain, through its middle, where it lies in the wood."""
    shape = covered(drawn.piece, drawn.place)
    inside = shapely.Point(_roomiest(shape))
    low, high = inside.y - ROOM_FOR_GRAIN_MM * frame.scale / 2, inside.y
    if not shape.covers(shapely.LineString([(inside.x, low), (inside.x, high)])):
        return ""
    arrow = shapely.affinity.rotate(
        shapely.LineString([(inside.x - 60, inside.y), (inside.x + 60, inside.y)]),
        drawn.place.angle_deg,
    ).intersection(shape)
    if not isinstance(arrow, shapely.LineString) or arrow.is_empty:
        return ""
    ends = [frame.at(*end) for end in arrow.coords]
    shift = 2.1
    (x0, y0), (x1, y1) = ends[0], ends[-1]
    return (
        f'<path d="M{x0:.2f} {y0 + shift:.2f}L{x1:.2f} {y1 + shift:.2f}" fill="none" '
        f'stroke="{SOFT}" stroke-width="0.15"/>'
    )


def _corners(marked: Marked, frame: _Frame) -> str:
    found = ""
    for letter, point in (("A", marked.a_mm), ("B", marked.b_mm)):
        x, y = frame.at(*point)
        found += f'<circle cx="{x:.2f}" cy="{y:.2f}" r="0.7" fill="{ACCENT}"/>'
        found += _words(x + (1.6 if letter == "A" else -1.6), y + 0.8, letter, ACCENT, 2.2)
    return found


def _words(x: float, y: float, text: str, fill: str, size: float) -> str:
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.3g}" fill="{fill}" '
        f'text-anchor="middle">{escape(text)}</text>'
    )
