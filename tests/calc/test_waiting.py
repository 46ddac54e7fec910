"""What waits for what never comes round to itself."""

import itertools
from graphlib import CycleError, TopologicalSorter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.waiting import circle, refusal

marks = st.integers(0, 6)


def has_a_circle(waits):
    """By Python's own sorter, which knows nothing of ours."""
    try:
        list(TopologicalSorter(waits).static_order())
    except CycleError:
        return True
    return False


@settings(max_examples=120)
@given(st.lists(st.tuples(marks, marks), max_size=16))
def test_refusing_what_closes_a_circle_keeps_the_waits_free_of_any(asked):
    waits = {}
    for thing, after in asked:
        with_it = {key: {*others} for key, others in waits.items()}
        with_it.setdefault(thing, set()).add(after)
        found = circle(waits, thing, after)
        assert bool(found) == has_a_circle(with_it)
        if not found:
            waits = with_it
    assert not has_a_circle(waits)


@settings(max_examples=120)
@given(st.lists(st.tuples(marks, marks), max_size=16), marks, marks)
def test_the_circle_that_is_told_goes_from_itself_round_to_itself_by_waits_there_are(
    edges, thing, after
):
    waits = {}
    for one, other in edges:
        waits.setdefault(one, set()).add(other)
    told = circle(waits, thing, after)
    if not told:
        return
    assert (told[0], told[1], told[-1]) == (thing, after, thing)
    for one, other in itertools.pairwise(told[1:]):
        assert other in waits[one]
    assert len(set(told[:-1])) == len(told) - 1


def test_two_neighbours_that_wait_for_each_other_are_named_in_a_sentence():
    assert circle({"F13": ["F12"]}, "F12", "F13") == ("F12", "F13", "F12")
    said = refusal(["F12", "F13", "F12"])
    assert said == "F12 would wait for itself: F12 after F13 after F12."


def test_the_shortest_way_round_is_told():
    waits = {"K1": ["F3", "F9"], "F3": ["F4"], "F4": ["SF1"], "F9": ["SF1"]}
    assert circle(waits, "SF1", "K1") == ("SF1", "K1", "F9", "SF1")


def test_a_sentence_about_no_circle_is_refused():
    with pytest.raises(ValueError, match="begins"):
        refusal(["F12", "F13"])
