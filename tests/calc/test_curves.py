"""Curves through control points: they pass through, stay between, and never double back."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.curves import Curve, moved

heights = st.floats(-3000, 3000)


@st.composite
def curves(draw):
    steps = draw(st.lists(st.floats(1, 4000), min_size=1, max_size=7))
    along, points = 0.0, [(0.0, draw(heights))]
    for step in steps:
        along += step
        points.append((along, draw(heights)))
    return Curve("sheer", tuple(points))


@settings(max_examples=60, deadline=None)
@given(curves())
def test_a_curve_passes_through_its_control_points(curve):
    for along, height in curve.points:
        assert curve.at(along) == pytest.approx(height, abs=1e-6)


@settings(max_examples=80, deadline=None)
@given(curves(), st.floats(0, 1))
def test_a_curve_never_leaves_the_heights_of_its_neighbours(curve, share):
    along = curve.start_mm + (curve.end_mm - curve.start_mm) * share
    for (a, before), (b, after) in zip(curve.points, curve.points[1:], strict=False):
        if a <= along <= b:
            height = curve.at(along)
            assert min(before, after) - 1e-6 <= height <= max(before, after) + 1e-6


@settings(max_examples=40, deadline=None)
@given(curves(), st.floats(-500, 500), st.floats(0, 1))
def test_a_curve_lifted_bodily_keeps_its_shape(curve, lift, share):
    lifted = Curve("sheer", tuple((x, z + lift) for x, z in curve.points))
    along = curve.start_mm + (curve.end_mm - curve.start_mm) * share
    assert lifted.at(along) == pytest.approx(curve.at(along) + lift, abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(curves(), st.floats(0, 1))
def test_a_curve_seen_from_the_other_end_is_the_same_curve(curve, share):
    mirrored = Curve("sheer", tuple((-x, z) for x, z in reversed(curve.points)))
    along = curve.start_mm + (curve.end_mm - curve.start_mm) * share
    assert mirrored.at(-along) == pytest.approx(curve.at(along), abs=1e-4)


def test_points_on_a_straight_line_give_that_line():
    curve = Curve("rabbet", ((0, 100), (700, 380), (1000, 500), (3000, 1300)))
    for along in (5, 333, 999, 2500):
        assert curve.at(along) == pytest.approx(100 + 0.4 * along)


def test_a_bend_is_smooth():
    curve = Curve("sheer", ((0, 900), (3000, 600), (8000, 750)))
    for along, _ in curve.points[1:-1]:
        before = curve.at(along) - curve.at(along - 0.01)
        after = curve.at(along + 0.01) - curve.at(along)
        assert before == pytest.approx(after, abs=1e-5)


def test_a_point_set_close_to_its_neighbour_bends_the_curve_less_than_one_far_off():
    # Slope at 100 mm by the weighted harmonic mean: (2 h2 + h1) and (h2 + 2 h1) over the chords.
    curve = Curve("sheer", ((0, 0), (100, 100), (1100, 400)))
    slope = (2100 + 1200) / (2100 / 1 + 1200 / 0.3)
    assert (curve.at(100.001) - curve.at(99.999)) / 0.002 == pytest.approx(slope, rel=1e-3)


def test_a_curve_sags_below_the_chord_where_it_should():
    curve = Curve("sheer", ((0, 900), (3000, 600), (6000, 900)))
    assert curve.at(1500) < 750
    assert curve.at(1500) == pytest.approx(curve.at(4500))


def test_a_polyline_draws_the_curve_with_its_control_points():
    curve = Curve("sheer", ((0, 900), (3000, 600), (8000, 750)))
    drawn = curve.polyline(parts=5)
    assert len(drawn) == 11
    assert set(curve.points) <= {(along, round(height, 9)) for along, height in drawn}
    assert all(height == pytest.approx(curve.at(along)) for along, height in drawn)
    with pytest.raises(ValueError, match="one part or more"):
        curve.polyline(0)


def test_a_moved_point_bends_the_curve_only_near_it():
    curve = Curve("sheer", tuple((1000.0 * i, 900.0 + 10 * i * i) for i in range(8)))
    bent = moved(curve, 2, (2100, 700))
    assert bent.points[2] == (2100, 700)
    assert bent.at(2100) == pytest.approx(700)
    assert bent.at(6500) == curve.at(6500)


def test_the_ends_of_a_curve_move_in_height_only():
    curve = Curve("sheer", ((0, 900), (3000, 600), (8000, 750)))
    assert moved(curve, 0, (500, 950)).points[0] == (0, 950)
    assert moved(curve, 2, (7000, 650)).points[2] == (8000, 650)


@pytest.mark.parametrize(
    ("points", "says"),
    [
        (((0, 1), (5, 2), (4, 3)), "The sheer doubles back: 4 mm comes after 5 mm"),
        (((0, 1), (5, 2), (5, 3)), "doubles back"),
        (((0, 1),), "two points"),
        (((0, 1), (5, math.nan)), "must be a number"),
        (((0, 1), (math.inf, 2)), "must be a number"),
    ],
)
def test_points_that_make_no_curve_are_refused_with_a_sentence(points, says):
    with pytest.raises(ValueError, match=says):
        Curve("sheer", points)


def test_a_place_off_the_curve_is_refused_with_a_sentence():
    curve = Curve("sheer", ((0, 900), (3000, 600)))
    assert curve.at(3000.0000001) == 600
    assert curve.at(-0.0000001) == 900
    for along in (-0.001, 3000.001):
        with pytest.raises(ValueError, match="runs from 0 to 3000 mm"):
            curve.at(along)
    with pytest.raises(ValueError, match="must be a number"):
        curve.at(math.nan)
    with pytest.raises(ValueError, match="no point number 2"):
        moved(curve, 2, (5, 5))
    with pytest.raises(ValueError, match="no point number -1"):
        moved(curve, -1, (5, 5))
    with pytest.raises(ValueError, match="doubles back"):
        moved(Curve("sheer", ((0, 1), (5, 2), (9, 3))), 1, (9, 3))
