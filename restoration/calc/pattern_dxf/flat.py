"""The curves of a drawing as points in mm, within a stated distance of the true curve."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise

from ezdxf import bbox
from ezdxf.entities.arc import Arc
from ezdxf.entities.circle import Circle
from ezdxf.entities.ellipse import Ellipse
from ezdxf.entities.line import Line
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.spline import Spline
from ezdxf.math import OCS, Vec3

from restoration.calc.pattern import MOST_POINTS, Point
from restoration.calc.pattern_dxf.reading import Drawing, NotADrawing, Thing

TOLERANCE_MM = 0.05
"""No point of a curve lies further than this from the straight pieces drawn for it."""
MOST_CONTROL_POINTS = 5_000
HIGHEST_DEGREE = 10
_SPLINE_FRAME = 16  # DXF reference, VERTEX, group 70: a control point that only guides a curve


@dataclass(frozen=True)
class Run:
    """One curve, seen from above. `diameter_mm` where it is a full circle; `closed` where it ends
    as it began; `shortened_mm` how much shorter it is so than it truly is, where it does not lie
    flat."""

    layer: str
    points_mm: tuple[Point, ...]
    closed: bool = False
    centre_mm: Point | None = None
    diameter_mm: float = 0.0
    shortened_mm: float = 0.0


def rough_size(drawing: Drawing) -> tuple[float, float]:
    """Length and breadth of all that is drawn, in the drawing's own units, to about 1 in 1,000."""
    box = bbox.extents([thing.entity for thing in drawing.curves], fast=True)
    if not box.has_data:
        return 0.0, 0.0
    largest = max(box.size.x, box.size.y)
    if not math.isfinite(largest) or largest <= 0:
        return 0.0, 0.0
    points = [
        point for run in runs(drawing, 1.0, tolerance_mm=largest / 1000) for point in run.points_mm
    ]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def runs(drawing: Drawing, mm_per_unit: float, tolerance_mm: float = TOLERANCE_MM) -> list[Run]:
    """Every curve of the drawing, flattened.

    Raises NotADrawing for more than MOST_POINTS points, figures that are not finite, and splines
    beyond MOST_CONTROL_POINTS or HIGHEST_DEGREE.
    """
    _refuse_heavy_splines(drawing)
    found: list[Run] = []
    left = MOST_POINTS
    for thing in drawing.curves:
        run = _run(thing, mm_per_unit, tolerance_mm, left)
        left -= len(run.points_mm)
        if left < 0:
            raise NotADrawing(
                f"The curves of the drawing make more than {MOST_POINTS:,} points: save the "
                "pattern alone, or look at its units."
            )
        if len(run.points_mm) > 1:
            found.append(run)
    return found


def _run(thing: Thing, mm_per_unit: float, tolerance_mm: float, most: int) -> Run:
    entity, sagitta = thing.entity, tolerance_mm / mm_per_unit
    try:
        vectors = list(islice(_vectors(entity, sagitta), most + 2))
        points = tuple((v.x * mm_per_unit, v.y * mm_per_unit) for v in vectors)
        centre = _centre(entity)
    except Exception as error:  # a stranger's curve: what it does to the sums cannot be foreseen
        raise NotADrawing(_not_followed(thing)) from error
    if not all(math.isfinite(n) for point in points for n in point):
        raise NotADrawing(_not_followed(thing))
    short = _shortened(vectors) * mm_per_unit
    if centre is None:
        closed = len(points) > 2 and math.dist(points[0], points[-1]) < 1e-6
        return Run(thing.layer, points, closed, shortened_mm=short)
    at = (centre.x * mm_per_unit, centre.y * mm_per_unit)
    return Run(thing.layer, points, True, at, 2 * abs(entity.dxf.radius) * mm_per_unit, short)


def _shortened(vectors: Sequence[Vec3]) -> float:
    """By how much the way along these points is longer than it looks from above."""
    steps = [after - before for before, after in pairwise(vectors)]
    return float(sum(step.magnitude - math.hypot(step.x, step.y) for step in steps))


def _not_followed(thing: Thing) -> str:
    return (
        f"A {thing.entity.dxftype()} on layer “{thing.layer}” cannot be followed: draw it again "
        "as a polyline."
    )


def _centre(entity: object) -> Vec3 | None:
    """Of a full circle; an arc is a circle to the reader, so it is asked first."""
    if isinstance(entity, Circle) and not isinstance(entity, Arc):
        return entity.ocs().to_wcs(entity.dxf.center)
    return None


def _vectors(entity: object, sagitta: float) -> Iterable[Vec3]:
    if isinstance(entity, Line):
        return (entity.dxf.start, entity.dxf.end)
    if isinstance(entity, Circle):  # an arc too
        # More than its own radius off is no circle any more, and the sums refuse it.
        return entity.flattening(min(sagitta, abs(entity.dxf.radius) / 4))
    if isinstance(entity, Ellipse | Spline):
        # It looks at the middle of each piece alone; the curve may stand off more beside it.
        return entity.flattening(sagitta / 2)
    if isinstance(entity, LWPolyline):
        corners = [(Vec3(x, y, entity.dxf.elevation), b) for x, y, b in entity.get_points("xyb")]
        return _bulged(corners, entity.closed, sagitta, entity.ocs())
    if isinstance(entity, Polyline):
        return _old_polyline(entity, sagitta)
    raise TypeError(type(entity).__name__)


def _old_polyline(entity: Polyline, sagitta: float) -> Iterable[Vec3]:
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        return ()
    corners = [
        (vertex.dxf.location, vertex.dxf.get("bulge", 0.0))
        for vertex in entity.vertices
        if not vertex.dxf.get("flags", 0) & _SPLINE_FRAME
    ]
    if entity.is_3d_polyline:
        corners = [(at, 0.0) for at, _ in corners]
    return _bulged(corners, entity.is_closed, sagitta, entity.ocs())


def _bulged(
    corners: Sequence[tuple[Vec3, float]], closed: bool, sagitta: float, ocs: OCS
) -> Iterator[Vec3]:
    """A polyline with its arcs: each corner's bulge is the tangent of a quarter of the angle."""
    if not corners:
        return
    yield ocs.to_wcs(corners[0][0])
    nexts = [*corners[1:], corners[0]] if closed else corners[1:]
    for (start, bulge), (end, _) in zip(corners, nexts, strict=False):
        for point in _arc_points(start, end, bulge, sagitta):
            yield ocs.to_wcs(point)
        yield ocs.to_wcs(end)


def _arc_points(start: Vec3, end: Vec3, bulge: float, sagitta: float) -> Iterator[Vec3]:
    """Between two corners, without them; on the arc, so close that no chord is `sagitta` off."""
    chord = end - start
    if abs(bulge) < 1e-9 or chord.magnitude < 1e-12:
        return
    angle = 4 * math.atan(bulge)
    radius = chord.magnitude / 2 / abs(math.sin(angle / 2))
    step = 2 * math.acos(max(0.0, 1 - sagitta / radius))
    parts = math.ceil(abs(angle) / step) if step else MOST_POINTS
    middle = (start + end) / 2
    # Bulging to the right of the way (positive) the centre lies to its left.
    centre = middle + chord.orthogonal() * (1 / math.tan(angle / 2) / 2)
    for part in range(1, parts):
        yield centre + (start - centre).rotate(angle * part / parts)


def _refuse_heavy_splines(drawing: Drawing) -> None:
    splines = [thing.entity for thing in drawing.curves if isinstance(thing.entity, Spline)]
    points = sum(len(spline.control_points) + len(spline.fit_points) for spline in splines)
    if points > MOST_CONTROL_POINTS:
        raise NotADrawing(
            f"The splines of the drawing have {points:,} control points; {MOST_CONTROL_POINTS:,} "
            "are followed at most. Save the pattern alone."
        )
    if any(not 1 <= spline.dxf.degree <= HIGHEST_DEGREE for spline in splines):
        raise NotADrawing(f"A spline of a degree over {HIGHEST_DEGREE} cannot be followed.")
