"""The face of a flitch or board on which pieces are laid out, and what of it is usable.

Frame: millimetres; x runs from the butt end along a chalk line struck down the face, y square to
it: left of the line, as one stands at the butt and looks along, is positive. The grain is taken
to run along the chalk line. The edges are given by how far they lie from the line at stations
along it, so taper, sweep and a natural edge are all told the same way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

Point = tuple[float, float]

LONGEST_MM = 30_000.0
WIDEST_MM = 3_000.0
THICKEST_MM = 1_000.0
MOST_STATIONS = 60
MOST_DEFECTS = 60
WIDEST_CLEARANCE_MM = 200.0
DEFECT_KINDS = {
    "knot": "knot", "shake": "shake", "check": "check", "rot": "rot", "heart": "heart",
    "hole": "hole", "used": "length promised", "other": "defect",
}  # fmt: skip


@dataclass(frozen=True)
class Station:
    """Where the edges are at one place along the chalk line: how far to its right and its left.

    One of the two may be below nought, where both edges lie on one side of the line.
    """

    x_mm: float
    right_mm: float
    left_mm: float


@dataclass(frozen=True)
class Defect:
    """What must not come into a piece, and how far to keep clear of it. `kind`: DEFECT_KINDS."""

    kind: str
    points_mm: tuple[Point, ...]
    clearance_mm: float = 0.0


@dataclass(frozen=True)
class Sheet:
    """The whole face. Checks are lengths cut off square at each end; sapwood is measured in from
    the edge, square to the chalk line."""

    length_mm: float
    thickness_mm: float
    stations: tuple[Station, ...]
    butt_check_mm: float = 0.0
    top_check_mm: float = 0.0
    sapwood_right_mm: float = 0.0
    sapwood_left_mm: float = 0.0
    defects: tuple[Defect, ...] = ()


def tapered(length_mm: float, butt_width_mm: float, top_width_mm: float) -> tuple[Station, ...]:
    """The stations of a face that tapers evenly about the chalk line from butt to top."""
    return (
        Station(0.0, butt_width_mm / 2, butt_width_mm / 2),
        Station(length_mm, top_width_mm / 2, top_width_mm / 2),
    )


def box(along_mm: float, across_mm: float, long_mm: float, wide_mm: float) -> tuple[Point, ...]:
    """The corners of a defect by its middle and how far it runs along and across."""
    half, side = long_mm / 2, wide_mm / 2
    return (
        (along_mm - half, across_mm - side), (along_mm + half, across_mm - side),
        (along_mm + half, across_mm + side), (along_mm - half, across_mm + side),
    )  # fmt: skip


def oval(along_mm: float, across_mm: float, long_mm: float, wide_mm: float) -> tuple[Point, ...]:
    """A knot by its middle and its two diameters: twelve corners drawn outside the oval."""
    outside = 1 / math.cos(math.pi / 12)
    turns = [math.pi * (2 * n + 1) / 12 for n in range(12)]
    return tuple(
        (
            along_mm + long_mm / 2 * outside * math.cos(turn),
            across_mm + wide_mm / 2 * outside * math.sin(turn),
        )
        for turn in turns
    )


def checked_sheet(sheet: Sheet) -> Sheet:
    """The same sheet, or ValueError with a sentence saying what to mend.

    Refused: figures that are not finite; no length, width or thickness, or one beyond reason;
    stations out of order or not from end to end; edges that cross; checks or sapwood that leave
    nothing; a defect that encloses nothing, crosses itself or lies wholly off the face.
    """
    _check_figures(sheet)
    _check_edges(sheet)
    if sheet.butt_check_mm + sheet.top_check_mm >= sheet.length_mm:
        raise ValueError("The checks at the ends leave nothing of the length.")
    face = face_polygon(sheet)
    for number, defect in enumerate(sheet.defects, 1):
        _check_defect(face, defect, number)
    if usable(sheet, sapwood=True).is_empty:
        raise ValueError("The checks and the defects leave nothing of this face to lay out on.")
    return sheet


def face_polygon(sheet: Sheet) -> Polygon:
    """The face from end to end and edge to edge, sapwood, checks and defects included."""
    right = [(s.x_mm, -s.right_mm) for s in sheet.stations]
    left = [(s.x_mm, s.left_mm) for s in reversed(sheet.stations)]
    return Polygon(right + left)


@lru_cache(maxsize=64)
def usable(sheet: Sheet, *, sapwood: bool) -> BaseGeometry:
    """What may come into a piece: the face without end checks, defects and their clearance, and
    without the sapwood unless `sapwood` says it may be used. Empty where nothing is left.

    Clearance is kept square to the sides of a defect and past its corners to a mitre, so never
    less than asked.
    """
    low, high = sheet.butt_check_mm, sheet.length_mm - sheet.top_check_mm
    between = shapely.box(low, -2 * WIDEST_MM, high, 2 * WIDEST_MM)
    face = face_polygon(sheet) if sapwood else heartwood(sheet)
    taken = shapely.union_all([_kept_clear(defect) for defect in sheet.defects])
    return face.intersection(between).difference(taken)


def runs_off_the_face(sheet: Sheet) -> tuple[int, ...]:
    """The numbers, from one, of the defects of which a part lies off the face."""
    face = face_polygon(sheet).buffer(0.5, join_style="mitre")
    return tuple(
        number
        for number, defect in enumerate(sheet.defects, 1)
        if not face.covers(Polygon(defect.points_mm))
    )


def _kept_clear(defect: Defect) -> Polygon:
    return Polygon(defect.points_mm).buffer(defect.clearance_mm, join_style="mitre")


def heartwood(sheet: Sheet) -> BaseGeometry:
    """The face from end to end without its sapwood, defects included.

    Where the two sapwoods meet nothing is left of it.
    """
    trimmed = [
        Station(s.x_mm, s.right_mm - sheet.sapwood_right_mm, s.left_mm - sheet.sapwood_left_mm)
        for s in sheet.stations
    ]
    right = [(s.x_mm, -s.right_mm) for s in trimmed]
    left = [(s.x_mm, s.left_mm) for s in trimmed]
    ends = list(zip(right, left, strict=True))
    strips = [_open_part(*pair) for pair in pairwise(ends)]
    return shapely.union_all([strip for strip in strips if strip is not None])


def _open_part(start: tuple[Point, Point], end: tuple[Point, Point]) -> Polygon | None:
    """Between two stations, as far as the left edge is left of the right one."""
    (r0, l0), (r1, l1) = start, end
    open_start, open_end = l0[1] - r0[1], l1[1] - r1[1]
    if open_start <= 0 and open_end <= 0:
        return None
    if open_start > 0 and open_end > 0:
        return Polygon([r0, r1, l1, l0])
    share = open_start / (open_start - open_end)
    meet = (r0[0] + share * (r1[0] - r0[0]), r0[1] + share * (r1[1] - r0[1]))
    return Polygon([r0, meet, l0] if open_start > 0 else [meet, r1, l1])


def _check_figures(sheet: Sheet) -> None:
    ends = [sheet.butt_check_mm, sheet.top_check_mm]
    saps = [sheet.sapwood_right_mm, sheet.sapwood_left_mm]
    figures = [sheet.length_mm, sheet.thickness_mm, *ends, *saps]
    figures += [n for s in sheet.stations for n in (s.x_mm, s.right_mm, s.left_mm)]
    figures += [n for d in sheet.defects for point in d.points_mm for n in point]
    figures += [d.clearance_mm for d in sheet.defects]
    if not all(math.isfinite(n) for n in figures):
        raise ValueError("Every figure of the face must be a plain number.")
    if sheet.length_mm <= 0 or sheet.thickness_mm <= 0:
        raise ValueError("The face needs a length and the board a thickness of more than nothing.")
    if sheet.length_mm > LONGEST_MM or sheet.thickness_mm > THICKEST_MM:
        raise ValueError(
            f"A board is {LONGEST_MM:.0f} mm long and {THICKEST_MM:.0f} mm thick at most: look at "
            "its units."
        )
    if min(ends + saps) < 0:
        raise ValueError("Checks and sapwood are nothing or more, never less.")
    if len(sheet.defects) > MOST_DEFECTS:
        raise ValueError(f"A face takes {MOST_DEFECTS} defects at most: join some into one.")


def _check_edges(sheet: Sheet) -> None:
    at = [s.x_mm for s in sheet.stations]
    if not 2 <= len(at) <= MOST_STATIONS:
        raise ValueError(
            f"The edges need two to {MOST_STATIONS} places at which they are measured."
        )
    if any(b <= a for a, b in pairwise(at)):
        raise ValueError("The places at which the edges are measured must run from butt to top.")
    if abs(at[0]) > 0.5 or abs(at[-1] - sheet.length_mm) > 0.5:
        raise ValueError("Measure the edges at both ends too: at nothing and at the full length.")
    widths = [s.left_mm + s.right_mm for s in sheet.stations]
    if min(widths) <= 0:
        place = at[widths.index(min(widths))]
        raise ValueError(f"At {place:.0f} mm from the butt the face has no width.")
    if max(widths) > WIDEST_MM:
        raise ValueError(f"A face is {WIDEST_MM:.0f} mm wide at most: look at its units.")


def _check_defect(face: Polygon, defect: Defect, number: int) -> None:
    name = f"Defect {number}, the {DEFECT_KINDS.get(defect.kind, 'defect')},"
    if defect.kind not in DEFECT_KINDS:
        raise ValueError(f"{defect.kind!r} is no kind of defect: {', '.join(DEFECT_KINDS)}.")
    if len(defect.points_mm) < 3:
        raise ValueError(f"{name} needs three corners or more.")
    shape = Polygon(defect.points_mm)
    if not shape.is_valid or shape.area < 1:
        raise ValueError(f"{name} encloses nothing, or its outline crosses itself.")
    if not 0 <= defect.clearance_mm <= WIDEST_CLEARANCE_MM:
        raise ValueError(f"{name} can be kept clear of by nothing to {WIDEST_CLEARANCE_MM:.0f} mm.")
    if not shape.intersects(face):
        raise ValueError(
            f"{name} lies wholly off the face: look at how far it is from the butt and from the "
            "chalk line."
        )
