"""The order of work: fewest turns, no two neighbours out at once, all that is fixed honoured."""

from itertools import pairwise, product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from restoration.calc.turns import propose
from restoration.calc.turns_asked import Asked, Contradiction, Neighbours, Rule
from restoration.calc.turns_bound import lower_bound
from restoration.calc.turns_checks import breaches, in_the_way
from restoration.calc.turns_exact import within
from restoration.calc.turns_neighbours import Standing, neighbours
from restoration.calc.turns_search import settle
from restoration.calc.turns_units import units_of

MARKS = ("F1", "F2", "F3", "F4", "F5", "F6")


def asked(out, pairs=(), rules=(), most=None, first=1):
    return Asked(
        tuple(out), tuple(Neighbours(a, b, "they touch") for a, b in pairs), tuple(rules), most,
        first,
    )  # fmt: skip


def row_of(count):
    marks = [f"F{n}" for n in range(1, count + 1)]
    return asked(marks, tuple(pairwise(marks)))


def sentences(question):
    with pytest.raises(Contradiction) as refused:
        propose(question)
    return refused.value.sentences


def test_every_other_floor_goes_out_in_each_of_two_turns():
    found = propose(row_of(7))
    assert found.turns == (("F1", "F3", "F5", "F7"), ("F2", "F4", "F6"))
    assert found.proven
    assert found.bound.turns == 2
    assert found.bound.why == "F1 and F2 may not be out with one another: a turn for each."


def test_a_ring_of_five_needs_three_turns_though_no_three_are_neighbours():
    marks = MARKS[:5]
    found = propose(asked(marks, [*pairwise(marks), ("F5", "F1")]))
    assert len(found.turns) == 3
    assert found.bound.turns == 2
    assert found.proven
    assert found.fewest().turns == 3
    assert "every order of 2 turns was tried" in found.fewest().why


def test_proof_is_not_claimed_where_the_search_may_not_go_on_long_enough():
    marks = MARKS[:5]
    ring = asked(marks, [*pairwise(marks), ("F5", "F1")])
    assert not propose(ring, budget=3).proven
    assert propose(ring, budget=3).fewest().turns == 2


def test_nothing_out_is_no_turns():
    assert propose(asked(())).turns == ()


def test_never_more_than_n_out():
    found = propose(asked(MARKS, most=2))
    assert [len(turn) for turn in found.turns] == [2, 2, 2]
    assert found.bound.why == "6 members, never more than 2 out: 3 turns."


def test_this_first_and_this_before_that():
    rules = [Rule("first", "F4"), Rule("before", "F3", "F1"), Rule("before", "F1", "F5")]
    found = propose(asked(MARKS, rules=rules))
    at = found.turn_of()
    assert at["F4"] == 0
    assert at["F3"] < at["F1"] < at["F5"]
    assert len(found.turns) == 3


def test_those_asked_together_are_out_in_one_turn_and_those_never_together_are_not():
    rules = [Rule("together", "F1", "F4"), Rule("together", "F4", "F6"), Rule("apart", "F2", "F3")]
    at = propose(asked(MARKS, [("F1", "F2")], rules)).turn_of()
    assert at["F1"] == at["F4"] == at["F6"] != at["F2"] != at["F3"]


def test_a_pinned_member_is_out_in_its_turn_and_no_turn_before_it_is_empty():
    found = propose(asked(MARKS[:4], rules=[Rule("pinned", "F2", turn=3)]))
    assert found.turns[2] == ("F2",)
    assert all(found.turns)


def test_turns_after_those_begun_count_on():
    found = propose(asked(MARKS[:3], rules=[Rule("pinned", "F1", turn=4)], first=3))
    assert found.turn_of()["F1"] == 1
    (said,) = sentences(asked(MARKS[:3], rules=[Rule("pinned", "F1", turn=2)], first=3))
    assert said == "F1 is pinned to turn 2, which is begun; the first still to come is turn 3."


def test_no_more_are_out_at_once_than_the_number_of_turns_makes_needful():
    assert [len(turn) for turn in propose(asked(MARKS, [("F1", "F2")])).turns] == [3, 3]


def test_a_circle_of_before_is_refused_by_the_name_of_all_in_it():
    rules = [
        Rule("before", "F6", "F1"), Rule("before", "F1", "F2"), Rule("before", "F2", "F3"),
        Rule("before", "F3", "F1"),
    ]  # fmt: skip
    (said,) = sentences(asked(MARKS, rules=rules))
    assert said.startswith("This goes round in a circle: ")
    for each in ("F1 before F2", "F2 before F3", "F3 before F1"):
        assert each in said
    assert "F6" not in said


def test_neighbours_asked_together_are_told():
    question = asked(MARKS, [("F1", "F2")], [Rule("together", "F2", "F1")])
    assert sentences(question) == (
        "F1 and F2 are neighbours (they touch) and are asked to be out together.",
    )
    by_way = [Rule("together", "F1", "F3"), Rule("together", "F3", "F2")]
    (said,) = sentences(asked(MARKS, [("F1", "F2")], by_way))
    assert said.endswith("asked to be out together by way of others.")


def test_together_and_never_together_are_told():
    rules = [Rule("together", "F1", "F2"), Rule("apart", "F1", "F2")]
    assert sentences(asked(MARKS, rules=rules)) == (
        "F1 and F2 are asked to be never out together, and also together.",
    )


def test_every_contradiction_is_told_at_once():
    rules = [
        Rule("together", "F1", "F2"), Rule("before", "F1", "F2"), Rule("pinned", "F3", turn=0),
        Rule("pinned", "F4", turn=99), Rule("together", "F2", "F5"),
    ]  # fmt: skip
    told = " ".join(sentences(asked(MARKS, rules=rules, most=2)))
    assert "out one before the other, and also together" in told
    assert "F3 is pinned to turn 0, which there is not" in told
    assert "F4 is pinned to turn 99, which there is not" in told
    assert "F1, F2 and F5 are asked to be out together, which is 3" in told


@pytest.mark.parametrize("most", [0, -4])
def test_a_number_out_that_means_no_work_is_refused(most):
    assert "nothing is done" in sentences(asked(MARKS, most=most))[0]


def test_pins_that_clash_are_told():
    both = [Rule("pinned", "F1", turn=2), Rule("pinned", "F2", turn=2)]
    (said,) = sentences(asked(MARKS, [("F1", "F2")], both))
    assert said == "F1 and F2 may not be out together, and both are asked for turn 2."
    (said,) = sentences(asked(MARKS, [], [*both, Rule("pinned", "F3", turn=2)], most=2))
    assert "F1, F2 and F3 are all asked for turn 2" in said
    twice = [Rule("first", "F1"), Rule("pinned", "F1", turn=2)]
    assert sentences(asked(MARKS, rules=twice)) == ("F1 first and F1 in turn 2: not both can be.",)


def test_a_pin_too_early_for_what_comes_before_it_is_told():
    rules = [Rule("before", "F1", "F2"), Rule("before", "F2", "F3"), Rule("pinned", "F3", turn=2)]
    (said,) = sentences(asked(MARKS, rules=rules))
    assert said == (
        "F3 is asked for turn 2, but F2 is asked before it and is not back before then: turn 3 at "
        "the earliest."
    )


def test_pins_with_no_room_between_them_are_told():
    rules = [
        Rule("before", "F1", "F5"), Rule("before", "F2", "F5"), Rule("before", "F3", "F5"),
        Rule("pinned", "F5", turn=3),
    ]  # fmt: skip
    pairs = [("F1", "F2"), ("F2", "F3"), ("F1", "F3")]
    (said,) = sentences(asked(MARKS, pairs, rules))
    assert said.startswith("F5 cannot have the turn asked")
    assert "F1, F2 and F3 before" in said


def test_a_rule_about_a_member_that_stays_in_is_refused():
    with pytest.raises(ValueError, match="F9 is not among those to be out"):
        propose(asked(MARKS, rules=[Rule("first", "F9")]))


def test_a_move_by_hand_is_answered_with_the_neighbour_that_is_out_then():
    question = asked(MARKS, [("F1", "F2")], [Rule("before", "F1", "F3")], most=2)
    turns = [["F1"], ["F2", "F4"], ["F3"]]
    assert in_the_way(question, turns, "F1", 2) == (
        "F2 is out in turn 2, and is a neighbour of F1: they touch.",
        "3 out in turn 2, and never more than 2 are to be.",
    )
    assert in_the_way(question, turns, "F1", 4) == (
        "F1 is asked before F3, and is in turn 4, F3 in turn 3.",
    )
    assert in_the_way(question, turns, "F4", 1) == ()


@st.composite
def questions(draw):
    count = draw(st.integers(1, 5))
    mark = st.sampled_from(MARKS[:count])
    pairs = draw(st.lists(st.tuples(mark, mark).filter(lambda p: p[0] != p[1]), max_size=7))
    rule = st.one_of(
        st.builds(Rule, st.just("first"), mark),
        st.builds(Rule, st.just("pinned"), mark, turn=st.integers(1, min(count, 2))),
        st.builds(Rule, st.sampled_from(["before", "together", "apart"]), mark, mark).filter(
            lambda rule: rule.one != rule.other
        ),
    )
    rules = draw(st.lists(rule, max_size=4))
    return asked(MARKS[:count], pairs, rules, draw(st.one_of(st.none(), st.integers(1, 3))))


def fewest_by_trying_all(question):
    """Every way of giving turns to members, held to the rules one by one; None if none holds.

    So many turns as members are enough, and one more where a pin leaves a turn empty.
    """
    best = None
    for turns in product(range(len(question.out) + 1), repeat=len(question.out)):
        used = max(turns) + 1
        held = [
            [mark for mark, turn in zip(question.out, turns, strict=True) if turn == n]
            for n in range(used)
        ]
        if (best is None or used < best) and not breaches(question, held):
            best = used
    return best


def answer(question):
    try:
        return propose(question)
    except Contradiction as refused:
        return refused


@settings(max_examples=120, deadline=None)
@given(questions())
def test_on_small_hulls_no_order_has_fewer_turns_and_only_the_impossible_is_refused(question):
    fewest = fewest_by_trying_all(question)
    found = answer(question)
    if isinstance(found, Contradiction):
        # A turn past the last that there could be is refused though empty turns might reach it.
        assert fewest is None or "which there is not" in str(found)
        return
    assert found.proven
    assert len(found.turns) == fewest
    assert lower_bound(units_of(question)).turns <= fewest
    assert breaches(question, found.turns) == ()
    assert sorted(mark for turn in found.turns for mark in turn) == sorted(question.out)


def in_turns(units, turns):
    """The marks in each turn, from the turn of each unit."""
    return [
        [mark for unit, at in enumerate(turns) if at == n for mark in units.marks[unit]]
        for n in range(max(turns) + 1)
    ]


def units_or_none(question):
    try:
        return units_of(question)
    except Contradiction:
        return None


@settings(max_examples=80, deadline=None)
@given(questions(), st.integers(1, 4))
def test_the_exact_search_finds_an_order_of_so_many_turns_just_where_there_is_one(question, count):
    units = units_or_none(question)
    assume(units is not None)
    fewest = fewest_by_trying_all(question)
    found = within(units, count)
    assert found.decided
    assert (found.turns is not None) == (fewest is not None and fewest <= count)
    if found.turns is not None:
        assert breaches(question, in_turns(units, found.turns)) == ()


def test_the_exact_search_keeps_those_after_late_and_those_ahead_early():
    late = [Rule("before", "F1", "F2"), Rule("pinned", "F3", turn=1)]
    units = units_of(asked(MARKS[:3], [("F1", "F3")], late))
    assert within(units, 3).turns == (1, 2, 0)
    early = [*late, Rule("pinned", "F4", turn=3)]
    near = [("F1", "F3"), ("F2", "F4"), ("F2", "F5"), ("F2", "F6")]
    found = within(units_of(asked(MARKS, near, early)), 4).turns
    assert found[0] < found[1]


@settings(max_examples=80, deadline=None)
@given(questions(), st.integers(1, 4))
def test_what_the_quick_search_settles_on_is_as_asked(question, count):
    units = units_or_none(question)
    assume(units is not None)
    found = settle(units, count, steps=60)
    if found is not None:
        assert breaches(question, in_turns(units, found)) == ()


def test_the_quick_search_drives_out_what_comes_too_late_and_finds_it_another_place():
    rules = [Rule("before", "F1", "F2"), Rule("before", "F2", "F3")]
    units = units_of(asked(MARKS[:3], rules=rules))
    assert settle(units, 3, start=(2, None, 0)) == (0, 1, 2)
    assert settle(units, 2) is None


def a_ketch_of(frames):
    """Some five members a frame: floors, frames, beams, strakes, longitudinals, backbone."""
    members = [
        Standing("K1", "keel", "backbone", "C", 2, frames - 4),
        Standing("ST1", "stem", "backbone", "C", 0, 1),
        Standing("SF1", "stem_foot", "backbone", "C", 1, 3),
    ]
    for n in range(1, frames + 1):
        members.append(Standing(f"F{n}", "floor_timber", "transverse", "C", n, n, n))
        members += [Standing(f"FR{n}{s}", "frame", "transverse", s, n, n, n) for s in "PS"]
        if n < frames - 5:
            members.append(Standing(f"B{n}", "deck_beam", "deck", "C", n, n, n))
    for side in "PS":
        for mark, kind in (("CL", "clamp"), ("SH", "shelf"), ("BS", "bilge_stringer")):
            members.append(Standing(mark + side, kind, "longitudinal", side, 1, frames))
        strakes = [("garboard", 1), *(("planking", n) for n in range(1, 16))]
        for kind, n in strakes:
            for part, ends in enumerate(((0, 25), (26, frames))):
                mark = f"{kind[0].upper()}{n}{side}{part}"
                members.append(Standing(mark, kind, "shell", side, *ends, n))
    joined = [(f"F{n}", "K1") for n in range(3, frames - 4)]
    joined += [(f"B{n}", f"SH{s}") for n in range(1, frames - 5) for s in "PS"]
    return members, neighbours(members, joined)


@pytest.mark.parametrize("most", [None, 25, 11])
@pytest.mark.parametrize("seldom", [1, 2, 3])
def test_on_a_hull_of_300_members_within_one_turn_of_what_none_can_beat(most, seldom):
    members, pairs = a_ketch_of(60)
    assert len(members) > 300
    out = tuple(member.mark for member in members)[::seldom]
    kept = set(out)
    rules = [Rule("before", f"F{n}", f"F{n + 6}") for n in range(1, 50, 4)]
    rules += [Rule("together", f"FR{n}P", f"FR{n}S") for n in range(2, 60, 5)]
    rules += [Rule("first", "ST1"), Rule("pinned", "F20", turn=3), Rule("apart", "F9", "B40")]
    fit = tuple(rule for rule in rules if {rule.one, rule.other or rule.one} <= kept)
    question = Asked(out, pairs, fit, most)
    found = propose(question)
    assert len(found.turns) <= found.bound.turns + 1
    assert breaches(question, found.turns) == ()
    assert propose(question) == found
