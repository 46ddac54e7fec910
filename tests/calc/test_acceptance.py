"""Lot-acceptance plans: arrows, lots smaller than the sample, refusals."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.acceptance import Plan, chance_of_passing, percent_bad_passed, plan

LEVELS = [0.65, 1.0, 1.5, 2.5, 4.0, 6.5, 10, 15]


def test_an_arrow_down_takes_the_next_plan_and_its_sample():
    assert plan(30, 0.65) == Plan("F", 20, 0)
    assert plan(20, 1.0) == Plan("E", 13, 0)


def test_an_arrow_up_takes_the_plan_before_and_its_sample():
    assert plan(200, 0.65) == Plan("F", 20, 0)


def test_a_sample_larger_than_the_lot_means_every_one():
    assert plan(6, 1.0).sample == 6


@settings(max_examples=80, deadline=None)
@given(st.integers(9, 1200), st.sampled_from(LEVELS))
def test_every_lot_has_a_plan_that_can_be_carried_out(lot, level):
    found = plan(lot, level)
    assert 0 <= found.accept < found.reject <= found.sample <= lot


@settings(max_examples=40, deadline=None)
@given(st.integers(9, 1200), st.sampled_from(LEVELS), st.floats(0.05, 0.95))
def test_the_percent_bad_that_passes_passes_with_that_chance(lot, level, chance):
    found = plan(lot, level)
    percent = percent_bad_passed(found, chance)
    assert chance_of_passing(found, percent) == pytest.approx(chance, abs=1e-6)


@pytest.mark.parametrize(
    ("lot", "level", "says"),
    [
        (1, 1.0, "2 to 1200"),
        (1201, 1.0, "2 to 1200"),
        (60, 3.0, "levels 0.65"),
        (60, float("nan"), "levels 0.65"),
        (5, 10, "no plan"),
        (60.5, 1.0, "whole number"),
    ],
)
def test_what_the_table_does_not_hold_is_refused_with_a_sentence(lot, level, says):
    with pytest.raises(ValueError, match=says):
        plan(lot, level)
