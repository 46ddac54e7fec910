"""What a joiner measures on a dried rectangle, the log end it came from, and four ways of it."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.distortion import dry_section
from timber_stock.wood.logend import LogEnd
from timber_stock.wood.outline import rectangle_mm
from timber_stock.wood.scenario import four_ways
from timber_stock.wood.section_change import rectangle_change, twist

OAK_TO_12 = (3.36, 6.30)


def test_width_and_thickness_are_told_apart_whichever_side_comes_first():
    flat = rectangle_change(dry_section(rectangle_mm((0, 900), 210, 40), (105, 0), *OAK_TO_12))
    tall = rectangle_change(dry_section(rectangle_mm((900, 0), 40, 210), (0, 105), *OAK_TO_12))
    assert (flat.wide_face, tall.wide_face) == (0, 1)
    assert tall.width.green_mm == flat.width.green_mm == 210
    assert tall.width.dried_mm == pytest.approx(flat.width.dried_mm)
    assert tall.thickness.change_percent == pytest.approx(flat.thickness.change_percent)
    assert flat.width.change_percent < -5.9
    assert -3.5 < flat.thickness.change_percent < -3.3


def test_out_of_square_is_the_same_angle_read_over_each_face():
    change = rectangle_change(dry_section(rectangle_mm((7e4, 7e4), 200, 60), (0, 0), *OAK_TO_12))
    slope = math.sin(math.radians(change.out_of_square_deg))
    assert change.out_of_square_deg == pytest.approx(1.77, abs=0.01)
    assert max(change.out_of_square_mm) == pytest.approx(change.width.faces_mm[0] * slope, rel=0.02)
    assert min(change.out_of_square_mm) < 0.35 * max(change.out_of_square_mm)


@given(
    st.floats(-200, 200), st.floats(10, 300), st.floats(60, 250), st.floats(20, 59),
    st.floats(0, 5), st.floats(0, 6),
)  # fmt: skip
@settings(max_examples=50)
def test_what_planes_up_is_no_more_than_the_dried_faces(x, y, width, height, radial, more):
    dried = dry_section(rectangle_mm((x, y), width, height), (0, 0), radial, radial + more)
    change = rectangle_change(dried)
    assert 0 < change.clean_width_mm <= max(change.width.faces_mm) + 1e-6
    assert 0 < change.clean_thickness_mm <= max(change.thickness.faces_mm) + 1e-6
    loss = max(change.out_of_square_mm[i] for i in (0, 2)) + max(map(abs, change.cup_mm))
    assert change.clean_thickness_mm > min(change.thickness.faces_mm) - 2 * loss - 1e-6


def test_a_cupped_board_loses_its_cup_to_the_plane():
    change = rectangle_change(dry_section(rectangle_mm((-150, 90), 300, 30), (0, 0), *OAK_TO_12))
    middle = 30 * (1 - 0.0336)  # the thickness on the line to the pith
    proud = -change.cup_mm[0]  # the near face stands proud in its middle: the plane takes it off
    assert change.clean_thickness_mm == pytest.approx(middle - proud, abs=0.01)


def test_only_a_rectangle_has_width_and_thickness():
    with pytest.raises(ValueError, match="rectangle only"):
        rectangle_change(dry_section([(0, 0), (90, 0), (40, 80)], (200, 0), *OAK_TO_12))
    with pytest.raises(ValueError, match="rectangle only"):
        rectangle_change(dry_section([(0, 0), (90, 0), (99, 80), (0, 80)], (200, 0), *OAK_TO_12))


def test_a_pith_at_the_same_place_at_both_ends_winds_nothing():
    box = rectangle_mm((60, 80), 220, 90)
    end = dry_section(box, (0, 0), *OAK_TO_12)
    assert twist(end, end).wide_face_deg == 0
    assert twist(end, end).wide_face_mm == 0


def test_a_drifting_pith_winds_neighbouring_faces_opposite_ways():
    box = rectangle_mm((-50, -50), 100, 100)
    one = dry_section(box, (-7e4, -7e4), *OAK_TO_12)  # rings at 45 degrees one way
    other = dry_section(box, (7e4, -7e4), *OAK_TO_12)  # and the other way at the far end
    wind = twist(one, other)
    assert wind.faces_deg[0] * wind.faces_deg[1] < 0
    assert abs(wind.wide_face_deg) == pytest.approx(1.77, abs=0.01)  # half of it at either end
    assert wind.wide_face_mm == pytest.approx(
        95.2 * math.sin(math.radians(abs(wind.wide_face_deg))), rel=0.01
    )
    back = twist(other, one)
    assert back.faces_deg == pytest.approx([-t for t in wind.faces_deg])


def test_twist_needs_the_same_section_at_both_ends():
    box = dry_section(rectangle_mm((60, 80), 220, 90), (0, 0), *OAK_TO_12)
    wedge = dry_section([(60, 80), (100, 80), (60, 120)], (0, 0), *OAK_TO_12)
    with pytest.raises(ValueError, match="same section"):
        twist(box, wedge)


def test_the_four_ways_tell_the_story_a_client_needs():
    quarter, rift, flat, boxed = four_ways(220, 150, *OAK_TO_12, pith_distance_mm=500)
    assert [s.name for s in (quarter, rift, flat, boxed)] == [
        "quarter", "rift", "flat", "boxed heart",
    ]  # fmt: skip
    assert (
        quarter.change.width.change_mm > rift.change.width.change_mm > flat.change.width.change_mm
    )
    assert rift.change.out_of_square_deg > 1.5
    assert max(quarter.change.out_of_square_deg, flat.change.out_of_square_deg) < 0.3
    assert boxed.dried.check_opening_mm > 10
    assert all(s.dried.check_opening_mm == 0 for s in (quarter, rift, flat))
    assert quarter.angles.mean_deg > 60 > rift.angles.mean_deg > 30 > flat.angles.mean_deg


def test_four_ways_will_not_call_a_piece_free_of_heart_that_may_not_be():
    with pytest.raises(ValueError, match="free of heart"):
        four_ways(220, 150, *OAK_TO_12, pith_distance_mm=120)
    assert all(s.angles.heart_clearance_mm > 0 for s in four_ways(220, 150, *OAK_TO_12)[:3])


def test_a_section_outside_the_log_is_refused_by_the_corner_that_stands_out():
    log = LogEnd(600, 560, pith_mm=(20, -15), sapwood_mm=30)
    inside, out = rectangle_mm((-150, -150), 300, 300), rectangle_mm((-100, 0), 300, 240)
    log.require(inside)
    assert log.holds(inside)
    assert not log.holds(out)
    with pytest.raises(ValueError, match=r"corner 3 at \(200, 240\) mm lies outside an end of 600"):
        log.require(out)


def test_sapwood_is_the_rind_of_the_ellipse():
    log = LogEnd(600, 500, sapwood_mm=30)
    assert log.clear_of_sapwood(rectangle_mm((-10, -210), 20, 420))
    assert not log.clear_of_sapwood(rectangle_mm((-10, -235), 20, 470))
    assert log.holds(rectangle_mm((-10, -235), 20, 470))


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ({"pith_mm": (0, 290)}, "outside a log of 600 by 560 mm"),
        ({"pith_mm": (0, 280)}, "outside a log"),
        ({"pith_mm": (float("nan"), 0)}, "The pith"),
        ({"sapwood_mm": 280}, "The sapwood is 280 mm"),
        ({"sapwood_mm": -1}, "The sapwood is -1 mm"),
        ({"diameter_x_mm": 0}, "The diameter of the log"),
    ],
)
def test_a_log_end_that_makes_no_sense_is_refused(arguments, says):
    with pytest.raises(ValueError, match=says):
        LogEnd(**{"diameter_x_mm": 600, "diameter_y_mm": 560, **arguments})
