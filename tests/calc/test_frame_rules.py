"""Sister frames against published guidance: verdicts, disputes, refusals."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc import frame_rules
from restoration.calc.frame_rules import SisterFrame, adjacent_damaged, check_sister
from restoration.calc.rule_check import broken

GOOD = SisterFrame(
    frame=9,
    reach_mm=500,
    sided_mm=30,
    moulded_mm=35,
    frame_sided_mm=30,
    frame_moulded_mm=35,
    plank_width_mm=110,
)


def kept(sister, damaged=(9,), decayed=()):
    return {each.rule.text: each.kept for each in check_sister(sister, damaged, decayed)}


def test_a_good_sister_keeps_every_rule():
    assert broken(check_sister(GOOD, {9, 10, 4}, set())) == ()


def test_three_damaged_frames_in_a_row_are_too_many_to_sister():
    found = broken(check_sister(GOOD, {8, 9, 10}, set()))
    assert [(each.rule.limit, each.found) for each in found] == [(2, 3)]


def test_a_decayed_frame_is_never_sistered_and_counts_as_damaged():
    found = broken(check_sister(GOOD, {8, 10}, {9}))
    assert [each.rule for each in found] == [
        frame_rules.ADJACENT_DAMAGED,
        frame_rules.BESIDE_DECAY,
    ]


def test_a_short_sister_is_found_both_ways():
    found = broken(check_sister(replace(GOOD, reach_mm=430), {9}, set()))
    assert [each.rule for each in found] == [frame_rules.REACH, frame_rules.REACH_IN_PLANKS]
    assert found[1].found == pytest.approx(430 / 110)


def test_without_a_plank_width_only_the_length_is_checked():
    assert len(check_sister(replace(GOOD, plank_width_mm=None), {9}, set())) == 5


def test_a_smaller_sister_is_wrong_and_a_larger_one_is_disputed():
    text = frame_rules.SIZE.text
    smaller = check_sister(replace(GOOD, moulded_mm=34), {9}, set())
    assert [(each.about, each.kept) for each in smaller if each.rule.text == text] == [
        ("frame 9, sided", True),
        ("frame 9, moulded", False),
    ]
    larger = check_sister(replace(GOOD, sided_mm=31), {9}, set())
    assert [each.kept for each in larger if each.rule.text == text] == [None, True]
    assert broken(larger) == ()
    assert "disputed" in frame_rules.CONFLICTS[0].used


@given(st.sets(st.integers(1, 30)), st.integers(1, 30))
def test_the_run_of_damaged_frames_is_the_same_from_each_frame_in_it(damaged, frame):
    run = adjacent_damaged(frame, damaged)
    assert (run == 0) == (frame not in damaged)
    if frame + 1 in damaged and frame in damaged:
        assert adjacent_damaged(frame + 1, damaged) == run


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"reach_mm": -1}, "reach past the damage"),
        ({"sided_mm": 0}, "sided dimension of the sister"),
        ({"frame_moulded_mm": 0}, "moulded dimension of the frame"),
        ({"plank_width_mm": 0}, "plank width"),
        ({"frame": 9.5}, "whole number"),
        ({"reach_mm": float("nan")}, "must be a number"),
    ],
)
def test_an_impossible_sister_is_refused_with_a_sentence(changes, says):
    with pytest.raises(ValueError, match=says):
        check_sister(replace(GOOD, **changes), {9}, set())
