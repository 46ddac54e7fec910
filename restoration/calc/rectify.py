"""A photograph of something flat made true: from places in the picture to millimetres.

A flat board photographed at a slant is a projective picture of itself, so four marks or more whose
true places are known undo the slant (a homography). It is first solved linearly from centred and
scaled figures (normalised direct linear transformation), then refined until the marks as they
should appear lie as near as can be to the marks as they were tapped (least squares of the
reprojection error). Method: Hartley and Zisserman, Multiple View Geometry in Computer Vision
(2nd ed. 2003), ch. 4, from memory. With six marks or more the lens's own bending of straight lines
is found too, by the division model of Fitzgibbon (2001), from memory; see `straightened`.

Frames. Picture: pixels from its upper left corner, y down. Board: millimetres, x to the right and
y up as one stands before it. The lens is taken to look through the middle of the picture: a
picture that was trimmed unevenly, or put together from several, breaks that.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

Floats = NDArray[np.float64]

FEWEST_MARKS = 4
MOST_MARKS = 24
MARKS_FOR_THE_LENS = 6
CLICK_PX = 1.0
"""How well a mark is tapped under a magnifier, one standard deviation: our own assumption."""
KNOWN_MM = 0.5
"""How well the place of a mark is known from a rule or tape: our own assumption."""
LENS_BEND = 0.01
"""How much a lens bends that nobody has measured, at the picture's corner, one standard deviation:
our own assumption; most phones straighten their pictures to less, old wide lenses do not."""
ASSUMED_IS_WORTH = 4
"""How many readings the assumed error of a mark is worth against what the marks themselves show."""


@dataclass(frozen=True)
class Mark:
    """One mark: where it was tapped, in pixels, and where it truly lies, in mm."""

    x_px: float
    y_px: float
    x_mm: float
    y_mm: float


@dataclass(frozen=True)
class Plane:
    """How a picture of width_px by height_px and its board belong together.

    `appears` is the homography, row by row, from millimetres to the straightened picture (measured
    from its middle, y up, half its diagonal being one). `bend` is the lens, 0 for a straight one.
    """

    appears: tuple[float, ...]
    bend: float
    width_px: int
    height_px: int

    def matrix(self) -> Floats:
        return np.array(self.appears, dtype=np.float64).reshape(3, 3)

    def half_diagonal_px(self) -> float:
        return math.hypot(self.width_px, self.height_px) / 2.0


@dataclass(frozen=True)
class Fit:
    """A plane with what the marks say of it. `residuals_mm` has one figure for each mark.

    `spread` is the covariance of the eight figures of the homography (taken `about` the marks) and
    of the bend; `click_px` the error of a mark that it was reckoned with.
    """

    plane: Plane
    residuals_mm: tuple[float, ...]
    click_px: float
    spread: tuple[tuple[float, ...], ...]
    about: tuple[float, float, float]

    @property
    def lens_found(self) -> bool:
        """Whether the marks tell the lens's bend at least twice as well as one knew before."""
        enough = len(self.residuals_mm) >= MARKS_FOR_THE_LENS
        return enough and math.sqrt(self.spread[8][8]) < LENS_BEND / 2


def fit_plane(marks: Sequence[Mark], width_px: int, height_px: int) -> Fit:
    """The plane through marks on a picture of that size.

    Four marks fit exactly whatever they are: their residuals are nought and prove nothing. The
    lens's bend is held near nought as by one measurement of LENS_BEND, so that it moves only as far
    as the marks prove; four or five prove nothing of it, and it only widens the doubt. How much a
    mark proves is assumed first, then taken from how well the marks agree (`_believed_px`). Call
    `rectify_checks` first: marks in one line end here in a ValueError that says less. ValueError
    for fewer than FEWEST_MARKS or more than MOST_MARKS.
    """
    if not FEWEST_MARKS <= len(marks) <= MOST_MARKS:
        raise ValueError(f"Give {FEWEST_MARKS} to {MOST_MARKS} marks, not {len(marks)}.")
    seen = np.array([(m.x_px, m.y_px) for m in marks], dtype=np.float64)
    true = np.array([(m.x_mm, m.y_mm) for m in marks], dtype=np.float64)
    middle = true.mean(axis=0)
    about = (float(middle[0]), float(middle[1]), float(np.abs(true - middle).max()))
    size = width_px, height_px
    figures = np.append(_linear(_normal(true, about), _centred(seen, *size)), 0.0)
    assumed = mark_px = _assumed_px(_plane(figures, about, size), true)

    def off_px(figures: Floats) -> Floats:
        off = (to_px(_plane(figures, about, size), true) - seen).ravel()
        return np.append(off, mark_px * figures[8] / LENS_BEND)

    for _ in range(2):
        found = least_squares(off_px, figures, method="lm", x_scale="jac", xtol=1e-14, ftol=1e-14)
        figures, mark_px = found.x, _believed_px(found.fun[:-1], assumed)
    return _fit(figures, found.fun, np.asarray(found.jac), (seen, true), about, size, assumed)


def to_mm(plane: Plane, points_px: Floats) -> Floats:
    """Where places in the picture lie on the board, mm. One row a point."""
    seen = straightened(_centred(points_px, plane.width_px, plane.height_px), plane.bend)
    back = np.asarray(np.linalg.inv(plane.matrix()), dtype=np.float64)
    return _projected(back, seen)


def to_px(plane: Plane, points_mm: Floats) -> Floats:
    """Where places on the board appear in the picture, pixels. One row a point."""
    seen = bent_as_seen(_projected(plane.matrix(), points_mm), plane.bend)
    scale = plane.half_diagonal_px()
    return np.column_stack(
        (plane.width_px / 2 + scale * seen[:, 0], plane.height_px / 2 - scale * seen[:, 1])
    )


def doubt_mm(fit: Fit, x_mm: float, y_mm: float) -> float:
    """How far out a point tapped there may well be, mm: two standard deviations the worse way.

    The errors of the marks carried through the fit to that place (first order), with the error of
    tapping the point itself. It grows fast outside the marks. It knows nothing of timber that lies
    above the board's plane, nor of a lens that bends where no bend was fitted.
    """
    there = to_px(fit.plane, np.array([[x_mm, y_mm]]))
    size = fit.plane.width_px, fit.plane.height_px
    figures = _figures(fit)
    by_figures = _slopes(lambda f: _mm_by(f, there, fit.about, size)[0], figures)
    by_tap = _slopes(lambda p: to_mm(fit.plane, p.reshape(1, 2))[0], there[0])
    spread = by_figures @ np.array(fit.spread) @ by_figures.T
    spread += fit.click_px**2 * by_tap @ by_tap.T
    return 2.0 * math.sqrt(max(0.0, float(np.linalg.eigvalsh(spread)[-1])))


def straightened(seen: Floats, bend: float) -> Floats:
    """Undo the lens: p / (1 + bend r^2), r from the middle with half the diagonal as one.

    A negative bend is a barrel, as wide lenses have. The division model; one term.
    """
    return np.asarray(seen / (1.0 + bend * np.sum(seen**2, axis=1, keepdims=True)))


def bent_as_seen(straight: Floats, bend: float) -> Floats:
    """The other way: what the lens makes of straight lines. Solves bend R r^2 - r + R = 0."""
    if bend == 0.0:
        return straight
    far = np.sqrt(np.sum(straight**2, axis=1, keepdims=True))
    under = np.maximum(0.0, 1.0 - 4.0 * bend * far**2)
    return np.asarray(straight * 2.0 / (1.0 + np.sqrt(under)))


def _fit(
    figures: Floats,
    off_px: Floats,
    jac: Floats,
    points: tuple[Floats, Floats],
    about: tuple[float, float, float],
    size: tuple[int, int],
    assumed_px: float,
) -> Fit:
    plane = _plane(figures, about, size)
    off = to_mm(plane, points[0]) - points[1]
    spare = len(off_px) - len(figures)
    shown = math.sqrt(float(np.sum(off_px**2)) / spare) if spare else 0.0
    click = max(assumed_px, shown)
    jac[-1, 8] = click / LENS_BEND  # the doubt keeps to the assumption, however well marks agree
    try:
        spread = click**2 * np.asarray(np.linalg.inv(jac.T @ jac))
    except np.linalg.LinAlgError:
        raise ValueError("The marks do not settle the board: spread them further apart.") from None
    return Fit(
        plane,
        tuple(float(n) for n in np.hypot(off[:, 0], off[:, 1])),
        click,
        tuple(tuple(float(n) for n in row) for row in spread),
        about,
    )


def _assumed_px(plane: Plane, true: Floats) -> float:
    """The error of one mark in pixels, tapping and measuring together, before any is seen."""
    step = to_mm(plane, to_px(plane, true) + np.array([1.0, 0.0])) - true
    mm_in_a_pixel = float(np.median(np.hypot(step[:, 0], step[:, 1])))
    return math.hypot(CLICK_PX, KNOWN_MM / max(mm_in_a_pixel, 1e-9))


def _believed_px(off_px: Floats, assumed_px: float) -> float:
    """The error of one mark: what was assumed and what the marks show, by what each is worth."""
    spare = max(0, len(off_px) - 8)
    worth = ASSUMED_IS_WORTH * assumed_px**2 + (float(np.sum(off_px**2)) if spare else 0.0)
    return math.sqrt(worth / (ASSUMED_IS_WORTH + spare))


def _linear(true: Floats, seen: Floats) -> Floats:
    """The eight figures by the direct linear transformation, the last of nine being one."""
    ones = np.ones(len(true))
    nought = np.zeros(len(true))
    x, y, u, v = true[:, 0], true[:, 1], seen[:, 0], seen[:, 1]
    across = np.column_stack((x, y, ones, nought, nought, nought, -u * x, -u * y, -u))
    up = np.column_stack((nought, nought, nought, x, y, ones, -v * x, -v * y, -v))
    figures = np.linalg.svd(np.vstack((across, up)))[2][-1]
    if abs(figures[8]) < 1e-9:
        raise ValueError("The marks do not settle the board: look at their places.")
    return np.asarray(figures[:8] / figures[8])


def _normal(true: Floats, about: tuple[float, float, float]) -> Floats:
    return np.asarray((true - np.array(about[:2])) / about[2])


def _plane(figures: Floats, about: tuple[float, float, float], size: tuple[int, int]) -> Plane:
    matrix = np.append(figures[:8], 1.0).reshape(3, 3)
    shift = np.array(
        [
            [1 / about[2], 0, -about[0] / about[2]],
            [0, 1 / about[2], -about[1] / about[2]],
            [0, 0, 1],
        ]
    )
    return Plane(tuple(float(n) for n in (matrix @ shift).ravel()), float(figures[8]), *size)


def _figures(fit: Fit) -> Floats:
    x, y, scale = fit.about
    back = np.array([[scale, 0, x], [0, scale, y], [0, 0, 1]])
    matrix = (fit.plane.matrix() @ back).ravel()
    return np.append(matrix[:8] / matrix[8], fit.plane.bend)


def _mm_by(
    figures: Floats, seen: Floats, about: tuple[float, float, float], size: tuple[int, int]
) -> Floats:
    return to_mm(_plane(figures, about, size), seen)


def _slopes(of: Callable[[Floats], Floats], at: Floats) -> Floats:
    """How fast each figure of `of` changes with each of `at`, by central differences."""
    columns = []
    for n, value in enumerate(at):
        step = np.zeros(len(at))
        step[n] = 1e-6 * max(1.0, abs(float(value)))
        columns.append((of(at + step) - of(at - step)) / (2 * step[n]))
    return np.column_stack(columns)


def _centred(points_px: Floats, width: int, height: int) -> Floats:
    scale = math.hypot(width, height) / 2.0
    return np.column_stack(
        ((points_px[:, 0] - width / 2) / scale, (height / 2 - points_px[:, 1]) / scale)
    )


def _projected(matrix: Floats, points: Floats) -> Floats:
    flat = points @ matrix[:, :2].T + matrix[:, 2]
    return np.asarray(flat[:, :2] / flat[:, 2:])
