"""The data that every pattern ends in, however it was taken."""

import math

import pytest

from restoration.calc.pattern import (
    Bevel,
    BoltHole,
    Pattern,
    PatternLine,
    checked,
    from_data,
    outline_polygon,
    place_words,
    to_data,
)

FLOOR = Pattern(
    outline_mm=((0, 0), (310, -40), (655, 5), (640, 120), (330, 85), (12, 131)),
    sided_mm=75,
    lines=(PatternLine("centre", ((325, -30), (331, 80))),),
    holes=(BoltHole(328, 30, 19),),
    bevels=(Bevel(0, 7.5), Bevel(655, -4)),
)


def test_a_pattern_is_kept_as_plain_data_and_comes_back_the_same():
    assert from_data(to_data(checked(FLOOR))) == FLOOR


def test_an_outline_that_crosses_itself_is_refused_with_the_place():
    bow_tie = Pattern(((0, 0), (100, 100), (100, 0), (0, 100)), 75)
    with pytest.raises(ValueError, match=r"crosses itself, near 50 mm along, 50 mm across"):
        checked(bow_tie)


def test_a_hole_that_touches_the_edge_is_refused_by_its_number():
    holes = (BoltHole(328, 30, 19), BoltHole(5, 60, 19))
    with pytest.raises(ValueError, match="Bolt hole 2 at"):
        checked(Pattern(FLOOR.outline_mm, 75, holes=holes))


@pytest.mark.parametrize(
    ("along", "says"), [(700, "7 degrees at 700 mm lies beyond"), (-30, "30 mm before zero lies")]
)
def test_a_bevel_beyond_the_ends_of_the_timber_is_refused_with_its_place(along, says):
    with pytest.raises(ValueError, match=says):
        checked(Pattern(FLOOR.outline_mm, 75, bevels=(Bevel(along, 7),)))


def test_corners_in_one_line_are_said_to_enclose_nothing_not_to_cross():
    with pytest.raises(ValueError, match="lies in one line and encloses nothing"):
        checked(Pattern(((0, 0), (200, 10), (500, 25), (200, 10)), 75))


def test_a_place_below_or_before_zero_is_said_so_and_not_by_a_sign():
    assert place_words(-12.4, -330) == "12 mm along before zero, 330 mm below the zero line"


@pytest.mark.parametrize("wrong", [math.nan, math.inf])
def test_figures_that_are_no_numbers_are_refused(wrong):
    with pytest.raises(ValueError, match="plain number"):
        checked(Pattern(((0, 0), (wrong, 0), (50, 50)), 75))


def test_a_pattern_thirty_times_too_long_is_asked_for_its_units():
    corners = tuple((x * 304.8, y * 304.8) for x, y in FLOOR.outline_mm)
    with pytest.raises(ValueError, match="are its units millimetres"):
        checked(Pattern(corners, 75))


@pytest.mark.parametrize("data", [{}, {"outline_mm": [[1]], "sided_mm": 3}, {"outline_mm": "x"}])
def test_data_that_is_no_pattern_is_refused_in_words(data):
    with pytest.raises(ValueError, match="not a pattern"):
        from_data(data)


def test_the_outline_as_a_polygon_has_the_area_reckoned_by_hand():
    square = Pattern(((0, 0), (200, 0), (200, 30), (0, 30)), 75)
    assert outline_polygon(square).area == 6000
