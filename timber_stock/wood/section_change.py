"""What a joiner would measure on a dried rectangle: sizes, square, cup, wind and what planes up.

All of it is read off the dried section of `distortion.dry_section`; the same limits hold.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from timber_stock.wood.distortion import DriedSection
from timber_stock.wood.outline import Corners


@dataclass(frozen=True)
class Side:
    """One dimension of a rectangle: green, and dried along both faces that show it."""

    green_mm: float
    faces_mm: tuple[float, float]

    @property
    def dried_mm(self) -> float:
        return sum(self.faces_mm) / 2

    @property
    def change_mm(self) -> float:
        return self.dried_mm - self.green_mm

    @property
    def change_percent(self) -> float:
        return 100.0 * self.change_mm / self.green_mm


@dataclass(frozen=True)
class RectangleChange:
    """A rectangle before and after drying.

    `wide_face` is the number of the first wide face (0 or 1); faces are numbered in the order of
    the corners. `out_of_square_deg` is the greatest departure of a corner from 90 degrees and
    `out_of_square_mm` what a square held at either end of each face shows at its other end.
    `cup_mm` is for each face: positive hollow, negative proud. `clean_width_mm` and
    `clean_thickness_mm` are the largest true rectangle that planes out of the dried shape with its
    sides along the mean of the wide faces.
    """

    width: Side
    thickness: Side
    wide_face: int
    out_of_square_deg: float
    out_of_square_mm: tuple[float, ...]
    cup_mm: tuple[float, ...]
    clean_width_mm: float
    clean_thickness_mm: float
    check_opening_mm: float


def rectangle_change(dried: DriedSection) -> RectangleChange:
    """Read a dried rectangle. Raises ValueError when the green section was no rectangle."""
    _require_rectangle(dried)
    green = [face.green_length_mm for face in dried.faces]
    wide = 0 if green[0] >= green[1] else 1
    off = [abs(angle - 90.0) for angle in dried.corner_angles_deg]
    lengths = [face.dried_length_mm for face in dried.faces]
    clean = _clean_sizes(dried, wide)
    return RectangleChange(
        width=Side(green[wide], (lengths[wide], lengths[wide + 2])),
        thickness=Side(green[1 - wide], (lengths[1 - wide], lengths[3 - wide])),
        wide_face=wide,
        out_of_square_deg=max(off),
        out_of_square_mm=tuple(
            lengths[i] * math.sin(math.radians(max(off[i], off[(i + 1) % 4]))) for i in range(4)
        ),
        cup_mm=tuple(face.cup_mm for face in dried.faces),
        clean_width_mm=clean[0],
        clean_thickness_mm=clean[1],
        check_opening_mm=dried.check_opening_mm,
    )


def _require_rectangle(dried: DriedSection) -> None:
    corners = np.array([complex(x, y) for x, y in dried.green_corners_mm])
    edges = np.roll(corners, -1) - corners
    square = np.abs(np.real(edges * np.conj(np.roll(edges, 1)))) <= 1e-4 * np.abs(edges) ** 2
    if len(corners) != 4 or not square.all():
        raise ValueError(
            "Width and thickness can be told of a rectangle only: this section has "
            f"{len(corners)} corners or is not square."
        )


def _clean_sizes(dried: DriedSection, wide: int) -> tuple[float, float]:
    """Sides of the rectangle between the innermost points of opposite faces, never below nought."""
    faces = [_face_points(dried, i) for i in range(4)]
    chords = [points[-1] - points[0] for points in faces]
    along = chords[wide] / abs(chords[wide]) - chords[wide + 2] / abs(chords[wide + 2])
    spans = []
    for direction, first in ((along, (wide + 1) % 4), (1j * along, (wide + 2) % 4)):
        unit = direction / abs(direction)
        near, far = (np.real(faces[i % 4] * np.conj(unit)) for i in (first, first + 2))
        spans.append(max(0.0, float(max(near.min() - far.max(), far.min() - near.max()))))
    return spans[0], spans[1]


def _face_points(dried: DriedSection, i: int) -> Corners:
    """The dried points of face i from corner to corner, without the root of a check."""
    ring = np.array([complex(x, y) for x, y in dried.outline_mm])
    start, end = dried.corner_marks[i], dried.corner_marks[(i + 1) % 4]
    run = np.arange(start, end + 1 if end > start else end + 1 + len(ring)) % len(ring)
    return ring[run[run != dried.check_mark]] if dried.check_mark is not None else ring[run]


@dataclass(frozen=True)
class Twist:
    """Wind between the two ends of a timber, face by face, in degrees counter-clockwise.

    `wide_face_mm` is the rise winding sticks as long as the wide face show.
    """

    faces_deg: tuple[float, ...]
    wide_face_deg: float
    wide_face_mm: float


def twist(first_end: DriedSection, second_end: DriedSection) -> Twist:
    """Wind that follows from a pith that lies differently at the two ends.

    Each end dries to its own shape with no turning of the wood as a whole, so its faces turn
    against each other; the wind of a face is the difference of its turn at the two ends. Derived.
    Spiral grain adds its own, which is not in it. Raises ValueError when the ends do not have the
    same corners.
    """
    if len(first_end.faces) != len(second_end.faces):
        raise ValueError("The two ends must be the same section: their corners differ in number.")
    pairs = list(zip(first_end.faces, second_end.faces, strict=True))
    turned = tuple((b.turned_deg - a.turned_deg + 180.0) % 360.0 - 180.0 for a, b in pairs)
    wide = max(range(len(pairs)), key=lambda i: pairs[i][0].green_length_mm)
    width = pairs[wide][1].dried_length_mm
    return Twist(turned, turned[wide], width * math.sin(math.radians(abs(turned[wide]))))
