"""Where to mark a piece on the board: two of its corners and the length it takes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import shapely

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place, covered, off_grain_deg

Point = tuple[float, float]


@dataclass(frozen=True)
class Marked:
    """Two corners of the piece's outline, mm from the butt and from the chalk line (left of it
    positive), A nearer to the butt; where the piece begins and ends; how it lies."""

    key: str
    a_mm: Point
    b_mm: Point
    from_mm: float
    to_mm: float
    off_grain_deg: float
    mirrored: bool


def set_out(piece: Piece, place: Place) -> Marked:
    """The two corners farthest apart: with the outline between them the piece can lie no other
    way up, so a pattern laid to both of them lies true."""
    shape = covered(piece, place)
    corners = [(float(x), float(y)) for x, y in shapely.get_coordinates(shape.convex_hull)[:-1]]
    one, other = max(combinations(corners, 2), key=_apart)
    a, b = sorted((one, other))
    return Marked(
        piece.key, a, b, shape.bounds[0], shape.bounds[2],
        off_grain_deg(place.angle_deg), place.mirrored,
    )  # fmt: skip


def _apart(pair: tuple[Point, Point]) -> float:
    (x0, y0), (x1, y1) = pair
    return (x1 - x0) ** 2 + (y1 - y0) ** 2
