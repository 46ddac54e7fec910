"""From probe and drill depths to what is left of a timber's section.

Axes in the section, in mm: x across the sided dimension, y across the moulded dimension, with
x = 0 on the port (or after) face and y = 0 on the outboard (or bottom) face.

Formulas: area, centroid and second moments of a polygon from its corners (Green's theorem);
bending of a lopsided section by the general flexure formula. Both are textbook mechanics of
materials. The cutting out is done by shapely.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from restoration.calc.checks import above_zero, finite, not_below_zero

CAUTION = (
    "Geometry only: it takes the sound wood as fully sound and the soft wood as worth nothing, "
    "and decay reaches further than a spike can tell. It knows nothing of grain, checks, knots, "
    "fastenings or load. No published rule was found that allows a given loss in a wooden hull. "
    "A competent surveyor or naval architect judges the member."
)

Outline = tuple[tuple[float, float], ...]
"""Corners of an area in order round it, (x, y) in mm; the first is not repeated at the end."""

FACES = {
    "outboard": ("y", False),
    "bottom": ("y", False),
    "inboard": ("y", True),
    "top": ("y", True),
    "after": ("x", False),
    "port": ("x", False),
    "forward": ("x", True),
    "starboard": ("x", True),
}
"""The axis a face stands square to, and whether it lies at the far end of it."""


@dataclass(frozen=True)
class Section:
    """A section's figures. The moduli are those of its largest piece.

    modulus_moulded_mm3 serves bending that works the moulded depth (a frame bent in its own
    plane): sided x moulded**2 / 6 for a whole rectangle. modulus_sided_mm3 serves bending the
    other way. Each is moment / greatest stress of a section free to bend sideways, so that a
    lopsided loss counts in full.
    """

    area_mm2: float
    centroid_mm: tuple[float, float]
    modulus_moulded_mm3: float
    modulus_sided_mm3: float
    pieces: tuple[tuple[Outline, ...], ...]
    """For each piece its outer outline and then its holes, for drawing."""


@dataclass(frozen=True)
class SectionLoss:
    """A section before and after the soft wood is cut out. Fractions are of the whole section."""

    whole: Section
    left: Section

    @property
    def area_fraction(self) -> float:
        return self.left.area_mm2 / self.whole.area_mm2

    @property
    def modulus_moulded_fraction(self) -> float:
        return self.left.modulus_moulded_mm3 / self.whole.modulus_moulded_mm3

    @property
    def modulus_sided_fraction(self) -> float:
        return self.left.modulus_sided_mm3 / self.whole.modulus_sided_mm3

    @property
    def parted(self) -> bool:
        """Whether the sound wood is in several pieces, of which only the largest is counted on."""
        return len(self.left.pieces) > 1


def rectangle(sided_mm: float, moulded_mm: float) -> Outline:
    """The outline of a squared timber. Raises ValueError unless both sizes are above 0."""
    sided = above_zero(sided_mm, "sided dimension")
    moulded = above_zero(moulded_mm, "moulded dimension")
    return ((0.0, 0.0), (sided, 0.0), (sided, moulded), (0.0, moulded))


def soft_face(
    sided_mm: float, moulded_mm: float, face: str, readings: Sequence[tuple[float, float]]
) -> tuple[Outline, ...]:
    """The soft wood under one face of a squared timber, from probings across that face.

    face: a key of FACES. readings: (how far along the face, how deep), mm, in order along it.
    Between readings the depth runs straight; beyond the first and the last it is taken as theirs,
    so that one reading alone stands for the whole face. Raises ValueError for a probe deeper than
    the timber, off its face, or out of order.
    """
    width, depth = _face(sided_mm, moulded_mm, face)
    if not readings:
        raise ValueError("A soft face needs at least one probe reading.")
    points = [(_along(at, width), _deep(deep, depth)) for at, deep in readings]
    if any(after[0] <= before[0] for before, after in itertools.pairwise(points)):
        raise ValueError("Probe readings must be in order along the face, no two in one place.")
    ends = [(0.0, points[0][1]), *points, (width, points[-1][1])]
    strips = itertools.pairwise(ends)
    return tuple(
        _placed(((a, 0.0), (b, 0.0), (b, deep_b), (a, deep_a)), face, depth)
        for (a, deep_a), (b, deep_b) in strips
        if b > a and deep_a + deep_b > _GRID_MM
    )


def soft_pocket(
    sided_mm: float,
    moulded_mm: float,
    face: str,
    at_mm: float,
    from_mm: float,
    to_mm: float,
    width_mm: float,
) -> Outline:
    """Soft wood found by a drill between two depths under a face, `width_mm` across.

    A drill reads one line: the width is the surveyor's own estimate. The pocket is cut off at the
    edges of the face. Raises ValueError for a drill deeper than the timber or off its face.
    """
    width, depth = _face(sided_mm, moulded_mm, face)
    at = _along(at_mm, width)
    start, end = _deep(from_mm, depth), _deep(to_mm, depth)
    if start >= end:
        raise ValueError(f"Soft wood from {start:g} to {end:g} mm deep has no thickness.")
    half = above_zero(width_mm, "width of the soft pocket") / 2
    low, high = max(0.0, at - half), min(width, at + half)
    return _placed(((low, start), (high, start), (high, end), (low, end)), face, depth)


def face_width(sided_mm: float, moulded_mm: float, face: str) -> float:
    """How wide a face is across the section, mm. Raises ValueError for an unknown face."""
    return _face(sided_mm, moulded_mm, face)[0]


def _face(sided_mm: float, moulded_mm: float, face: str) -> tuple[float, float]:
    """How wide the face is and how deep the timber is behind it, mm."""
    _, _, (sided, moulded), _ = rectangle(sided_mm, moulded_mm)
    if face not in FACES:
        raise ValueError(f"There is no face named {face!r}; the faces are {', '.join(FACES)}.")
    return (sided, moulded) if FACES[face][0] == "y" else (moulded, sided)


def _along(at_mm: float, width: float) -> float:
    at = finite(at_mm, "place of the reading")
    if not 0 <= at <= width:
        raise ValueError(f"A reading {at:g} mm along a face {width:g} mm wide is off the timber.")
    return at


def _deep(depth_mm: float, depth: float) -> float:
    deep = not_below_zero(depth_mm, "depth of the reading")
    if deep > depth:
        raise ValueError(
            f"A probe of {deep:g} mm is deeper than the timber, which is {depth:g} mm."
        )
    return deep


def _placed(corners: Outline, face: str, depth: float) -> Outline:
    """Corners given as (along the face, depth under it), turned into the section's x and y."""
    axis, far = FACES[face]
    inward = [(along, depth - deep if far else deep) for along, deep in corners]
    return tuple(inward) if axis == "y" else tuple((y, x) for x, y in inward)


_GRID_MM = 1e-6
"""Corners are cut to a millionth, so that no sliver is left between areas that fit exactly, and
what is left is never seen to be more than there was."""


def remaining_section(outline: Outline, soft: Sequence[Outline]) -> SectionLoss:
    """Cut the soft areas out of a section and give the figures of both.

    outline and soft: corners in mm; soft areas may overlap and may reach outside the outline.
    Raises ValueError for an outline of fewer than three corners, one that crosses itself, or no
    area. With no sound wood left every figure is 0 and there are no pieces.
    """
    whole = _area(outline, "outline")
    rotten = unary_union([_area(area, "soft area") for area in soft])
    return SectionLoss(_section(whole), _section(whole.difference(rotten, grid_size=_GRID_MM)))


def _area(corners: Outline, name: str) -> Polygon:
    for x, y in corners:
        finite(x, f"{name}'s corner")
        finite(y, f"{name}'s corner")
    shape = Polygon(corners) if len(corners) >= 3 else None
    if shape is None or not shape.is_valid:
        raise ValueError(
            f"The {name} must have three corners or more and an area, and must not cross itself."
        )
    return shape


def _section(shape: BaseGeometry) -> Section:
    parts = [part for part in getattr(shape, "geoms", [shape]) if part.area > 0]
    if not parts:
        return Section(0.0, (0.0, 0.0), 0.0, 0.0, ())
    parts.sort(key=lambda part: -part.area)
    moulded, sided = _moduli(parts[0])
    return Section(
        area_mm2=float(sum(part.area for part in parts)),
        centroid_mm=(float(shape.centroid.x), float(shape.centroid.y)),
        modulus_moulded_mm3=moulded,
        modulus_sided_mm3=sided,
        pieces=tuple(
            tuple(tuple(ring.coords[:-1]) for ring in (part.exterior, *part.interiors))
            for part in parts
        ),
    )


def _moduli(part: Polygon) -> tuple[float, float]:
    """Section moduli for bending in the y and in the x direction, mm3.

    Stress under a moment about x is M (Iyy y - Ixy x) / (Ixx Iyy - Ixy**2) at the corner (x, y)
    from the centroid; the modulus is the moment over the greatest such stress.
    """
    cx, cy = part.centroid.x, part.centroid.y
    rings = [
        [(x - cx, y - cy) for x, y in ring.coords] for ring in (part.exterior, *part.interiors)
    ]
    ixx, iyy, ixy = _second_moments(rings)
    determinant = ixx * iyy - ixy * ixy
    corners = rings[0]
    return (
        determinant / max(abs(iyy * y - ixy * x) for x, y in corners),
        determinant / max(abs(ixx * x - ixy * y) for x, y in corners),
    )


def _second_moments(rings: list[list[tuple[float, float]]]) -> tuple[float, float, float]:
    """Integrals of y**2, x**2 and x y over the outer ring less the holes, about the origin."""
    totals = [0.0, 0.0, 0.0]
    for number, ring in enumerate(rings):
        edges = list(itertools.pairwise(ring))
        crosses = [x * v - u * y for (x, y), (u, v) in edges]
        sign = math.copysign(1.0, math.fsum(crosses)) * (1 if number == 0 else -1)
        for ((x, y), (u, v)), cross in zip(edges, crosses, strict=True):
            totals[0] += sign * cross * (y * y + y * v + v * v) / 12
            totals[1] += sign * cross * (x * x + x * u + u * u) / 12
            totals[2] += sign * cross * (x * v + 2 * x * y + 2 * u * v + u * y) / 24
    return totals[0], totals[1], totals[2]
