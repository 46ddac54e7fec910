"""How much of a face a layout turns into pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place, covered
from restoration.calc.nesting_sheet import WIDEST_MM, Sheet, face_polygon


@dataclass(frozen=True)
class Yield:
    """Areas in mm². `used_mm2` is the face from the butt end to where the last piece ends, all of
    it: checks, sapwood and defects are part of what the pieces cost. What is promised to others
    already is no part of either face: these pieces do not cost it."""

    pieces_mm2: float
    face_mm2: float
    used_mm2: float
    used_length_mm: float

    @property
    def of_the_face(self) -> float:
        """The share of the whole face that goes into pieces, 0 to 1."""
        return self.pieces_mm2 / self.face_mm2

    @property
    def of_what_is_used(self) -> float:
        """The share of the face used up that goes into pieces; what is beyond is left whole."""
        return self.pieces_mm2 / self.used_mm2 if self.used_mm2 else 0.0


def length_used_mm(sheet: Sheet, pieces: Sequence[Piece], places: Sequence[Place]) -> float:
    """From the butt end to the end of the piece farthest along; nothing where none is laid."""
    by_key = {piece.key: piece for piece in pieces}
    ends = [covered(by_key[place.key], place).bounds[2] for place in places]
    return float(min(max(ends, default=0.0), sheet.length_mm))


def yield_of(sheet: Sheet, pieces: Sequence[Piece], places: Sequence[Place]) -> Yield:
    """The figures of one layout; it is not judged here whether it is lawful."""
    by_key = {piece.key: piece for piece in pieces}
    used = length_used_mm(sheet, pieces, places)
    promised = [shapely.Polygon(d.points_mm) for d in sheet.defects if d.kind == "used"]
    face = face_polygon(sheet).difference(shapely.union_all(promised))
    taken = face.intersection(shapely.box(0, -2 * WIDEST_MM, used, 2 * WIDEST_MM))
    return Yield(
        pieces_mm2=sum(by_key[place.key].area_mm2() for place in places),
        face_mm2=float(face.area),
        used_mm2=float(taken.area),
        used_length_mm=used,
    )
