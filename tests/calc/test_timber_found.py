"""When the timber of a replacement is found: its lengths together reach what is asked for."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.timber_found import ROUNDING_MM, is_enough

lengths = st.lists(st.floats(1, 20_000), min_size=1, max_size=7)


@given(lengths, st.floats(ROUNDING_MM * 2, 5000))
def test_what_comes_to_the_whole_is_enough_and_any_less_by_more_than_a_rounding_is_not(some, less):
    assert is_enough(some, sum(some))
    assert not is_enough(some, sum(some) + less)


@given(lengths, st.floats(1, 20_000), st.floats(1, 90_000))
def test_another_length_never_makes_too_little_of_what_was_enough(some, more, asked):
    assert is_enough([*some, more], asked) or not is_enough(some, asked)


def test_nothing_found_is_not_enough():
    assert not is_enough([], 0.6)


def test_twelve_feet_typed_in_inches_are_twelve_feet():
    assert is_enough([1828.8, 1828.6], 12 * 304.8)
    assert not is_enough([1828.8, 1828.2], 12 * 304.8)


@pytest.mark.parametrize("bad", [0, -3, math.nan, math.inf])
def test_a_length_that_is_none_is_refused(bad):
    with pytest.raises(ValueError, match="give one above nothing"):
        is_enough([900, bad], 1000)
    with pytest.raises(ValueError, match="give one above nothing"):
        is_enough([900], bad)
