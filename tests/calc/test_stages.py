"""How far a replacement has come by what is recorded of it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc import stages
from restoration.calc.stages import (
    BY_KEY,
    ORDER,
    STAGES,
    after,
    newly_passed_over,
    passed_over,
    stage,
    standing_at,
)

KEYS = [each.key for each in STAGES[1:]]


def test_what_is_specified_and_no_more_stands_there_and_needs_timber():
    assert standing_at([]).key == "specified"
    assert after("specified").do == "find timber for"
    assert after("fastened") is None


def test_shaping_that_nobody_recorded_holds_nothing_up():
    assert standing_at({"found", "sawn", "fitted"}).key == "fitted"
    assert [each.key for each in passed_over({"found", "sawn"}, "fitted")] == [
        "shaped",
        "dry_fitted",
    ]


def test_what_was_passed_over_once_is_not_asked_about_again():
    done = {"found", "sawn", "fitted"}
    assert [each.key for each in passed_over(done, "fastened")] == ["shaped", "dry_fitted"]
    assert newly_passed_over(done, "fastened") == ()
    assert newly_passed_over({"found", "sawn", "dry_fitted"}, "fitted") == ()
    skipped = newly_passed_over({"found", "sawn", "shaped"}, "fastened")
    assert [each.key for each in skipped] == ["dry_fitted", "fitted"]


def test_a_second_length_not_yet_sawn_brings_it_back_to_timber_found():
    assert standing_at({"found", "shaped", "dry_fitted"}).key == "found"
    assert standing_at({"found", "sawn", "shaped", "fastened"}).key == "shaped"


@settings(max_examples=60)
@given(st.sets(st.sampled_from(KEYS)))
def test_it_stands_at_something_recorded_and_never_past_what_every_length_needs(done):
    here = standing_at(done)
    assert here.key in {"specified", *done}
    for must in stages.OF_EVERY_LENGTH:
        if must.key not in done:
            assert ORDER[here.key] < ORDER[must.key]


@settings(max_examples=60)
@given(st.sets(st.sampled_from(KEYS)), st.sampled_from(KEYS))
def test_one_more_recorded_never_puts_it_back(done, more):
    assert ORDER[standing_at(done | {more}).key] >= ORDER[standing_at(done).key]


def test_only_what_goes_into_the_hull_has_to_wait_for_it():
    assert [key for key in BY_KEY if stages.needs_the_hull(key)] == [
        "dry_fitted",
        "fitted",
        "fastened",
    ]


def test_what_is_no_stage_is_refused():
    for call in (stage, after, lambda key: standing_at([key])):
        with pytest.raises(ValueError, match="no stage"):
            call("varnished")
