"""What is left of a board: laws on any board, and the cases a wright meets."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.free_length import (
    HAIR_MM,
    Stretch,
    first_that_fits,
    free_stretches,
    to_the_edge,
)

lengths = st.floats(100, 9000)
stretches = st.builds(
    lambda start, long: Stretch(start, start + long), st.floats(0, 9000), st.floats(1, 4000)
)


def test_what_is_left_between_two_promises_and_after_them():
    free = free_stretches(3100, [Stretch(1900, 2300), Stretch(150, 1900)])
    assert free == [Stretch(0, 150), Stretch(2300, 3100)]


def test_a_board_nobody_wants_is_free_from_end_to_end():
    assert free_stretches(2750, []) == [Stretch(0, 2750)]


def test_a_promise_past_the_end_leaves_nothing_past_the_end():
    assert free_stretches(1000, [Stretch(400, 1000.2)]) == [Stretch(0, 400)]
    assert free_stretches(1000, [Stretch(1200, 1500)]) == [Stretch(0, 1000)]


def test_a_sliver_thinner_than_a_hair_is_no_length():
    assert free_stretches(1000, [Stretch(0.3, 999.7)]) == []


@settings(max_examples=80)
@given(lengths, st.lists(stretches, max_size=7))
def test_free_and_taken_together_are_the_board_and_never_meet(length, taken):
    free = free_stretches(length, taken)
    for stretch in free:
        assert stretch.to_mm <= length
        assert not any(s.from_mm < stretch.to_mm and s.to_mm > stretch.from_mm for s in taken)
    edges = sorted({0.0, length, *(e for s in taken for e in (s.from_mm, s.to_mm) if e < length)})
    for low, high in itertools.pairwise(edges):
        middle = (low + high) / 2
        is_taken = any(s.from_mm <= middle <= s.to_mm for s in taken)
        is_free = any(s.from_mm <= middle <= s.to_mm for s in free)
        assert is_free != is_taken or high - low <= HAIR_MM


@settings(max_examples=60)
@given(lengths, st.lists(stretches, max_size=5), lengths)
def test_what_is_proposed_is_free_and_long_enough_and_missed_only_when_none_is(
    length, taken, wanted
):
    free = free_stretches(length, taken)
    proposed = first_that_fits(free, wanted)
    if proposed is None:
        assert all(stretch.length_mm < wanted for stretch in free)
    else:
        assert any(s.from_mm <= proposed.from_mm and proposed.to_mm <= s.to_mm for s in free)
        assert proposed.length_mm >= wanted - HAIR_MM - 1e-6


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), 0.0, -3.0])
def test_what_is_no_length_is_refused(bad):
    with pytest.raises(ValueError, match="length"):
        free_stretches(bad, [])
    with pytest.raises(ValueError, match="length"):
        first_that_fits([Stretch(0, 100)], bad)


@pytest.mark.parametrize(
    ("start", "end"),
    [(5.0, 5.0), (9.0, 2.0), (-1.0, 4.0), (0.0, float("inf")), (float("nan"), 9.0)],
)
def test_a_stretch_runs_forward_from_the_butt(start, end):
    with pytest.raises(ValueError, match=r"runs from|number|start|end"):
        Stretch(start, end)


def test_a_length_read_off_the_board_means_the_edge_it_was_read_from():
    free = [Stretch(0, 1300.4), Stretch(2210, 3100)]
    assert to_the_edge(1300.16, free) == 1300.4
    assert to_the_edge(2209.3, free) == 2210
    assert to_the_edge(1299, free) == 1299
    assert to_the_edge(640, []) == 640
