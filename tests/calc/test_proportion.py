"""Bounds on a share: laws and refusals."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc import proportion, sampling

confidences = st.floats(0.5, 0.995)


@st.composite
def samples(draw):
    drawn = draw(st.integers(1, 80))
    return drawn, draw(st.integers(0, drawn))


@settings(max_examples=60, deadline=None)
@given(samples(), confidences)
def test_the_bounds_hold_the_share_that_was_seen(sample, confidence):
    drawn, defective = sample
    low, high = proportion.two_sided_bounds(drawn, defective, confidence)
    assert 0 <= low <= defective / drawn <= high <= 1


@settings(max_examples=60, deadline=None)
@given(samples(), confidences)
def test_counting_sound_ones_in_place_of_bad_turns_the_bounds_over(sample, confidence):
    drawn, defective = sample
    high = proportion.upper_bound(drawn, defective, confidence)
    low = proportion.lower_bound(drawn, drawn - defective, confidence)
    assert high == pytest.approx(1 - low, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 60), st.data())
def test_a_finite_group_is_bounded_no_wider_than_an_endless_one(population, data):
    drawn = data.draw(st.integers(1, population))
    defective = data.draw(st.integers(0, drawn))
    finite = sampling.most_defective(population, drawn, defective, 0.95) / population
    endless = proportion.upper_bound(drawn, defective, 0.95)
    assert finite <= endless + 1e-9


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_a_share_of_none_or_all_leaves_nothing_to_chance(share):
    assert proportion.chance_of_at_most(7, 6, share) == 1 - share
    assert proportion.chance_of_at_most(7, 7, share) == 1


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ((0, 0, 0.95), "1 to 5000"),
        ((5001, 0, 0.95), "1 to 5000"),
        ((10, 11, 0.95), "11 bad ones cannot be among 10"),
        ((10, 1, 95.0), "0.95 for 95 %"),
        ((10, 1, float("nan")), "must be a number"),
    ],
)
def test_impossible_figures_are_refused_with_a_sentence(arguments, says):
    for bound in (
        proportion.upper_bound,
        proportion.lower_bound,
        proportion.two_sided_bounds,
    ):
        with pytest.raises(ValueError, match=says):
            bound(*arguments)


@pytest.mark.parametrize("share", [-0.1, 1.1, float("nan")])
def test_a_share_outside_nought_to_one_is_refused(share):
    with pytest.raises(ValueError, match="share of bad ones"):
        proportion.chance_of_at_most(10, 1, share)
