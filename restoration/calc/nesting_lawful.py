"""What is wrong with a layout, in sentences: the judge of every move made by hand.

It works from the pieces' true outlines and knows nothing of how a layout was found.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import shapely
from shapely import Polygon

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place, covered, off_grain_deg
from restoration.calc.nesting_sheet import (
    DEFECT_KINDS,
    WIDEST_MM,
    Sheet,
    face_polygon,
    heartwood,
)

TOLERANCE_MM = 0.05
"""Less than the line of a sharp pencil: what touches within it counts as clear."""
TOLERANCE_DEG = 0.01
HARDLY_MM = 1.0
"""Less than this too near, and both lengths may read alike on a rule: no figure is told (ours)."""


@dataclass(frozen=True)
class Fault:
    """What is wrong, and the key of the piece it is said of."""

    key: str
    says: str


def faults_of(
    sheet: Sheet, pieces: Sequence[Piece], places: Sequence[Place], gap_mm: float
) -> tuple[Fault, ...]:
    """Every fault of a layout; none where it is lawful."""
    by_key = {piece.key: piece for piece in pieces}
    found: list[Fault] = []
    for place in places:
        found += [Fault(place.key, said) for said in own_faults(sheet, by_key[place.key], place)]
    shapes = [(by_key[p.key], covered(by_key[p.key], p)) for p in places]
    for (one, its), (other, others) in combinations(shapes, 2):
        if said := too_near(one, its, other, others, gap_mm):
            found.append(Fault(one.key, said))
    return tuple(found)


def own_faults(sheet: Sheet, piece: Piece, place: Place) -> tuple[str, ...]:
    """What is wrong with where one piece lies, whatever lies beside it."""
    if not all(math.isfinite(n) for n in (place.x_mm, place.y_mm, place.angle_deg)):
        return (f"{piece.label}: where it lies must be plain numbers.",)
    shape = covered(piece, place)
    said = [*_turn_faults(piece, place), *thickness_faults(sheet, piece)]
    return (*said, *_face_faults(sheet, piece, shape))


def _turn_faults(piece: Piece, place: Place) -> list[str]:
    found = []
    off = off_grain_deg(place.angle_deg)
    if off > piece.turn_deg + TOLERANCE_DEG:
        found.append(
            f"{piece.label} would lie {off:.1f}° off the grain: {piece.turn_deg:g}° is the limit "
            "stated for it."
        )
    if place.mirrored not in piece.mirrorings():
        found.append(
            f"{piece.label} is wanted {'mirrored' if piece.hand == 'mirrored' else 'as drawn'}, "
            "not the other way up."
        )
    return found


def thickness_faults(sheet: Sheet, piece: Piece) -> list[str]:
    """What is wrong with how thick the board is for this piece, in one sentence or none."""
    if piece.sided_mm <= sheet.thickness_mm + TOLERANCE_MM:
        return []
    return [
        f"{piece.label} is sided {piece.sided_mm:.1f} mm; the board is only "
        f"{sheet.thickness_mm:.1f} mm thick."
    ]


def _face_faults(sheet: Sheet, piece: Piece, shape: Polygon) -> list[str]:
    """The first reason is told alone where a piece is off the face; the defects one by one."""
    inner = shape.buffer(-TOLERANCE_MM, join_style="mitre")
    face = face_polygon(sheet)
    if not face.covers(inner):
        over = _over_mm(shape, face)
        return [f"{piece.label} would lie {over:.0f} mm off the face: move it in from the edge."]
    low, high = sheet.butt_check_mm, sheet.length_mm - sheet.top_check_mm
    if not shapely.box(low, -2 * WIDEST_MM, high, 2 * WIDEST_MM).covers(inner):
        return [f"{piece.label} would run into the checks at the end, which are cut off."]
    found = []
    for number, defect in enumerate(sheet.defects, 1):
        apart = float(Polygon(defect.points_mm).distance(inner))
        if apart < defect.clearance_mm or Polygon(defect.points_mm).intersects(inner):
            found.append(_near_defect(piece, number, DEFECT_KINDS[defect.kind], apart))
    sapwood_free = piece.sapwood_allowed or heartwood(sheet).covers(inner)
    if not sapwood_free and not found:
        found.append(f"{piece.label} would have sapwood in it, which is not allowed for it.")
    return found


def _near_defect(piece: Piece, number: int, kind: str, apart_mm: float) -> str:
    if apart_mm <= 0:
        return f"{piece.label} would have defect {number}, the {kind}, in it."
    return f"{piece.label} would come within {apart_mm:.0f} mm of defect {number}, the {kind}."


def _over_mm(shape: Polygon, face: Polygon) -> float:
    corners = shapely.points(shapely.get_coordinates(shape))
    return max(1.0, float(shapely.distance(corners, face).max()))


def too_near(one: Piece, its: Polygon, other: Piece, others: Polygon, gap_mm: float) -> str:
    """A sentence where two pieces overlap or leave less than the gap between them; else none."""
    apart = float(its.distance(others))
    if apart <= 0 and its.buffer(-TOLERANCE_MM).intersects(others.buffer(-TOLERANCE_MM)):
        return f"{one.label} and {other.label} would overlap."
    if gap_mm - HARDLY_MM < apart < gap_mm - TOLERANCE_MM:
        return (
            f"{one.label} and {other.label} would lie a little nearer to each other than the "
            f"{gap_mm:.1f} mm that the saw needs between them."
        )
    if apart < gap_mm - TOLERANCE_MM:
        return (
            f"{one.label} and {other.label} would lie {apart:.1f} mm apart: the saw needs "
            f"{gap_mm:.1f} mm between them."
        )
    return ""
