"""The heart tapped on a photograph, however the camera was held."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.sawing.heart_from_taps import heart_from_taps

TAPS = [(300, 100), (520, 320), (300, 540), (80, 320)]  # 12, 3, 6, 9 on an upright picture


def test_a_heart_right_of_the_middle_is_towards_three():
    offset, clock = heart_from_taps((355, 320), TAPS, (640, 560))
    assert (offset, clock) == pytest.approx((80, 3))  # a quarter of half of 640


def test_a_heart_below_the_middle_is_towards_six():
    offset, clock = heart_from_taps((300, 375), TAPS, (640, 560))
    assert (offset, clock) == pytest.approx((70, 6))


def test_a_heart_in_the_middle_is_off_by_nothing():
    assert heart_from_taps((300, 320), TAPS, (640, 560)) == (0, 12)


@given(
    st.floats(0.05, 0.9), st.floats(0, 359), st.floats(-40, 40), st.floats(0.6, 1.6),
    st.floats(-0.4, 0.4),
)  # fmt: skip
def test_a_picture_held_askew_tells_the_same(share, clock_deg, tilt_deg, stretch, lean):
    tilt = math.radians(tilt_deg)

    def shot(x, y):
        x, y = stretch * x + lean * y, -y
        return (
            400 + x * math.cos(tilt) - y * math.sin(tilt),
            300 + x * math.sin(tilt) + y * math.cos(tilt),
        )

    angle = math.radians(clock_deg)
    at = (share * 150 * math.sin(angle), share * 150 * math.cos(angle))
    taps = [shot(0, 150), shot(150, 0), shot(0, -150), shot(-150, 0)]
    offset, clock = heart_from_taps(shot(*at), taps, (600, 600))
    assert offset == pytest.approx(share * 300)
    assert math.cos(math.radians(30 * clock - clock_deg)) == pytest.approx(1)


@pytest.mark.parametrize(
    ("heart", "taps", "sentence"),
    [
        ((300, 320), TAPS[:3], "12, 3, 6 and 9"),
        ((300, 320), TAPS[::-1], "in this order"),
        ((300, 320), [(1, 1)] * 4, "in this order"),
        ((300, 320), [(100, 100), (200, 200), (300, 300), (400, 400)], "in this order"),
        ((560, 60), TAPS, "outside the bark"),
    ],
)
def test_taps_that_tell_nothing_are_refused_in_a_sentence(heart, taps, sentence):
    with pytest.raises(ValueError, match=sentence):
        heart_from_taps(heart, taps, (640, 560))
