"""Plank butts and new planks against published rules: which rule applies when, refusals."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc import plank_rules
from restoration.calc.plank_rules import (
    Butt,
    check_butts,
    check_butts_old_yacht,
    check_joints_clinker,
    check_new_plank,
)
from restoration.calc.rule_check import Rule, broken

FRAMES = [300.0 * number for number in range(12)]


def butt(strake, bay, side="port", mark=None):
    """A butt in the middle of a bay, the first bay being 0."""
    return Butt(mark or f"{side[0]}{strake}/{bay}", side, strake, 300 * bay + 150)


def rules(checks):
    return [each.rule.text for each in checks]


def test_butts_far_apart_have_nothing_to_answer_for():
    assert check_butts([butt(1, 2), butt(5, 9)], FRAMES) == ()


def test_the_two_sides_of_the_hull_are_judged_apart():
    assert check_butts([butt(4, 2), butt(5, 2, "starboard")], FRAMES) == ()


def test_two_butts_of_one_strake_are_no_pair():
    ends = [Butt("a", "port", 4, 640), Butt("b", "port", 4, 860)]
    assert check_butts(ends, FRAMES) == ()


def test_frame_spaces_are_counted_by_the_frames_between_however_they_are_spaced():
    uneven = [0, 200, 300, 400, 2000, 2100]
    butts = [Butt("a", "port", 4, 100), Butt("b", "port", 5, 450), Butt("c", "port", 6, 1950)]
    assert [(each.about, each.found) for each in check_butts(butts, uneven)] == [
        ("a and b", 3),
        ("b and c", 0),
        ("b and c", 0),
    ]


def test_neighbouring_butts_in_one_bay_break_two_rules():
    found = check_butts([butt(4, 2), butt(5, 2)], FRAMES)
    assert rules(broken(found)) == [
        "Butts in neighbouring strakes",
        "Solid strakes between butts in one bay",
    ]
    assert found[0].about == "p4/2 and p5/2"


def test_with_unusual_spacing_the_rule_is_in_feet():
    wide = [900.0 * number for number in range(8)]
    near = [Butt("a", "port", 4, 450), Butt("b", "port", 5, 1900)]
    assert rules(broken(check_butts(near, wide, usual_spacing=False))) == [
        "Butts in neighbouring strakes, unusual frame spacing"
    ]
    far = [Butt("a", "port", 4, 450), Butt("b", "port", 5, 450 + 1524)]
    assert broken(check_butts(far, wide, usual_spacing=False)) == ()


def test_a_butt_on_a_frame_is_found():
    on, clear = Butt("on", "port", 3, 610), Butt("clear", "port", 9, 1630)
    found = check_butts([on, clear], FRAMES, frame_sided_mm=40)
    assert [each.about for each in broken(found)] == ["on"]
    assert [each.found for each in found] == [pytest.approx(-10), pytest.approx(110)]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 8), st.integers(0, 10)), min_size=2, max_size=6, unique=True),
    st.randoms(),
)
def test_the_order_of_the_butts_changes_no_verdict(places, random):
    butts = [butt(*place) for place in places]
    before = {
        frozenset(each.about.split(" and ")): each.kept for each in check_butts(butts, FRAMES)
    }
    random.shuffle(butts)
    after = {frozenset(each.about.split(" and ")): each.kept for each in check_butts(butts, FRAMES)}
    assert after == before


def test_the_other_yardsticks_are_checked_only_by_name():
    near = [butt(4, 2), butt(5, 5), butt(6, 9)]
    assert broken(check_butts(near, FRAMES)) == ()
    old = check_butts_old_yacht(near)
    assert [each.kept for each in old] == [False, True]
    assert old[0].rule.standing == "read at second hand"
    clinker = check_joints_clinker([butt(4, 2), butt(6, 4), butt(7, 2), butt(9, 9)], FRAMES)
    assert [(each.about, each.kept) for each in clinker] == [
        ("p4/2 and p6/4", False),
        ("p6/4 and p7/2", False),
        ("p7/2 and p9/9", True),
    ]


def test_a_new_plank_and_what_it_leaves_are_counted_in_frame_spaces():
    found = check_new_plank(1800, 300, left_mm=[1799, 2400])
    assert [each.kept for each in found] == [True, False, True, True]
    assert found[1].found == pytest.approx(1799 / 300)


def test_where_the_rule_is_relaxed_the_lower_limit_holds():
    assert not check_new_plank(1500, 300)[0].kept
    assert not check_new_plank(1523, 300, relaxed=True)[0].kept
    assert check_new_plank(1524, 300, relaxed=True)[0].kept


def test_no_shim_is_allowed():
    assert not check_new_plank(2000, 300, shims=1)[-1].kept
    assert check_new_plank(2000, 300)[-1].kept


def test_every_rule_names_its_source_and_standing():
    held = [value for value in vars(plank_rules).values() if isinstance(value, Rule)]
    assert len(held) == 11
    assert all(rule.source and rule.standing.startswith("read") for rule in held)
    assert all(conflict.used for conflict in plank_rules.CONFLICTS)


@pytest.mark.parametrize(
    ("butts", "frames", "says"),
    [
        ([Butt("b", "port", 3, 4000)], FRAMES, "Butt b lies beyond"),
        ([Butt("b", "port", 3, -1)], FRAMES, "Butt b lies beyond"),
        ([Butt("b", "port", 3, float("nan"))], FRAMES, "must be a number"),
        ([Butt("b", "port", 0, 400)], FRAMES, "counted from the garboard"),
        ([Butt("b", "port", 1, 400)], [0, 600, 600], "from forward to aft"),
        ([Butt("b", "port", 1, 0)], [0], "from forward to aft"),
    ],
)
def test_impossible_butts_are_refused_with_a_sentence(butts, frames, says):
    with pytest.raises(ValueError, match=says):
        check_butts(butts, frames)


@pytest.mark.parametrize(
    ("length", "spacing", "left", "shims", "says"),
    [
        (0, 300, [], 0, "length of the new plank"),
        (1800, 0, [], 0, "frame spacing"),
        (1800, 300, [-5], 0, "old plank left"),
        (1800, 300, [], -1, "shims"),
    ],
)
def test_an_impossible_plank_is_refused_with_a_sentence(length, spacing, left, shims, says):
    with pytest.raises(ValueError, match=says):
        check_new_plank(length, spacing, left, shims=shims)
