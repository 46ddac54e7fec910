"""How many fastenings to draw and what they say: laws, limits and refusals."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc import proportion, sampling
from restoration.calc.sampling import chance_of_at_most, most_defective, picture, sample_size

confidences = st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99, Fraction(2, 3)])


@st.composite
def samples(draw):
    population = draw(st.integers(1, 60))
    drawn = draw(st.integers(0, population))
    defective = draw(st.integers(0, drawn))
    return population, drawn, defective


@settings(max_examples=60, deadline=None)
@given(samples(), confidences)
def test_the_bound_is_the_last_number_not_ruled_out(sample, confidence):
    population, drawn, defective = sample
    doubt = 1 - Fraction(str(confidence))
    bound = most_defective(population, drawn, defective, confidence)
    not_ruled_out = [
        bad
        for bad in range(population + 1)
        if chance_of_at_most(population, bad, drawn, defective) > doubt
        and defective <= bad <= population - drawn + defective
    ]
    assert bound == max(not_ruled_out)


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 70), st.data(), confidences)
def test_the_sample_size_is_the_smallest_that_is_enough(population, data, confidence):
    tolerated = data.draw(st.integers(0, population))
    size = sample_size(population, tolerated, confidence)
    assert most_defective(population, size, 0, confidence) <= tolerated
    if size:
        assert most_defective(population, size - 1, 0, confidence) > tolerated


@settings(max_examples=60, deadline=None)
@given(samples(), confidences)
def test_finding_one_more_bad_never_lowers_the_bound(sample, confidence):
    population, drawn, defective = sample
    if defective < drawn:
        fewer = most_defective(population, drawn, defective, confidence)
        assert most_defective(population, drawn, defective + 1, confidence) >= fewer


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 40), st.data())
def test_the_chances_of_every_result_add_up_to_one(population, data):
    bad = data.draw(st.integers(0, population))
    drawn = data.draw(st.integers(0, population))
    assert chance_of_at_most(population, bad, drawn, drawn) == 1


def test_nothing_drawn_rules_nothing_out():
    assert most_defective(137, 0, 0, 0.95) == 137


def test_a_whole_group_drawn_leaves_no_doubt():
    assert most_defective(37, 37, 5, 0.99) == 5


def test_a_typed_confidence_is_taken_as_the_decimal_it_is():
    # P(none bad | 1 of 20 bad, 19 drawn) is exactly 1/20: ruled out at 95 %, whatever 0.95 is
    # as a binary number.
    assert chance_of_at_most(20, 1, 19, 0) == Fraction(1, 20)
    assert most_defective(20, 19, 0, 0.95) == 0
    assert most_defective(20, 19, 0, 0.951) == 1
    assert sample_size(20, 0, 0.95) == 19


def test_tolerating_every_one_bad_needs_no_sample():
    assert sample_size(83, 83, 0.95) == 0


def test_the_sums_stay_whole_in_a_very_large_group():
    share = most_defective(100_000, 500, 3, 0.95) / 100_000
    assert share == pytest.approx(proportion.upper_bound(500, 3, 0.95), abs=0.0001)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ((60, 61, 0, 0.95), "61 cannot be drawn from a group of 60"),
        ((60, 15, 16, 0.95), "16 bad ones cannot be among 15"),
        ((60, 15, -1, 0.95), "-1 bad ones"),
        ((60, -1, 0, 0.95), "-1 cannot be drawn"),
        ((0, 0, 0, 0.95), "from 1 to 100000"),
        ((100_001, 5, 0, 0.95), "from 1 to 100000"),
        ((60.0, 15, 0, 0.95), "whole number"),
        ((60, True, 0, 0.95), "whole number"),
        ((60, 15, 0, 95), "0.95 for 95 %"),
        ((60, 15, 0, 0.0), "between 0 and 1"),
        ((60, 15, 0, 1), "between 0 and 1"),
        ((60, 15, 0, float("nan")), "confidence"),
        ((60, 15, 0, float("inf")), "confidence"),
        ((60, 15, 0, "often"), "confidence"),
    ],
)
def test_an_impossible_sample_is_refused_with_a_sentence(arguments, says):
    with pytest.raises(ValueError, match=says):
        most_defective(*arguments)


@pytest.mark.parametrize("tolerated", [-1, 61, 2.5])
def test_an_impossible_tolerance_is_refused_with_a_sentence(tolerated):
    with pytest.raises(ValueError, match=r"tolerated"):
        sample_size(60, tolerated, 0.95)


@settings(max_examples=60, deadline=None)
@given(samples(), confidences)
def test_the_picture_shows_every_fastening_once(sample, confidence):
    population, drawn, defective = sample
    shown = picture(population, drawn, defective, confidence)
    parts = (shown.drawn_sound, shown.drawn_bad, shown.left_may_be_bad, shown.left_not_suspected)
    assert min(parts) >= 0
    assert sum(parts) == population
    assert shown.drawn_sound + shown.drawn_bad == drawn


def test_the_picture_says_in_words_what_it_shows():
    assert picture(60, 15, 0, 0.95).sentence == (
        "15 of 60 fastenings were drawn by lot and none was bad. With 95 % confidence, at most 9 "
        "of the 45 left in the hull are bad."
    )
    assert "1 was bad" in picture(40, 8, 1, 0.95).sentence
    assert "nothing is known" in picture(40, 0, 0, 0.95).sentence


def test_many_bounds_are_less_sure_together_than_each_alone():
    assert sampling.all_hold(0.95, 10) == pytest.approx(0.599, abs=0.0005)
    with pytest.raises(ValueError, match="At least one"):
        sampling.all_hold(0.95, 0)
