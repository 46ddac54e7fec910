"""Ring angles: laws, the whole length of a timber, and whose limits are used."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.outline import rectangle_mm
from timber_stock.wood.ring_limits import AUTHORITIES, ring_direction
from timber_stock.wood.rings import (
    face_share_at_or_above,
    heart_clearance_mm,
    ring_angles,
    share_at_or_above,
)
from timber_stock.wood.rings_along import rings_along

coordinate = st.floats(-300, 300)
side = st.floats(20, 250)


def sampled(low, width, height, steps=240):
    """Ring angles to the x axis over a fine grid of the rectangle, the pith at the origin."""
    x = low[0] + (np.arange(steps) + 0.5) * width / steps
    y = low[1] + (np.arange(steps) + 0.5) * height / steps
    return np.degrees(np.arctan2(np.abs(x)[None, :], np.abs(y)[:, None]))


@given(coordinate, coordinate, side, side)
@settings(max_examples=50)
def test_mean_extremes_and_share_agree_with_a_fine_grid(x, y, width, height):
    grid = sampled((x, y), width, height)
    box = rectangle_mm((x, y), width, height)
    angles = ring_angles(box, (0, 0), 0)
    assert angles.mean_deg == pytest.approx(grid.mean(), abs=0.02)
    assert angles.least_deg <= grid.min() + 1e-9
    assert angles.greatest_deg >= grid.max() - 1e-9
    assert share_at_or_above(box, (0, 0), 55, 0) == pytest.approx((grid >= 55).mean(), abs=0.01)


@given(coordinate, coordinate, side, side, st.floats(-180, 180))
@settings(max_examples=50)
def test_turning_the_log_leaves_the_ring_angles_alone(x, y, width, height, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    turn = [(c * u - s * v, s * u + c * v) for u, v in rectangle_mm((x, y), width, height)]
    before = ring_angles(rectangle_mm((x, y), width, height), (0, 0))
    after = ring_angles(turn, (0, 0))
    assert after.mean_deg == pytest.approx(before.mean_deg, abs=1e-6)
    assert after.least_deg == pytest.approx(before.least_deg, abs=1e-4)
    assert after.greatest_deg == pytest.approx(before.greatest_deg, abs=1e-4)
    assert after.spread_deg == pytest.approx(before.spread_deg, abs=1e-4)


@given(coordinate, coordinate, side, side)
@settings(max_examples=40)
def test_the_other_pair_of_faces_sees_the_rings_square_to_the_first(x, y, width, height):
    box = rectangle_mm((x, y), width, height)
    one, other = ring_angles(box, (0, 0), 0), ring_angles(box, (0, 0), 90)
    assert one.mean_deg + other.mean_deg == pytest.approx(90, abs=1e-9)


def test_the_longest_edge_is_the_wide_face_unless_another_is_named():
    tall = rectangle_mm((100, -100), 30, 200)
    assert ring_angles(tall, (0, 0)).mean_deg < 30
    assert ring_angles(tall, (0, 0), 0).mean_deg > 60


@pytest.mark.parametrize("away", [1e4, 1e6, 1e8])
def test_a_far_pith_gives_one_angle_all_over(away):
    bearing = math.radians(28)
    pith = (-away * math.cos(bearing), -away * math.sin(bearing))
    angles = ring_angles(rectangle_mm((0, 0), 90, 40), pith)
    assert angles.mean_deg == pytest.approx(62, abs=60 * 90 / away)
    assert angles.least_deg - 1e-5 <= angles.mean_deg <= angles.greatest_deg + 1e-5
    assert angles.spread_deg < 60 * 100 / away


def test_a_boxed_heart_holds_every_ring_angle():
    angles = ring_angles(rectangle_mm((-90, -30), 150, 100), (0, 0))
    assert angles.boxed_heart
    assert (angles.least_deg, angles.greatest_deg, angles.spread_deg) == (0, 90, 360)
    assert angles.heart_clearance_mm == pytest.approx(-30)


def test_clearance_is_measured_to_the_nearest_point_of_the_section():
    assert heart_clearance_mm(rectangle_mm((30, 40), 99, 50), (0, 0)) == pytest.approx(50)
    assert heart_clearance_mm(rectangle_mm((-30, 12), 99, 50), (0, 0)) == pytest.approx(12)
    assert heart_clearance_mm(rectangle_mm((0, 0), 99, 50), (20, 0)) == 0


def test_the_poorer_wide_face_decides_the_share():
    board = rectangle_mm((20, 10), 80, 30)
    near = 1.0  # along y = 10 the rings reach 45 degrees from x = 10 on
    far = (100 - 40) / 80  # along y = 40 only from x = 40 on
    assert face_share_at_or_above(board, (0, 0), 45) == pytest.approx(min(near, far))


@given(
    st.floats(60, 150), st.floats(-120, 120), st.floats(-50, 50), st.floats(-150, 150),
    st.floats(40, 200), st.floats(20, 90),
)  # fmt: skip
@settings(max_examples=25, deadline=None)
def test_no_station_along_a_timber_beats_its_stated_extremes(x, y, drift_x, drift_y, width, height):
    box = rectangle_mm((x, y), width, height)
    whole = rings_along(box, (0, 0), (drift_x, drift_y))
    stations = [
        ring_angles(box, (share * drift_x, share * drift_y)) for share in np.linspace(0, 1, 41)
    ]
    assert whole.least_deg <= min(a.least_deg for a in stations) + 1e-9
    assert whole.greatest_deg >= max(a.greatest_deg for a in stations) - 1e-9
    assert whole.boxed_heart or not any(a.boxed_heart for a in stations)
    if not whole.boxed_heart:
        least = min(a.heart_clearance_mm for a in stations)
        assert least - 5 < whole.heart_clearance_mm <= least + 1e-9
    means = [a.mean_deg for a in stations]
    assert whole.mean_deg == pytest.approx(np.trapezoid(means, dx=1 / 40), abs=0.3)


def test_a_pith_that_cuts_a_corner_halfway_is_found_though_both_ends_are_clear():
    box = rectangle_mm((0, 0), 200, 100)
    along = rings_along(box, (-41, 30), (30, -41))
    assert along.butt.boxed_heart is False
    assert along.top.boxed_heart is False
    assert along.boxed_heart is False  # it passes the corner (0, 0) outside by 7.8 mm
    assert along.heart_clearance_mm == pytest.approx(11 / math.sqrt(2))
    cuts = rings_along(box, (-21, 30), (30, -21))
    assert (cuts.butt.boxed_heart, cuts.top.boxed_heart) == (False, False)
    assert cuts.boxed_heart
    assert cuts.heart_clearance_mm < 0
    assert (cuts.least_deg, cuts.greatest_deg) == (0, 90)


def test_the_extreme_inside_the_length_is_placed_where_it_is():
    along = rings_along(rectangle_mm((50, -20), 200, 60), (0, -60), (10, 30))
    assert along.greatest_deg == 90
    assert along.greatest_at == pytest.approx(40 / 90)  # there the pith comes level with the face
    assert along.least_at == 0


def test_authorities_differ_over_the_same_piece_and_each_is_named():
    piece, pith = rectangle_mm((100, 152.4), 203.2, 25.4), (0, 0)
    words = {key: ring_direction(piece, pith, limits) for key, limits in AUTHORITIES.items()}
    assert 45 < words["hardwood_trade"].angles.mean_deg < 60
    assert words["hardwood_trade"].direction == "rift"
    assert words["softwood_rules"].direction == "quarter"
    assert words["hardwood_rules"].direction == "flat"  # not 80 % of the poorer face
    for word in words.values():
        assert word.limits.source
        assert word.limits.standing in {"R", "S", "M"}


@pytest.mark.parametrize(
    ("key", "angle", "word"),
    [
        ("hardwood_trade", 29.9, "flat"), ("hardwood_trade", 30, "rift"),
        ("hardwood_trade", 60, "quarter"), ("oak_catalogue", 74.9, "rift"),
        ("oak_catalogue", 75, "quarter"), ("forest_service", 44.9, "flat"),
        ("forest_service", 45, "quarter"), ("softwood_rules", 45, "quarter"),
    ],
)  # fmt: skip
def test_limits_fall_where_the_authority_puts_them(key, angle, word):
    assert AUTHORITIES[key].word(angle) == word


def test_a_heavy_timber_near_the_heart_is_called_mixed():
    timber = ring_direction(rectangle_mm((-100, 30), 200, 200), (0, 0))
    assert timber.direction == "flat"
    assert timber.mixed
    assert (timber.at_least, timber.at_greatest) == ("flat", "quarter")


def test_a_boxed_heart_is_called_that_and_nothing_else():
    assert ring_direction(rectangle_mm((-10, -5), 100, 80), (0, 0)).direction == "boxed heart"


def test_a_ring_angle_beyond_square_is_refused():
    with pytest.raises(ValueError, match="between 0 degrees and 90 degrees"):
        AUTHORITIES["hardwood_trade"].word(91)
    with pytest.raises(ValueError, match="The limit"):
        share_at_or_above(rectangle_mm((0, 9), 9, 9), (0, 0), -1)
    with pytest.raises(ValueError, match="The wide face"):
        ring_angles(rectangle_mm((0, 9), 9, 9), (0, 0), float("nan"))
