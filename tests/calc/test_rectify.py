"""A slanting photograph of a board made true, against cameras whose truth is known."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.rectify import LENS_BEND, Mark, doubt_mm, fit_plane, to_mm, to_px
from tests.calc.photographed import Camera

BOARD = ((0, 0), (1000, 0), (980, 420), (-15, 410))
EIGHT = (*BOARD, (510, -8), (495, 431), (240, 205), (770, 215))
INSIDE = np.array([(x, y) for x in range(40, 980, 90) for y in range(25, 400, 60)], dtype=float)
ASLANT = Camera(tilt_deg=28, swing_deg=-17, roll_deg=6)


def marks_of(camera, places, off_px=0.0, seed=1):
    off = off_px * np.random.default_rng(seed).normal(size=(len(places), 2))
    seen = camera.sees(places) + off
    return [
        Mark(float(x), float(y), *map(float, true))
        for (x, y), true in zip(seen, places, strict=True)
    ]


def fitted(camera, places, off_px=0.0, seed=1):
    return fit_plane(marks_of(camera, places, off_px, seed), camera.width, camera.height)


def furthest_out(fit, camera, probe=INSIDE):
    return float(np.hypot(*(to_mm(fit.plane, camera.sees(probe)) - probe).T).max())


@settings(max_examples=40, deadline=None)
@given(
    tilt=st.floats(-40, 40), swing=st.floats(-40, 40), roll=st.floats(-170, 170),
    distance=st.floats(1500, 5000), places=st.sampled_from([BOARD, EIGHT]),
)  # fmt: skip
def test_any_slant_of_a_straight_lens_is_undone_exactly(tilt, swing, roll, distance, places):
    camera = Camera(distance, tilt_deg=tilt, swing_deg=swing, roll_deg=roll)
    fit = fitted(camera, places)
    assert furthest_out(fit, camera) < 0.01
    assert max(fit.residuals_mm) < 0.01


def test_a_metre_comes_out_within_half_a_millimetre_of_marks_tapped_to_a_fifth_of_a_pixel():
    for seed in range(12):
        fit = fitted(ASLANT, EIGHT, off_px=0.2, seed=seed)
        ends = to_mm(fit.plane, ASLANT.sees([(0, 60), (1000, 60)]))
        assert math.dist(*ends) == pytest.approx(1000, abs=0.5)


def test_there_and_back_through_lens_and_slant_is_the_same_place():
    plane = replace(fitted(ASLANT, EIGHT).plane, bend=-0.03)
    assert to_mm(plane, to_px(plane, INSIDE)) == pytest.approx(INSIDE, abs=1e-7)


def test_the_bend_of_a_barrel_lens_is_found_from_marks_that_reach_its_corners():
    barrel = Camera(1500, tilt_deg=14, swing_deg=9, barrel=-0.012)
    wide = [(x, y) for x in (-250, 250, 750, 1250) for y in (-250, 210, 660)]
    bent, straight = fitted(barrel, wide), fitted(barrel, wide[:1] + wide[2:3] + wide[-3::2])
    assert bent.lens_found
    assert not straight.lens_found
    assert bent.plane.bend < -0.01
    assert furthest_out(bent, barrel) < 0.5
    assert furthest_out(straight, barrel) > 2 * furthest_out(bent, barrel)


def test_four_marks_leave_no_residual_even_where_one_is_wrong_and_a_fifth_shows_it():
    wrong = marks_of(ASLANT, BOARD)
    wrong[2] = replace(wrong[2], x_mm=wrong[2].x_mm + 15)
    four = fit_plane(wrong, ASLANT.width, ASLANT.height)
    assert max(four.residuals_mm) < 0.01
    more = [*wrong, *marks_of(ASLANT, EIGHT[4:])]
    eight = fit_plane(more, ASLANT.width, ASLANT.height)
    assert max(eight.residuals_mm) > 3
    assert eight.residuals_mm.index(max(eight.residuals_mm)) == 2


def test_marks_that_do_not_agree_widen_the_doubt():
    wrong = marks_of(ASLANT, EIGHT)
    wrong[2] = replace(wrong[2], x_mm=wrong[2].x_mm + 15)
    doubtful = fit_plane(wrong, ASLANT.width, ASLANT.height)
    assert doubt_mm(doubtful, 500, 200) > 2 * doubt_mm(fitted(ASLANT, EIGHT), 500, 200)


def test_the_doubt_grows_away_from_the_marks():
    fit = fitted(ASLANT, BOARD)
    doubts = [doubt_mm(fit, x, 200) for x in (1000, 1250, 1500, 1900)]
    assert doubts == sorted(doubts)
    assert doubts[-1] > 2 * doubts[0]


def test_the_doubt_covers_what_really_happens_about_nineteen_times_in_twenty():
    """Taps off by a pixel and figures by half a millimetre, as the doubt supposes."""
    inside = outside = 0
    for seed in range(60):
        rng = np.random.default_rng(seed)
        marks = [
            replace(m, x_mm=m.x_mm + 0.5 * rng.normal(), y_mm=m.y_mm + 0.5 * rng.normal())
            for m in marks_of(ASLANT, EIGHT, off_px=1.0, seed=seed)
        ]
        fit = fit_plane(marks, ASLANT.width, ASLANT.height)
        for place in ((120.0, 60.0), (500.0, 200.0), (900.0, 380.0)):
            tap = ASLANT.sees([place]) + rng.normal(size=(1, 2))
            off = math.dist(to_mm(fit.plane, tap)[0], place)
            inside += off <= doubt_mm(fit, *place)
            outside += off > doubt_mm(fit, *place)
    assert inside / (inside + outside) > 0.9


def test_marks_never_make_the_lens_less_sure_than_it_was_before_them():
    wrong = marks_of(ASLANT, EIGHT)
    wrong[2] = replace(wrong[2], x_mm=wrong[2].x_mm + 15)
    doubtful = fit_plane(wrong, ASLANT.width, ASLANT.height)
    four, eight = fitted(ASLANT, BOARD), fitted(ASLANT, EIGHT)
    spreads = [math.sqrt(fit.spread[8][8]) for fit in (eight, doubtful, four)]
    assert spreads == sorted(spreads)
    assert spreads[-1] == pytest.approx(LENS_BEND, rel=1e-3)


def test_three_marks_are_too_few():
    with pytest.raises(ValueError, match="4 to 24 marks, not 3"):
        fit_plane(marks_of(ASLANT, BOARD[:3]), 4000, 3000)
