"""What the results of a sample say, and that a fastening that stays in is not left out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.sample_result import outcome
from restoration.calc.sampling import most_defective

results = st.lists(st.sampled_from(["good", "bad", "not_drawn"]), max_size=25)


@given(results, st.integers(0, 60))
def test_every_fastening_is_in_one_state_of_the_picture(found, others):
    said = outcome(max(1, len(found) + others), found, 0.95)
    assert said.good + said.bad + said.may_be_bad + said.not_suspected == said.population
    assert said.may_be_bad >= said.not_drawn
    assert said.not_suspected >= 0


def test_one_that_could_not_be_drawn_weighs_as_a_bad_one():
    stuck = outcome(60, ["good"] * 14 + ["not_drawn"], 0.95)
    assert stuck.most_bad == outcome(60, ["good"] * 14 + ["bad"], 0.95).most_bad
    assert stuck.most_bad == most_defective(60, 15, 1, 0.95)
    assert stuck.left_in == 46
    assert f"at most {stuck.most_bad} of the 46 still in the hull" in stuck.sentence


def test_there_is_no_figure_before_every_result_is_in():
    early = outcome(60, ["good"] * 14 + [""], 0.95)
    assert early.most_bad is None
    assert "1 of the 15 chosen still have no result" in early.sentence


def test_more_chosen_than_there_are_is_refused():
    with pytest.raises(ValueError, match="17 cannot be drawn from a group of 13"):
        outcome(13, ["good"] * 17, 0.95)


def test_an_unknown_result_is_refused():
    with pytest.raises(ValueError, match="no result"):
        outcome(13, ["middling"], 0.95)
