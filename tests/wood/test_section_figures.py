"""Dried sections and ring angles against figures worked apart from the program, in inches.

White oak from green to 12 %: 3.36 % radial, 6.30 % tangential (Wood Handbook Table 4-3, Eq. 4-9).
The figures follow from the polar map and from ring geometry and were worked by hand or on a grid.
"""

import math

import numpy as np
import pytest

from timber_stock.wood.distortion import closure_gap_deg, dry_section
from timber_stock.wood.outline import rectangle_mm
from timber_stock.wood.rings import ring_angles, share_at_or_above

RADIAL, TANGENTIAL = 3.36, 6.30
PITH = (0.0, 0.0)


def chords(dried):
    return [face.dried_length_mm for face in dried.faces]


def diagonals(dried):
    c = dried.corners_mm
    return math.dist(c[0], c[2]), math.dist(c[1], c[3])


def test_a_timber_free_of_heart_an_inch_from_the_pith():
    """8 x 8 in, x -4 to 4, y 1 to 9."""
    dried = dry_section(rectangle_mm((-4, 1), 8, 8), PITH, RADIAL, TANGENTIAL)
    near, right, far, left = chords(dried)
    assert (near, far) == pytest.approx((7.647, 7.509), abs=5e-4)
    assert (left, right) == pytest.approx((7.625, 7.625), abs=5e-4)
    assert diagonals(dried) == pytest.approx((10.750, 10.750), abs=5e-4)
    assert pytest.approx(7.731, abs=5e-4) == 8 * (1 - RADIAL / 100)  # on the line to the pith
    assert dried.faces[2].cup_mm == pytest.approx(0.049, abs=6e-4)
    assert dried.faces[0].cup_mm == pytest.approx(-0.155, abs=6e-4)


def test_a_flat_sawn_board_cups_away_from_the_pith():
    """1 x 8 in, x -4 to 4, y 8 to 9: its edges move away from the pith, towards the bark."""
    dried = dry_section(rectangle_mm((-4, 8), 8, 1), PITH, RADIAL, TANGENTIAL)
    near, right, far, left = chords(dried)
    assert (near, far) == pytest.approx((7.512, 7.509), abs=5e-4)
    assert (left, right) == pytest.approx((0.961, 0.961), abs=5e-4)
    assert dried.faces[2].cup_mm == pytest.approx(0.049, abs=6e-4)  # hollow on the bark side
    assert dried.faces[0].cup_mm == pytest.approx(-0.054, abs=6e-4)


def test_a_square_on_the_diagonal_becomes_a_diamond():
    """10 x 10 in, x 1 to 11, y 1 to 11."""
    dried = dry_section(rectangle_mm((1, 1), 10, 10), PITH, RADIAL, TANGENTIAL)
    assert chords(dried) == pytest.approx([9.644, 9.440, 9.440, 9.644], abs=5e-4)
    radial, tangential = diagonals(dried)
    assert (radial, tangential) == pytest.approx((13.667, 13.317), abs=5e-4)
    assert tangential / radial == pytest.approx(0.974, abs=5e-4)


def test_the_same_timber_taken_to_ovendry():
    dried = dry_section(rectangle_mm((-4, 1), 8, 8), PITH, 5.6, 10.5)
    near, right, far, left = chords(dried)
    assert (far, near, left, right) == pytest.approx((7.181, 7.404, 7.375, 7.375), abs=5e-4)


@pytest.mark.parametrize(
    ("radial", "tangential", "degrees"), [(5.6, 10.5, 18.7), (3.36, 6.30, 10.95), (2.8, 5.25, 9.07)]
)
def test_the_closure_gap_of_white_oak(radial, tangential, degrees):
    assert closure_gap_deg(radial, tangential) == pytest.approx(degrees, abs=0.05)


def test_at_six_inches_the_missing_ring_is_about_an_inch_and_a_tenth():
    dried = dry_section(rectangle_mm((-6, -7), 12.5, 14), PITH, RADIAL, TANGENTIAL)
    assert dried.check_face == 3
    assert dried.check_opening_mm == pytest.approx(1.1, abs=0.05)


def test_the_map_stretches_by_each_shrinkage_and_shears_nothing():
    """Principal stretches at (3, 5) to ovendry, by finite differences: 0.944 and 0.895."""
    step, (x, y) = 1e-4, (3.0, 5.0)
    tiny = [(x - step, y - step), (x + step, y - step), (x + step, y + step), (x - step, y + step)]
    moved = np.array(dry_section(tiny, PITH, 5.6, 10.5).corners_mm)
    along = (moved[1] + moved[2] - moved[0] - moved[3]) / (4 * step)
    across = (moved[2] + moved[3] - moved[0] - moved[1]) / (4 * step)
    stretches = np.linalg.svd(np.column_stack((along, across)), compute_uv=False)
    assert stretches == pytest.approx([0.944, 0.895], abs=1e-6)


@pytest.mark.parametrize(
    ("low", "size", "mean", "least", "greatest", "over_45", "over_60"),
    [
        ((-4, 1), (8, 8), 24.7, 0, 76.0, 0.141, 0.046),
        ((2, 0.25), (8, 1), 81.5, 58.0, 88.6, 1.0, 0.999),
        ((-4, 8), (8, 1), 13.0, 0, 26.6, 0, 0),
        ((4, 6), (8, 1), 49.5, 29.7, 63.4, 0.688, 0.093),
        ((1, 1), (10, 10), 45.0, 5.2, 84.8, 0.50, 0.25),
        ((3, -1.5), (10, 3), 83.8, 63.4, 90, 1.0, 1.0),
    ],
)
def test_ring_angles_worked_on_a_grid(low, size, mean, least, greatest, over_45, over_60):
    box = rectangle_mm(low, *size)
    angles = ring_angles(box, PITH, 0)
    assert angles.mean_deg == pytest.approx(mean, abs=0.05)
    assert (angles.least_deg, angles.greatest_deg) == pytest.approx((least, greatest), abs=0.05)
    assert share_at_or_above(box, PITH, 45, 0) == pytest.approx(over_45, abs=6e-4)
    assert share_at_or_above(box, PITH, 60, 0) == pytest.approx(over_60, abs=3e-3)


@pytest.mark.parametrize(
    ("clearance", "spread"),
    [(0.5, 166), (1, 152), (2, 127), (4, 90), (6, 67), (8, 53), (12, 37)],
)
def test_the_spread_of_rings_in_a_timber_by_its_clearance(clearance, spread):
    """8 x 8 in centred: 2 atan(a/(2c))."""
    box = rectangle_mm((-4, clearance), 8, 8)
    assert ring_angles(box, PITH).spread_deg == pytest.approx(spread, abs=0.6)


@pytest.mark.parametrize(("limit", "share"), [(45, 1 / 2), (60, 1 / 3), (75, 1 / 6)])
def test_over_a_whole_log_end_the_ring_angles_are_spread_evenly(limit, share):
    """Through-and-through about a central pith: the share at or above t is (90 - t)/90."""
    disc = [(math.cos(math.radians(d)), math.sin(math.radians(d))) for d in range(0, 360, 3)]
    assert share_at_or_above(disc, PITH, limit, 0) == pytest.approx(share, abs=1e-3)
    assert ring_angles(disc, PITH, 0).mean_deg == pytest.approx(45, abs=0.01)
