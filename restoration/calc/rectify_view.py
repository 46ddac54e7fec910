"""Where the lens stood, and whether a pattern traced from there can be trusted.

The limits here are our own, chosen so that what they let through keeps to a millimetre or two on
a metre; no publication is behind them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from restoration.calc.rectify import MARKS_FOR_THE_LENS, Floats, Plane, to_px

USUAL_FOCAL = 0.6
"""Focal length over the picture's diagonal of the usual lens of a phone: 26 mm on the 43.3 mm
diagonal of small film (from memory; common practice of makers, no standard)."""
FOCAL_FROM, FOCAL_TO = 0.3, 6.0
TELLING_SLANT = 0.02
SCALE_TOO_FAR, SCALE_FAR = 4.0, 2.0
SLANT_TOO_FAR, SLANT_FAR = 3.0, 1.75
PARALLAX_TOO_FAR_MM, PARALLAX_FAR_MM = 5.0, 1.0
NEAREST = 0.5
"""Distance of the lens over the longest line across the marks: nearer, the view is over 90°."""


@dataclass(frozen=True)
class View:
    """How the picture was taken. Lengths in mm.

    `scale_ratio`: the longest millimetre in the picture over the shortest, by area, across the
    marks. `slant_ratio`: by how much a millimetre away from the lens looks shorter than one across
    it, at the worst mark. `distance_mm`: of the lens above the board, `foot_mm` the point under
    it, `focal_found` whether that comes from the picture or from a usual lens. `reach_mm`: the
    longest line between two marks.
    """

    scale_ratio: float
    slant_ratio: float
    distance_mm: float
    foot_mm: tuple[float, float]
    focal_found: bool
    reach_mm: float

    def parallax_mm(self, thickness_mm: float, at_mm: tuple[float, float]) -> float:
        """How far out an edge comes that lies thickness_mm above the marks: r t / (D - t)."""
        away = math.dist(self.foot_mm, at_mm)
        return away * thickness_mm / max(self.distance_mm - thickness_mm, 1e-6)


def view_of(plane: Plane, points_mm: Sequence[tuple[float, float]]) -> View:
    """How the board was seen, judged at these points of it (the marks, or the whole outline).

    ValueError where the vanishing line of the board passes between them or close by.
    """
    points = np.array(points_mm, dtype=np.float64)
    matrix = plane.matrix()
    far = points @ matrix[2, :2] + matrix[2, 2]
    if (far.min() <= 0 < far.max()) or np.abs(far).min() < 0.02 * np.abs(far).max():
        raise ValueError(
            "The board's vanishing line runs through the marks: they cannot all be in front of the "
            "lens. Look at the places and the order of the marks."
        )
    stretch = [_stretch(plane, point) for point in points]
    areas = [a * b for a, b in stretch]
    distance, foot, found = _lens(plane, points)
    reach = max(float(np.hypot(*(p - q))) for p in points for q in points)
    return View(
        math.sqrt(max(areas) / min(areas)),
        max(max(pair) / min(pair) for pair in stretch),
        distance,
        foot,
        found,
        reach,
    )


def check_view(view: View, thickness_mm: float, lens_found: bool) -> list[str]:
    """Warnings about how the picture was taken; ValueError where it cannot serve."""
    if view.scale_ratio > SCALE_TOO_FAR or view.distance_mm < NEAREST * view.reach_mm:
        raise ValueError(
            f"The lens was too close: a millimetre looks {view.scale_ratio:.1f} times as large at "
            f"one mark as at another, about {_metres(view.distance_mm)} from a board of "
            f"{_metres(view.reach_mm)}. Go back to {_metres(1.5 * view.reach_mm)} or more and "
            "photograph it again."
        )
    if view.slant_ratio > SLANT_TOO_FAR:
        raise ValueError(
            f"The picture was taken too much from the side: a millimetre away from the lens looks "
            f"{view.slant_ratio:.1f} times shorter than one across it, about "
            f"{_degrees(view.slant_ratio):.0f}° from square. Stand over the middle of the board."
        )
    return [*_taken_words(view), *_thickness_words(view, thickness_mm), *_lens_words(lens_found)]


def check_outline(
    view: View, thickness_mm: float, outline_mm: Sequence[tuple[float, float]]
) -> float:
    """The most that timber lying above the marks puts an edge of this outline out, mm.

    ValueError beyond PARALLAX_TOO_FAR_MM: then the lens was too close for a pattern so thick.
    """
    worst = max(view.parallax_mm(thickness_mm, point) for point in outline_mm)
    if worst > PARALLAX_TOO_FAR_MM:
        raise ValueError(
            f"The lens was too close: an edge that lies {thickness_mm:g} mm above the marks comes "
            f"out {worst:.0f} mm too far from the middle, at about {_metres(view.distance_mm)}. "
            "Put the marks on the pattern's own face, or photograph it from further away."
        )
    return worst


def _taken_words(view: View) -> list[str]:
    said = []
    if view.scale_ratio > SCALE_FAR:
        said.append(
            f"A millimetre looks {view.scale_ratio:.1f} times as large at one mark as at another: "
            "from further away the far end would be as sure as the near one."
        )
    if view.slant_ratio > SLANT_FAR:
        said.append(
            f"Taken about {_degrees(view.slant_ratio):.0f}° from square: what lies away from the "
            "lens is seen short, and tapped less surely."
        )
    return said


def _thickness_words(view: View, thickness_mm: float) -> list[str]:
    edge = thickness_mm * view.reach_mm / 2 / max(view.distance_mm - thickness_mm, 1e-6)
    if edge <= PARALLAX_FAR_MM:
        return []
    source = "by this picture's own slant" if view.focal_found else "if the lens is a usual one"
    return [
        f"The pattern lies {thickness_mm:g} mm above the marks, and the lens about "
        f"{_metres(view.distance_mm)} above them ({source}): an edge "
        f"{_metres(view.reach_mm / 2)} from the point under the lens comes out {edge:.1f} mm too "
        "far. Put the marks on the pattern's own face, or go further back."
    ]


def _lens_words(lens_found: bool) -> list[str]:
    if lens_found:
        return []
    return [
        "The lens's own bending of straight lines cannot be told from these marks, and a wide lens "
        "may bend them by a hundredth (from memory): keep the board in the middle half of the "
        f"picture, or spread {MARKS_FOR_THE_LENS} marks or more out to the picture's corners."
    ]


def _stretch(plane: Plane, point_mm: Floats) -> tuple[float, float]:
    """Pixels to the millimetre there, the greater way and the lesser (singular values)."""
    step = 0.5
    near = np.array([point_mm + d for d in ([step, 0], [-step, 0], [0, step], [0, -step])])
    seen = to_px(plane, near)
    slopes = np.column_stack((seen[0] - seen[1], seen[2] - seen[3])) / (2 * step)
    great, small = np.linalg.svd(slopes, compute_uv=False)
    return float(great), max(float(small), 1e-12)


def _lens(plane: Plane, points_mm: Floats) -> tuple[float, tuple[float, float], bool]:
    """Distance of the lens above the board, the point under it, and whether its focal is found.

    The columns of a homography are those of a rotation through the lens's focal length, which
    must stay square and equal (Hartley and Zisserman, ch. 8, from memory). A board seen almost
    square on does not tell the focal length; then a usual one is taken.
    """
    matrix = plane.matrix()
    focal, found = _focal(matrix)
    turned = matrix.copy()
    turned[:2] /= focal
    size = math.sqrt(float(np.linalg.norm(turned[:, 0]) * np.linalg.norm(turned[:, 1])))
    middle = points_mm.mean(axis=0)
    ahead = float(turned[2] @ np.array([*middle, 1.0]))
    turned *= math.copysign(1.0, ahead) / size
    one, two, off = turned[:, 0], turned[:, 1], turned[:, 2]
    left, _, right = np.linalg.svd(np.column_stack((one, two, np.cross(one, two))))
    place = -(left @ right).T @ off
    return abs(float(place[2])), (float(place[0]), float(place[1])), found


def _focal(matrix: Floats) -> tuple[float, bool]:
    """In half diagonals of the picture, from the two conditions, by least squares."""
    (a, d), (b, e), (c, f) = matrix[0, :2], matrix[1, :2], matrix[2, :2]
    known = np.array([a * d + b * e, a * a + b * b - d * d - e * e])
    wanted = np.array([c * f, c * c - f * f])
    across = math.hypot(a, b) * math.hypot(d, e)
    usual = 2 * USUAL_FOCAL
    if across == 0 or np.linalg.norm(known) < TELLING_SLANT * across:
        return usual, False
    inverse = -float(known @ wanted) / float(known @ known)
    if inverse <= 0:
        return usual, False
    focal = 1 / math.sqrt(inverse)
    return (focal, True) if 2 * FOCAL_FROM < focal < 2 * FOCAL_TO else (usual, False)


def _metres(mm: float) -> str:
    return f"{mm / 1000:.1f} m" if mm >= 950 else f"{mm:.0f} mm"


def _degrees(slant_ratio: float) -> float:
    return math.degrees(math.acos(min(1.0, 1.0 / slant_ratio)))
