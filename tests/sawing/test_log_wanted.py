"""The log to ask for: no smaller one serves, and what a search found can be sawn."""

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.sawing.log_wanted import (
    beside_heart_mm,
    boxed_heart_mm,
    least_for_list_mm,
    least_for_timber_mm,
    seek_diameter,
)
from timber_stock.sawing.request import Saw, Wanted

SAW = Saw(4.0, 8.0)
SIZE = st.floats(20, 400)
ROOM = st.floats(0, 200)


def wanted(name="a", thick=90.0, wide=160.0, long=1800.0, many=1, **rules):
    rules = {"heart_clearance_mm": 25.0, **rules}
    return Wanted(name, thick, wide, long, many, 1.0, **rules)


@given(SIZE, SIZE, ROOM, ROOM)
def test_a_section_beside_the_heart_touches_the_bark_and_lies_within_it(a, b, c, e):
    radius = beside_heart_mm(a, b, c, e) / 2
    # The heart is at y = -e; past the best offset the section stays about the middle.
    low = max(c - e, -b / 2)
    corners = [math.hypot(a / 2, low), math.hypot(a / 2, low + b)]
    assert max(corners) == pytest.approx(radius)


@given(SIZE, SIZE, ROOM, ROOM)
def test_the_heart_off_the_middle_never_asks_for_more_nor_for_less_than_the_diagonal(a, b, c, e):
    found = beside_heart_mm(a, b, c, e)
    assert boxed_heart_mm(a, b) - 1e-6 <= found <= beside_heart_mm(a, b, c) + 1e-6


def test_sapwood_counts_twice_unless_it_may_be_in_the_timber():
    kept, given_up = wanted(), wanted(sapwood_allowed=True)
    assert least_for_timber_mm(kept, 30) == pytest.approx(least_for_timber_mm(kept) + 60)
    assert least_for_timber_mm(given_up, 30) == least_for_timber_mm(given_up)


def test_many_small_timbers_need_at_least_their_volume():
    many = [wanted(thick=50, wide=60, long=1000, many=40)]
    least = least_for_list_mm(many, 1000)
    assert math.pi * least**2 / 4 >= 40 * 50 * 60 - 1


def test_one_timber_is_sought_to_what_the_closed_form_gives():
    one = [wanted(sapwood_allowed=True)]
    sought = seek_diameter(one, SAW, length_mm=2000)
    closed = least_for_timber_mm(one[0])
    assert closed == sought.least_mm
    assert closed <= sought.diameter_mm <= closed * 1.03 + 5


@settings(max_examples=8, deadline=None)
@given(st.integers(1, 4), st.floats(40, 110), st.floats(0, 40), st.floats(0, 60))
def test_what_is_found_is_never_below_what_is_proven(many, thick, sapwood, offset):
    some = [wanted(thick=thick, many=many), wanted("b", 35, 120, 1200, 2)]
    sought = seek_diameter(
        some, SAW, length_mm=2100, sapwood_mm=sapwood, heart_offset_mm=offset, steps=25
    )
    assert sought.diameter_mm is not None
    assert sought.least_mm <= sought.diameter_mm


def test_a_search_that_is_out_of_time_says_so():
    sought = seek_diameter([wanted(many=6)], SAW, length_mm=2000, until=time.monotonic() - 1)
    assert sought.cut_short


def test_a_log_too_short_and_an_empty_list_are_refused_in_a_sentence():
    with pytest.raises(ValueError, match="ask for a longer log"):
        seek_diameter([wanted(long=2600)], SAW, length_mm=2400)
    with pytest.raises(ValueError, match="nothing on the list"):
        seek_diameter([], SAW, length_mm=2400)


@pytest.mark.parametrize("bad", [0, -3, float("nan"), float("inf")])
def test_sizes_that_cannot_be_are_refused(bad):
    with pytest.raises(ValueError, match="more than nothing"):
        beside_heart_mm(bad, 100, 25)
    with pytest.raises(ValueError, match=r"nothing|more"):
        beside_heart_mm(100, 100, -1 if bad == 0 else bad)
