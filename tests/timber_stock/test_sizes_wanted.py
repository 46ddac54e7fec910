"""Sizes that something must have, as they are shown: never less than was reckoned."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.measure import parse_length_mm
from timber_stock.templatetags.measures import about, at_least, log_to_ask, side_to_ask


@pytest.mark.parametrize(
    ("mm", "units", "shown"),
    [
        (17.0, "imperial", "11/16 in"), (17.8, "imperial", "3/4 in"),
        (17.4625, "imperial", "11/16 in"), (17.8, "imperial32", "23/32 in"),
        (17.1, "metric", "17.5 mm"), (17.5, "metric", "17.5 mm"), (None, "metric", "–"),
    ],
)  # fmt: skip
def test_a_size_that_is_wanted_goes_on_to_the_next_mark(mm, units, shown):
    assert at_least(mm, units) == shown


def test_where_the_nearest_mark_would_be_too_little_the_next_is_shown():
    assert (about(17.8), at_least(17.8)) == ("11/16 in", "3/4 in")


@pytest.mark.parametrize(
    ("mm", "units", "log", "side"),
    [
        (251.222, "imperial", "10 in", "10 in"),  # 9 57/64 in and a hair
        (241.3, "imperial", "9 1/2 in", "9 1/2 in"),  # on the mark already
        (69.85, "imperial32", "3 in", "2 3/4 in"),
        (70.6, "imperial", "3 in", "2 7/8 in"),
        (251.2, "metric", "260 mm", "252 mm"),
        (250.0, "metric", "250 mm", "250 mm"),
        (15.2, "metric", "20 mm", "16 mm"),
        (None, "imperial", "–", "–"),
    ],
)  # fmt: skip
def test_a_mill_is_asked_for_sizes_that_are_measured_there_and_never_for_less(mm, units, log, side):
    assert (log_to_ask(mm, units), side_to_ask(mm, units)) == (log, side)


@pytest.mark.parametrize("filtered", [log_to_ask, side_to_ask, at_least])
@pytest.mark.parametrize("units", ["imperial", "imperial32", "metric"])
@given(mm=st.floats(1, 2000))
def test_what_is_asked_for_always_holds_what_is_needed(filtered, units, mm):
    asked = parse_length_mm(filtered(mm, units), "mm")
    assert mm - 0.02 <= asked < mm + 13
