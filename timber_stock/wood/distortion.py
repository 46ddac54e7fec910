"""The shape a section dries to.

A section free to shrink by e_r along the radius and e_t along the rings keeps both, without any
stress, under the polar map about the pith

    r' = r (1 - e_r)        angle' = angle (1 - e_t) / (1 - e_r)

The map stretches radii by 1 - e_r and rings by 1 - e_t, without shear, so the area shrinks by
exactly (1 - e_r)(1 - e_t). Round the pith the angles no longer close: a boxed heart is short of
2 pi (1 - (1 - e_t)/(1 - e_r)), and there a check must open.

Standing of the figures: derived (exact geometry). It takes the rings to be circles about the pith,
the shrinkage to be the same all over and the section to have reached one moisture throughout. Set,
collapse, reaction wood and drying stress are left out, so it is an estimate of the free shape.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from timber_stock.wood.checked import finite
from timber_stock.wood.outline import (
    Corners,
    Outline,
    Point,
    as_complex,
    as_points,
    centroid,
    corners_of,
    cross,
    signed_area_mm2,
)
from timber_stock.wood.polar import DensePath, Path, dense, path_round

LARGEST_PERCENT = 50.0
"""No wood shrinks or swells by half; a larger figure is a slip."""


@dataclass(frozen=True)
class Face:
    """One face of a section, between a corner and the next.

    `dried_length_mm` is the chord between the dried corners. `cup_mm` is how far the dried face
    leaves that chord at most: positive hollow (into the wood), negative proud of it. `turned_deg`
    is how far the chord has turned from the green face, counter-clockwise.
    """

    green_length_mm: float
    dried_length_mm: float
    cup_mm: float
    turned_deg: float


@dataclass(frozen=True)
class DriedSection:
    """A dried section, with the pith where it was.

    `outline_mm` is dense and in the order of the green corners; a check, if one opens, is in it as
    a notch from the face to the pith. `green_outline_mm` holds the same points before drying.
    `corners_mm` and `corner_angles_deg` have one entry for each green corner; the angles lie
    between the chords that join dried corners. `corner_marks` and `check_mark` are the places in
    `outline_mm` of the corners and of the root of the check.
    `check_opening_mm` is the width of the check between its lips at `check_face`, the face nearest
    the pith. `held_closed` says that a boxed heart has more ring than radius left, so that it
    stays closed under pressure and no free shape exists: it is then shown shrunk evenly to the
    same area.
    """

    outline_mm: tuple[Point, ...]
    green_outline_mm: tuple[Point, ...]
    corners_mm: tuple[Point, ...]
    green_corners_mm: tuple[Point, ...]
    corner_angles_deg: tuple[float, ...]
    corner_marks: tuple[int, ...]
    check_mark: int | None
    faces: tuple[Face, ...]
    boxed_heart: bool
    pith_on_face: bool
    held_closed: bool
    check_opening_mm: float
    check_face: int | None
    gap_deg: float
    pith_mm: Point
    radial_percent: float
    tangential_percent: float
    green_area_mm2: float
    area_mm2: float


def closure_gap_deg(radial_percent: float, tangential_percent: float) -> float:
    """Degrees of ring missing round a dried boxed heart: 360 (1 - (1 - e_t)/(1 - e_r)).

    Shrinkages in percent, between -50 and 50. Negative when wood is left over. Derived.
    """
    e_r, e_t = _shares(radial_percent, tangential_percent)
    return 360.0 * (1.0 - (1.0 - e_t) / (1.0 - e_r))


def dry_section(
    outline_mm: Outline, pith_mm: Point, radial_percent: float, tangential_percent: float
) -> DriedSection:
    """Dry a section cut from a log whose pith is at a known point inside, on or outside it.

    outline_mm: (x, y) pairs in mm, in order round the section either way about, three or more.
    pith_mm: (x, y) in mm in the same frame. radial_percent, tangential_percent: shrinkage from
    green to the moisture in question, percent of the green size; negative is swelling.

    The pith stays in its place. Rigid turning is chosen so that the wood as a whole does not turn
    (the mean over the area of the local rotation is nought), so turning the log turns the answer.
    A boxed heart opens along the straight line from the pith to the nearest point of the outline.

    Raises ValueError for an outline that is no simple polygon, for numbers that are not finite,
    and for shrinkages beyond 50 % either way.
    """
    e_r, e_t = _shares(radial_percent, tangential_percent)
    corners = corners_of(outline_mm)
    path = path_round(corners, as_complex(pith_mm, "The pith"))
    walk = dense(path)
    return _Drying(corners, as_complex(pith_mm, "The pith"), e_r, e_t, path, walk).result()


def over_green_mm(dried: DriedSection, exaggeration: float = 1.0) -> tuple[Point, ...]:
    """The dried outline laid centre to centre over the green one, for drawing.

    Every point moves `exaggeration` times as far from its green place as it does in the wood: 1 is
    true, 5 shows five times the movement and must be stated beside the drawing. Between 0 and 50.
    """
    factor = finite(exaggeration, "The exaggeration")
    if not 0.0 <= factor <= 50.0:
        raise ValueError(f"The exaggeration is {factor:g}; it must lie between 0 and 50.")
    green, wood = _array(dried.green_outline_mm), _array(dried.outline_mm)
    shift = centroid(_array(dried.green_corners_mm)) - centroid(wood)
    return as_points(green + factor * (wood + shift - green))


def _array(points: tuple[Point, ...]) -> Corners:
    return np.array([complex(x, y) for x, y in points])


def _shares(radial_percent: float, tangential_percent: float) -> tuple[float, float]:
    shares = []
    for name, value in (("Radial", radial_percent), ("Tangential", tangential_percent)):
        percent = finite(value, f"{name} shrinkage")
        if abs(percent) > LARGEST_PERCENT:
            raise ValueError(
                f"{name} shrinkage is {percent:g} %; no wood moves more than "
                f"{LARGEST_PERCENT:g} % of its size."
            )
        shares.append(percent / 100.0)
    return shares[0], shares[1]


@dataclass(frozen=True)
class _Drying:
    """One section on its way from green to dry: the steps of `dry_section`, each by name."""

    corners: Corners
    pith: complex
    e_r: float
    e_t: float
    path: Path
    walk: DensePath

    @property
    def stretch(self) -> float:
        return (1.0 - self.e_t) / (1.0 - self.e_r)

    @property
    def gap(self) -> float:
        return 2.0 * math.pi * (1.0 - self.stretch) if self.path.place.inside else 0.0

    @property
    def opens(self) -> bool:
        return self.gap > 1e-12

    @property
    def held_closed(self) -> bool:
        return self.gap < -1e-12

    def mapped(self) -> Corners:
        """Every dense point after drying, about the pith."""
        if self.held_closed:
            return self.walk.points * math.sqrt((1.0 - self.e_r) * (1.0 - self.e_t))
        middle = self.path.mean_angle
        turned = middle + self.stretch * (self.walk.angles - middle)
        shrunk: Corners = (1.0 - self.e_r) * np.abs(self.walk.points) * np.exp(1j * turned)
        return shrunk

    def result(self) -> DriedSection:
        wood = self.mapped()
        marks = self._marks_of_corners()
        dried = np.array([wood[at].mean() for at in marks])
        outline = self._closed(wood, marks[0][0])
        green = self._closed(self.walk.points, marks[0][0])
        place = self.path.place
        return DriedSection(
            outline_mm=as_points(outline + self.pith),
            green_outline_mm=as_points(green + self.pith),
            corners_mm=as_points(dried + self.pith),
            green_corners_mm=as_points(self.corners),
            corner_angles_deg=_inner_angles_deg(dried, signed_area_mm2(self.corners) > 0),
            corner_marks=tuple((at[0] - marks[0][0]) % len(outline) for at in marks),
            check_mark=len(outline) - 1 - marks[0][0] if self.opens else None,
            faces=tuple(self._face(i, dried, wood) for i in range(len(self.corners))),
            boxed_heart=place.inside,
            pith_on_face=place.on_edge,
            held_closed=self.held_closed,
            check_opening_mm=float(abs(wood[-1] - wood[0])) if self.opens else 0.0,
            check_face=place.edge if self.opens else None,
            gap_deg=math.degrees(self.gap),
            pith_mm=(self.pith.real, self.pith.imag),
            radial_percent=100.0 * self.e_r,
            tangential_percent=100.0 * self.e_t,
            green_area_mm2=abs(signed_area_mm2(self.corners)),
            area_mm2=abs(signed_area_mm2(outline)),
        )

    def _marks_of_corners(self) -> list[list[int]]:
        """For each green corner its places in the walk: two when the walk begins and ends there."""
        named = list(zip(self.path.corners, self.walk.marks, strict=True))
        return [[at for name, at in named if name == i] for i in range(len(self.corners))]

    def _closed(self, points: Corners, first: int) -> Corners:
        """The walk as an outline from the first corner on, with the notch of an open check."""
        ring = np.append(points, 0j) if self.opens else points[:-1]
        return np.roll(ring, -first)

    def _face(self, i: int, dried: Corners, wood: Corners) -> Face:
        start, end = dried[i], dried[(i + 1) % len(dried)]
        chord, green = end - start, self.corners[(i + 1) % len(dried)] - self.corners[i]
        inward = 1.0 if signed_area_mm2(self.corners) > 0 else -1.0
        depth = inward * cross(chord / abs(chord), self._points_of_edge(i, wood) - start)
        return Face(
            green_length_mm=float(abs(green)),
            dried_length_mm=float(abs(chord)),
            cup_mm=float(depth[np.argmax(np.abs(depth))]),
            turned_deg=math.degrees(float(np.angle(chord * np.conj(green)))),
        )

    def _points_of_edge(self, i: int, wood: Corners) -> Corners:
        marks, steps = self.walk.marks, self.path.edges
        runs = [wood[marks[k] : marks[k + 1] + 1] for k, edge in enumerate(steps) if edge == i]
        return np.concatenate(runs)


def _inner_angles_deg(corners: Corners, counter_clockwise: bool) -> tuple[float, ...]:
    """The angle inside the section at each corner, between the chords to its two neighbours."""
    back, onward = np.roll(corners, 1) - corners, np.roll(corners, -1) - corners
    turn = np.angle(back * np.conj(onward))
    inner = np.mod(turn if counter_clockwise else -turn, 2.0 * math.pi)
    return tuple(np.degrees(inner).tolist())
