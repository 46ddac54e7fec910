"""What cannot be undone is refused in a sentence: marks, measured boards and ways of standing."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.rectify import fit_plane
from restoration.calc.rectify_board import corners_of_board
from restoration.calc.rectify_checks import check_marks
from restoration.calc.rectify_view import check_outline, check_view, view_of
from tests.calc.photographed import Camera
from tests.calc.test_rectify import ASLANT, BOARD, EIGHT, marks_of


def refused(marks, words, camera=ASLANT):
    with pytest.raises(ValueError, match=words):
        check_marks(marks, camera.width, camera.height)


def seen_by(camera, places=BOARD):
    marks = marks_of(camera, places)
    check_marks(marks, camera.width, camera.height)
    return view_of(fit_plane(marks, camera.width, camera.height).plane, places)


def test_good_marks_are_taken_without_a_word():
    assert check_marks(marks_of(ASLANT, BOARD), ASLANT.width, ASLANT.height) == []


def test_four_marks_on_a_line_are_refused():
    line = [(0, 10), (310, 10), (700, 10), (1000, 11)]
    refused(marks_of(ASLANT, line), "lie in one line, and a line does not show the slant")


def test_three_of_four_in_a_line_are_refused_by_their_numbers_and_a_fifth_mends_it():
    places = [(0, 0), (500, 2), (1000, 0), (480, 400)]
    refused(marks_of(ASLANT, places), "Marks 1, 2 and 3 lie in one line")
    check_marks(marks_of(ASLANT, [*places, (20, 390)]), ASLANT.width, ASLANT.height)


def test_three_of_four_nearly_in_line_are_taken_with_a_warning():
    places = [(0, 0), (500, 70), (1000, 0), (480, 400)]
    (said,) = check_marks(marks_of(ASLANT, places), ASLANT.width, ASLANT.height)
    assert "nearly in one line" in said


def test_crossing_order_is_told_with_the_two_that_would_mend_it():
    marks = marks_of(ASLANT, BOARD)
    one, two = marks[1], marks[2]
    marks[1] = replace(one, x_mm=two.x_mm, y_mm=two.y_mm)
    marks[2] = replace(two, x_mm=one.x_mm, y_mm=one.y_mm)
    refused(marks, "crossing order.*If marks 2 and 3 change places, it fits")


def test_a_slip_of_the_tape_and_a_long_narrow_board_are_not_taken_for_crossing_order():
    slipped = marks_of(ASLANT, EIGHT)
    slipped[5] = replace(slipped[5], y_mm=slipped[5].y_mm - 25)
    check_marks(slipped, ASLANT.width, ASLANT.height)
    narrow = [(-600, 200), (1600, 200), (1600, 290), (-600, 290)]
    far = Camera(4000, tilt_deg=8)
    check_marks(marks_of(far, narrow), far.width, far.height)
    crossed = marks_of(far, [narrow[0], narrow[2], narrow[1], narrow[3]])
    crossed = [replace(m, x_mm=x, y_mm=y) for m, (x, y) in zip(crossed, narrow, strict=True)]
    refused(crossed, "crossing order", far)


def test_marks_the_other_way_round_are_told_apart_from_crossing_ones():
    refused([replace(m, y_mm=-m.y_mm) for m in marks_of(ASLANT, BOARD)], "mirror image")


def test_two_marks_tapped_in_one_place_and_one_off_the_picture_are_refused():
    marks = marks_of(ASLANT, BOARD)
    near = replace(marks[0], x_px=marks[1].x_px + 2, y_px=marks[1].y_px)
    refused([near, *marks[1:]], "Marks 1 and 2 are tapped in one place")
    refused([replace(marks[0], x_px=-3), *marks[1:]], "Mark 1 is not on the picture")
    refused([replace(marks[0], y_mm=math.nan), *marks[1:]], "Mark 1: every figure")
    refused(marks[:3], "Four marks or more")


def test_the_lens_is_found_where_it_stood():
    camera = Camera(2100, tilt_deg=24, swing_deg=11)
    view = seen_by(camera)
    x, y, above = camera.place()
    assert view.focal_found
    assert view.distance_mm == pytest.approx(above, rel=1e-3)
    assert view.foot_mm == pytest.approx((x, y), abs=3)


def test_a_board_seen_square_on_takes_a_usual_lens_and_says_so():
    view = seen_by(Camera(2000))
    assert not view.focal_found
    assert view.distance_mm == pytest.approx(2000, rel=0.02)


def test_a_lens_too_close_is_refused_with_how_far_to_go_back():
    close = Camera(500, tilt_deg=10, focal=0.6)
    with pytest.raises(ValueError, match=r"lens was too close.*Go back to 1\.6 m or more"):
        check_view(seen_by(close), 0, False)


def test_a_picture_too_much_from_the_side_is_refused_with_its_angle():
    with pytest.raises(ValueError, match=r"too much from the side.*about 7\d° from square"):
        check_view(seen_by(Camera(6000, tilt_deg=72, focal=3)), 0, False)


def test_marks_behind_the_vanishing_line_are_refused():
    plane = fit_plane(marks_of(ASLANT, BOARD), ASLANT.width, ASLANT.height).plane
    with pytest.raises(ValueError, match="vanishing line"):
        view_of(plane, [*BOARD, (0, 60_000), (0, -60_000), (60_000, 0), (-60_000, 0)])


def test_thick_timber_seen_from_near_by_is_warned_of_and_its_outline_refused():
    """The edge that is traced is really further out by r t / (D - t), as a camera shows it."""
    camera = Camera(1600)
    view = seen_by(camera)
    edge = (1000.0, 200.0)
    plane = fit_plane(marks_of(camera, BOARD), camera.width, camera.height).plane
    from restoration.calc.rectify import to_mm

    seen = to_mm(plane, camera.sees([edge], above_mm=30))[0]
    assert view.parallax_mm(30, edge) == pytest.approx(seen[0] - edge[0], rel=0.03)
    assert any("30 mm above the marks" in said for said in check_view(view, 30, False))
    assert check_outline(view, 3, [(10, 10), edge]) == pytest.approx(0.94, abs=0.1)
    with pytest.raises(ValueError, match="comes out 10 mm too far"):
        check_outline(view, 30, [(400, 210), edge])


def test_few_marks_are_said_not_to_show_the_lens():
    said = check_view(seen_by(Camera(2000, tilt_deg=12)), 0, False)
    assert any("cannot be told" in one for one in said)
    assert not any("cannot be told" in one for one in check_view(seen_by(ASLANT, EIGHT), 0, True))


@settings(max_examples=60, deadline=None)
@given(
    lower=st.floats(400, 2000), height=st.floats(200, 900), lean=st.floats(-0.3, 0.3),
    upper=st.floats(0.7, 1.3), rise=st.floats(-0.2, 0.2), slip=st.floats(-3, 3),
)  # fmt: skip
def test_sides_and_diagonals_give_any_four_corners_back(lower, height, lean, upper, rise, slip):
    a, b = (0.0, 0.0), (lower, 0.0)
    d = (lean * height, height)
    c = (d[0] + upper * lower, height * (1 + rise))
    sides = [math.dist(*pair) for pair in ((a, b), (b, c), (c, d), (d, a))]
    ac, bd = math.dist(a, c), math.dist(b, d)
    for across in ([ac, bd], [ac, None], [None, bd]):
        found = corners_of_board(sides, across)
        for got, true in zip(found.places_mm, (a, b, c, d), strict=True):
            assert got == pytest.approx(true, abs=1e-3)
    misread = corners_of_board(sides, [ac + slip, bd])
    assert misread.misfit_mm <= abs(slip) + 1e-6


def test_a_diagonal_misread_by_a_little_is_said_to_contradict_and_by_much_is_refused():
    right, a_little, much = 1334.0, 1342.0, 1400.0
    sides = [1200, 583, 1200, 583]
    agreed = corners_of_board(sides, [right, right])
    assert not agreed.contradicts
    assert agreed.words.startswith("Sides and diagonals agree to 0.")
    doubted = corners_of_board(sides, [right, a_little])
    assert doubted.contradicts
    assert "contradict each other" in doubted.words
    assert "Measure them again" in doubted.words
    with pytest.raises(ValueError, match="one of the six is misread"):
        corners_of_board(sides, [right, much])


def test_a_board_without_diagonals_is_taken_for_square_only_where_its_sides_allow():
    assert corners_of_board([1200, 300, 1200, 300]).places_mm[2] == (1200, 300)
    with pytest.raises(ValueError, match="leave the corners loose"):
        corners_of_board([1200, 300, 1180, 300])


def test_sides_and_a_diagonal_that_make_no_triangle_are_refused():
    with pytest.raises(ValueError, match="make no triangle"):
        corners_of_board([1200, 300, 1200, 300], [1600, None])
    with pytest.raises(ValueError, match="more than nothing"):
        corners_of_board([1200, 300, 0, 300])
