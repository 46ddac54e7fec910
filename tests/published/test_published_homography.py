"""A slanting photograph made true, against pictures that general-purpose libraries slanted.

The slant is Pillow's own (`Image.transform` with `PERSPECTIVE`), its eight coefficients solved by
scipy from four corners; a lens is laid over it by scipy.ndimage with the polynomial r (1 + k r^2),
which is not the law the program fits. Softened, and with the noise of a sensor. The marks are found
in the finished picture as connected patches of dark pixels, by their centre of mass. Least squares
over the same marks is scipy's own `curve_fit`. None of the program's code makes or reads a picture.
"""

import math
from dataclasses import dataclass
from functools import cache
from itertools import combinations

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter
from scipy import ndimage, optimize

from restoration.calc.rectify import ASSUMED_IS_WORTH, LENS_BEND, Mark, fit_plane, to_mm
from restoration.calc.rectify_checks import check_marks

SIZE = WIDTH, HEIGHT = 1600, 1200
HALF_DIAGONAL = math.hypot(WIDTH, HEIGHT) / 2
PX_IN_MM = 2.0
BOARD = 1500.0, 1000.0
MARKS = (
    (170, 150), (640, 130), (1330, 160), (1345, 520), (1310, 860), (720, 880), (190, 845),
    (150, 480), (455, 330), (1010, 645),
)  # fmt: skip
NOT_MARKS = ((230, 250), (1230, 250), (300, 700), (960, 330), (620, 640), (1180, 770))
"""Discs that are looked at and never told to the program; the first two are a metre apart."""
CORNERS = {
    "from the left": ((128, 184), (1512, 72), (1448, 1064), (88, 944)),
    "from below": ((336, 112), (1256, 152), (1520, 1096), (64, 1032)),
    "on its side": ((1360, 96), (1312, 1120), (264, 1064), (144, 160)),
}
"""Where the board's four corners fall in the picture: upper left, right, lower right, left."""
BARREL, NONE, CUSHION = -0.012, 0.0, 0.01
"""About what `rectify.LENS_BEND` supposes of a lens that nobody has measured."""


def slant(picture, board):
    """Pillow's eight coefficients, from places in the picture to pixels of the board."""

    def off(eight):
        a, b, c, d, e, f, g, h = eight
        return [
            miss
            for (x, y), (u, v) in zip(picture, board, strict=True)
            for miss in (a * x + b * y + c - u * (g * x + h * y + 1),
                         d * x + e * y + f - v * (g * x + h * y + 1))
        ]  # fmt: skip

    start = [1.0, 0, 0, 0, 1.0, 0, 0, 0]
    return optimize.least_squares(off, start, x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15).x


@dataclass(frozen=True)
class Photograph:
    """A finished picture, and where every disc of it was found: (x, y) in pixels by its place."""

    grey: np.ndarray
    found: dict
    eight: tuple


@cache
def photograph(way, bend):
    board_px = [(x * PX_IN_MM, y * PX_IN_MM) for x, y in
                ((0, 0), (BOARD[0], 0), BOARD, (0, BOARD[1]))]  # fmt: skip
    eight = tuple(slant(CORNERS[way], board_px))
    straight = drawn().transform(
        SIZE, Image.Transform.PERSPECTIVE, eight, Image.Resampling.BICUBIC, fillcolor=205
    )
    seen = Image.fromarray(through_lens(np.asarray(straight, dtype=float), bend).astype(np.uint8))
    soft = np.asarray(seen.filter(ImageFilter.GaussianBlur(0.8)), dtype=float)
    grey = soft + np.random.default_rng(8).normal(0, 6, soft.shape)
    return Photograph(grey, matched(patches(grey), eight), eight)


@cache
def drawn():
    """The board with its discs, dark on light; drawn twice as large and made small again."""
    large = 2
    size = [round(side * PX_IN_MM) for side in BOARD]
    board = Image.new("L", (size[0] * large, size[1] * large), 205)
    pen = ImageDraw.Draw(board)
    for x, y in (*MARKS, *NOT_MARKS):
        middle, radius = (x * PX_IN_MM * large, y * PX_IN_MM * large), 10 * PX_IN_MM * large
        pen.circle(middle, radius, fill=30)
    return board.resize(size, Image.Resampling.BOX)


def through_lens(straight, bend):
    """What a lens makes of it: a point at r from the middle appears at r (1 + bend r^2)."""
    if not bend:
        return straight
    rows, columns = np.mgrid[:HEIGHT, :WIDTH] + 0.5
    x, y = (columns - WIDTH / 2) / HALF_DIAGONAL, (rows - HEIGHT / 2) / HALF_DIAGONAL
    seen = np.hypot(x, y)
    true = seen.copy()
    for _ in range(8):  # the law undone: r = seen / (1 + bend r^2)
        true = seen / (1 + bend * true**2)
    share = np.where(seen > 0, true / np.maximum(seen, 1e-12), 1.0)
    back = [(y * share) * HALF_DIAGONAL + HEIGHT / 2 - 0.5,
            (x * share) * HALF_DIAGONAL + WIDTH / 2 - 0.5]  # fmt: skip
    return np.clip(ndimage.map_coordinates(straight, back, order=3, mode="nearest"), 0, 255)


def patches(grey):
    """The middle of every dark patch, weighed by its darkness."""
    dark = np.clip(160 - ndimage.gaussian_filter(grey, 1.0), 0, None)
    labels, count = ndimage.label(dark > 15)
    sizes = ndimage.sum_labels(dark > 15, labels, range(1, count + 1))
    kept = [n for n, size in enumerate(sizes, 1) if size > 40]
    return [(x + 0.5, y + 0.5) for y, x in ndimage.center_of_mass(dark, labels, kept)]


def matched(places, eight):
    """Which disc each patch is: the one whose place on the board is nearest."""
    a, b, c, d, e, f, g, h = eight
    found = {}
    for x, y in places:
        below = (g * x + h * y + 1) * PX_IN_MM
        there = (a * x + b * y + c) / below, (d * x + e * y + f) / below
        nearest = min((*MARKS, *NOT_MARKS), key=lambda disc: math.dist(disc, there))
        assert nearest not in found
        found[nearest] = (x, y)
    assert len(found) == len(MARKS) + len(NOT_MARKS)
    return found


def board_up(place):
    """The board's own frame has y up."""
    return float(place[0]), BOARD[1] - place[1]


def fitted(picture, discs=MARKS):
    marks = [Mark(*picture.found[disc], *board_up(disc)) for disc in discs]
    assert not [said for said in check_marks(marks, *SIZE) if "line" in said]
    return fit_plane(marks, *SIZE)


def read_at(fit, picture, discs):
    return to_mm(fit.plane, np.array([picture.found[disc] for disc in discs]))


def furthest_off(fit, picture):
    read = read_at(fit, picture, NOT_MARKS)
    return max(math.dist(at, board_up(disc)) for at, disc in zip(read, NOT_MARKS, strict=True))


ways = pytest.mark.parametrize("way", CORNERS)
lenses = pytest.mark.parametrize("bend", [BARREL, NONE, CUSHION])


@ways
@lenses
def test_a_metre_between_places_that_were_no_marks_comes_out_within_half_a_millimetre(way, bend):
    picture = photograph(way, bend)
    fit = fitted(picture)
    one, other = read_at(fit, picture, NOT_MARKS[:2])
    assert math.dist(NOT_MARKS[0], NOT_MARKS[1]) == 1000
    assert math.dist(one, other) == pytest.approx(1000, abs=0.5)


@ways
@lenses
def test_every_place_that_was_no_mark_is_where_it_was_drawn(way, bend):
    """Half a millimetre on a metre, for every pair, and for the place of each."""
    picture = photograph(way, bend)
    read = read_at(fitted(picture), picture, NOT_MARKS)
    assert furthest_off(fitted(picture), picture) < 0.5
    for one, other in combinations(range(len(NOT_MARKS)), 2):
        true = math.dist(NOT_MARKS[one], NOT_MARKS[other])
        assert math.dist(read[one], read[other]) == pytest.approx(true, abs=0.5)


@ways
def test_four_marks_give_the_metre_back_where_the_lens_is_straight(way):
    picture = photograph(way, NONE)
    fit = fitted(picture, [MARKS[n] for n in (0, 2, 4, 6)])
    one, other = read_at(fit, picture, NOT_MARKS[:2])
    assert math.dist(one, other) == pytest.approx(1000, abs=0.5)


@pytest.mark.parametrize("bend", [BARREL, CUSHION])
def test_four_marks_cannot_undo_a_lens_and_do_not_say_that_they_have(bend):
    """Without the lens the metre is lost: so the tests above do see that it is found."""
    picture = photograph("from the left", bend)
    four, ten = fitted(picture, [MARKS[n] for n in (0, 2, 4, 6)]), fitted(picture)
    assert furthest_off(four, picture) > 2 * furthest_off(ten, picture)
    assert furthest_off(four, picture) > 0.5
    assert not four.lens_found
    assert math.copysign(1, ten.plane.bend) == math.copysign(1, bend)


@ways
def test_the_matrix_is_the_one_that_pillow_slanted_the_board_with(way):
    """Marks put by Pillow's coefficients to the last digit, not found: then so is the matrix."""
    eight = photograph(way, NONE).eight
    pillow = np.linalg.inv(np.append(eight, 1.0).reshape(3, 3))
    marks = []
    for x, y in MARKS:
        across, down, below = pillow @ (x * PX_IN_MM, y * PX_IN_MM, 1)
        marks.append(Mark(across / below, down / below, *board_up((x, y))))
    fit = fit_plane(marks, *SIZE)
    assert fit.plane.bend == pytest.approx(0, abs=1e-8)
    board = np.array([[PX_IN_MM, 0, 0], [0, -PX_IN_MM, BOARD[1] * PX_IN_MM], [0, 0, 1]])
    true = picture_frame() @ pillow @ board
    assert fit.plane.matrix() / fit.plane.matrix()[2, 2] == pytest.approx(
        true / true[2, 2], rel=1e-6, abs=1e-10
    )


@ways
@lenses
def test_the_fit_is_the_one_that_scipys_own_least_squares_finds(way, bend):
    """Nine figures over the same marks by `curve_fit`, the bend held near nought by one
    measurement of LENS_BEND: first beside marks as good as is assumed, then as they show."""
    picture = photograph(way, bend)
    marks = np.array([(*picture.found[disc], *board_up(disc)) for disc in MARKS])
    fit = fitted(picture)
    left = np.sum((seen_by(by_curve_fit(marks, fit.click_px), marks) - marks[:, :2].T) ** 2)
    spare = 2 * len(marks) - 8
    shown = math.sqrt((ASSUMED_IS_WORTH * fit.click_px**2 + left) / (ASSUMED_IS_WORTH + spare))
    nine = by_curve_fit(marks, shown)
    assert nine[8] == pytest.approx(fit.plane.bend, abs=1e-6)
    matrix = np.append(nine[:8], 1.0).reshape(3, 3) @ np.diag([1e-3, 1e-3, 1])
    ours = fit.plane.matrix() / fit.plane.matrix()[2, 2]
    assert ours == pytest.approx(matrix, rel=1e-5, abs=1e-8)


def picture_frame():
    """From pixels, y down, to the middle of the picture with half the diagonal as one, y up."""
    return np.array([[1 / HALF_DIAGONAL, 0, -WIDTH / 2 / HALF_DIAGONAL],
                     [0, -1 / HALF_DIAGONAL, HEIGHT / 2 / HALF_DIAGONAL],
                     [0, 0, 1]])  # fmt: skip


def seen_by(nine, marks):
    """Metres to pixels: a homography, then the division model r = R (1 + bend r^2) undone."""
    matrix = np.append(nine[:8], 1.0).reshape(3, 3)
    x, y, below = matrix @ np.vstack((marks[:, 2:].T / 1000, np.ones(len(marks))))
    x, y = x / below, y / below
    far = np.hypot(x, y)
    bent = far.copy()
    for _ in range(60):
        bent = far * (1 + nine[8] * bent**2)
    grown = HALF_DIAGONAL * bent / far
    return np.array((WIDTH / 2 + grown * x, HEIGHT / 2 - grown * y))


def by_curve_fit(marks, mark_px):
    told = np.append(marks[:, :2].T.ravel(), 0.0)
    return optimize.curve_fit(
        lambda _, *nine: np.append(seen_by(nine, marks).ravel(), nine[8]),
        np.arange(len(told)),
        told,
        [1.0, 0, -0.5, 0, 1.0, -0.5, 0, 0, 0],
        sigma=np.append(np.full(2 * len(marks), mark_px), LENS_BEND),
        absolute_sigma=True,
        xtol=1e-14,
        ftol=1e-14,
        maxfev=20_000,
    )[0]
