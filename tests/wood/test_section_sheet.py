"""One timber reckoned whole: its movement, the frame it is seen in, and the ways it may be cut."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.logend import LogEnd
from timber_stock.wood.movement import movement
from timber_stock.wood.ring_limits import AUTHORITIES, BOXED, FLAT, QUARTER, RIFT
from timber_stock.wood.section_sheet import (
    FACES,
    assumed_pith_mm,
    centred_mm,
    pith_for_direction_mm,
    rectangle_about_mm,
    section_sheet,
    seen_from_section_mm,
)
from timber_stock.wood.species import species
from timber_stock.wood.ways import ways_to_cut

OAK = species("oak_white")
TRADE = AUTHORITIES["hardwood_trade"]
sizes = st.floats(20, 400)
places = st.floats(-500, 500)


def sheet(width=150.0, thickness=70.0, butt=(10.0, -220.0), top=None, to=12.0, limits=TRADE):
    return section_sheet(centred_mm(width, thickness), butt, top, movement(OAK, to), limits)


def test_from_one_moisture_to_another_is_what_is_left_of_the_shrinkage_from_green():
    whole, first, rest = movement(OAK, 12), movement(OAK, 20), movement(OAK, 12, 20)
    kept = (1 - first.tangential_percent / 100) * (1 - rest.tangential_percent / 100)
    assert kept == pytest.approx(1 - whole.tangential_percent / 100, abs=1e-12)


def test_wood_that_grows_wetter_swells():
    assert movement(OAK, 18, 12).radial_percent < 0 < movement(OAK, 12, 18).radial_percent


def test_above_fibre_saturation_nothing_moves():
    assert movement(OAK, 41).stays
    assert not movement(OAK, 29).stays


@pytest.mark.parametrize(("to", "begins"), [(-1, None), (400, None), (12, -3), (12, 400)])
def test_a_moisture_no_wood_holds_is_refused_in_a_sentence(to, begins):
    with pytest.raises(ValueError, match=r"moisture it (comes to|begins at) is"):
        movement(OAK, to, begins)


def test_an_end_alike_is_reckoned_once():
    assert len(sheet(top=(10.0, -220.0)).ends) == 1
    assert sheet().twist is None
    two = sheet(top=(60.0, -160.0))
    assert [end.name for end in two.ends] == ["butt", "top"]
    assert two.twist.wide_face_deg != 0


def test_a_heart_that_runs_into_the_timber_boxes_it_wherever_that_is():
    drifting = sheet(butt=(0.0, -80.0), top=(0.0, 30.0))
    assert drifting.boxed_heart
    assert not drifting.ends[0].shape.angles.boxed_heart
    assert drifting.directions == (FLAT, BOXED)


@settings(max_examples=40, deadline=None)
@given(places, places, places, places, st.floats(-180, 180), sizes, sizes)
def test_turning_log_and_section_together_changes_nothing(hx, hy, mx, my, turn, width, thickness):
    """The heart from the section's own middle, however the log is rolled."""
    angle = math.radians(turn)
    rolled = [
        (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle))
        for x, y in ((hx, hy), (mx, my))
    ]
    still = seen_from_section_mm((hx, hy), (mx, my), 0.0)
    turned = seen_from_section_mm(*rolled, turn)
    assert turned == pytest.approx(still, abs=1e-6)
    corner = rectangle_about_mm((mx, my), width, thickness, turn)[0]
    assert seen_from_section_mm(corner, (mx, my), turn) == pytest.approx(
        (-width / 2, -thickness / 2), abs=1e-6
    )


def test_a_section_fits_its_log_wherever_it_is_turned_about_the_centre():
    end = LogEnd(500, 500)
    assert end.holds(rectangle_about_mm((0, 0), 400, 290, 37))
    assert not end.holds(rectangle_about_mm((0, 0), 410, 290, 37))


@pytest.mark.parametrize("direction", [QUARTER, RIFT, FLAT, BOXED])
@settings(max_examples=25, deadline=None)
@given(width=sizes, thickness=sizes)
def test_the_heart_assumed_gives_the_direction_it_was_assumed_from(direction, width, thickness):
    heart = assumed_pith_mm(width, thickness, direction)
    found = section_sheet(centred_mm(width, thickness), heart, None, movement(OAK, 15), TRADE)
    assert found.directions == (direction,)


def test_no_heart_is_assumed_from_words_that_tell_nothing():
    with pytest.raises(ValueError, match="mixed"):
        assumed_pith_mm(200, 50, "mixed")
    with pytest.raises(ValueError, match="thickness"):
        pith_for_direction_mm(200, 0, FLAT)


def test_faces_are_named_as_they_lie():
    """A heart below: the lower face grows proud, the upper hollow, the sides hardly move."""
    end = sheet(butt=(0.0, -120.0)).ends[0]
    cup = {face.name: face.cup_mm for face in end.faces}
    assert tuple(cup) == FACES
    assert cup["lower"] < -0.5
    assert cup["upper"] > 0.5
    assert abs(cup["left"]) < abs(cup["upper"])
    assert [face.name for face in end.wide_faces] == ["lower", "upper"]


def test_a_check_opens_at_the_face_the_heart_is_nearest():
    end = sheet(butt=(68.0, 0.0)).ends[0]
    assert end.check_face == "right"
    assert sheet().ends[0].check_face == ""


def test_the_ways_are_judged_on_the_face_that_is_asked():
    upright = ways_to_cut(63, 127, [QUARTER, FLAT], movement(OAK, 15), TRADE, upright_face=True)
    level = ways_to_cut(63, 127, [QUARTER, FLAT], movement(OAK, 15), TRADE, upright_face=False)
    for ways in (upright, level):
        assert [way.sheet.directions for way in ways] == [(QUARTER,), (FLAT,)]
    assert "wide face" in upright[0].told
    assert "narrow face" in level[0].told
    # Quarter to the one face is flat to the other: the long side shrinks more.
    assert (
        level[0].end.shape.change.width.change_percent
        < upright[0].end.shape.change.width.change_percent
    )
