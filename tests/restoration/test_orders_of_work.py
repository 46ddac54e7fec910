"""Orders of work: what is fixed, moved, begun and accepted, and what is refused."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError

from restoration.actions.order_facts import facts_of, waiting_members
from restoration.actions.orders_of_work import (
    accept_order,
    drop_rule,
    fix_rule,
    propose_order,
    set_aside,
    set_neighbours,
)
from restoration.actions.turns import keep_turn, move_member
from restoration.models import Joint, Member, TurnRule, WorkOrder

pytestmark = pytest.mark.django_db
DAY = date(2026, 4, 7)


@pytest.fixture
def floors(vessel):
    """Seven floors in a row, F1 to F7, and a shelf that touches none of them."""
    made = [
        Member(vessel=vessel, kind="floor_timber", mark=f"F{n}", number=n, station_from=n)
        for n in range(1, 8)
    ]
    made.append(Member(vessel=vessel, kind="shelf", mark="SH1P", side="P"))
    Member.objects.bulk_create(made)
    return {member.mark: member for member in vessel.members.all()}


@pytest.fixture
def order(vessel, floors, people):
    """F1 to F5 and the shelf."""
    out = [floors[mark] for mark in ("F1", "F2", "F3", "F4", "F5", "SH1P")]
    return propose_order(vessel=vessel, members=out, most_out=None, by=people["yard"])


def turns_of(order):
    return facts_of(WorkOrder.objects.get(pk=order.pk)).in_turns()


def place(order, mark):
    return order.places.get(member__mark=mark)


def fix(order, people, floors, kind, one, *others, turn=None):
    return fix_rule(
        order=order, kind=kind, one=floors[one], others=[floors[mark] for mark in others],
        turn=turn, by=people["yard"],
    )  # fmt: skip


def test_the_turns_are_proposed_and_said_to_be_the_fewest(order):
    assert turns_of(order) == [["F1", "F3", "F5"], ["F2", "F4", "SH1P"]]
    assert (order.state, order.is_proven, order.bound_turns) == ("proposed", True, 2)
    assert "F1 and F2" in order.bound_why


def test_a_member_that_stays_in_still_stands_between_two_that_go_out(vessel, floors, people):
    out = [floors["F1"], floors["F3"]]
    made = propose_order(vessel=vessel, members=out, most_out=None, by=people["yard"])
    assert turns_of(made) == [["F1", "F3"]]


def test_who_waits_is_who_has_a_specification_that_is_not_fitted(
    survey, make_spec, deep_log, promise, people
):
    from restoration.actions.allotments import record_cut, record_fitted

    waits, gone, fitted = (make_spec(survey, mark) for mark in ("F1", "F2", "F3"))
    gone.withdrawn_on, gone.withdrawn_reason = DAY, "scarfed instead"
    gone.save()
    allotment = promise(fitted, "L7-2a", 0, 1200)
    record_cut(allotment=allotment, on=DAY, by="J. Sawyer")
    record_fitted(allotment=allotment, on=DAY, by="J. Sawyer")
    assert [(m.mark, m.stage) for m in waiting_members(survey.vessel)] == [("F1", "needs timber")]
    assert waits.finding.member.mark == "F1"


def test_proposing_again_changes_the_open_proposal_and_keeps_what_is_fixed(
    order, vessel, floors, people
):
    fix(order, people, floors, "first", "F4")
    again = propose_order(
        vessel=vessel, members=[floors["F4"], floors["F5"]], most_out=1, by=people["yard"]
    )
    assert again.pk == order.pk
    assert turns_of(order) == [["F4"], ["F5"]]


def test_what_is_fixed_is_honoured(order, people, floors):
    fix(order, people, floors, "before", "F5", "F1", "SH1P")
    fix(order, people, floors, "apart", "F1", "SH1P")
    turns = {mark: n for n, turn in enumerate(turns_of(order)) for mark in turn}
    assert turns["F5"] < turns["F1"] != turns["SH1P"] > turns["F5"]


def test_a_rule_that_cannot_be_is_refused_in_words_and_nothing_is_changed(order, people, floors):
    fix(order, people, floors, "before", "F1", "F3")
    fix(order, people, floors, "before", "F3", "F5")
    was = turns_of(order)
    with pytest.raises(ValidationError) as refused:
        fix(order, people, floors, "before", "F5", "F1")
    (said,) = refused.value.messages
    assert said.startswith("This goes round in a circle: ")
    for pair in ("F1 before F3", "F3 before F5", "F5 before F1"):
        assert pair in said
    assert order.rules.count() == 2
    assert turns_of(order) == was


def test_neighbours_asked_together_are_refused_until_they_are_said_to_be_none(
    order, people, floors
):
    with pytest.raises(ValidationError, match="F1 and F2 are neighbours"):
        fix(order, people, floors, "together", "F1", "F2")
    set_neighbours(order=order, one=floors["F2"], other=floors["F1"], are=False, by=people["yard"])
    fix(order, people, floors, "together", "F1", "F2")
    assert ["F1", "F2"] in [turn[:2] for turn in turns_of(order)]


def test_a_pair_set_down_as_neighbours_is_kept_apart_and_may_be_taken_back(order, people, floors):
    pair = {"one": floors["F1"], "other": floors["F5"], "by": people["yard"]}
    set_neighbours(order=order, are=True, **pair)
    facts = facts_of(order)
    assert facts.turn_of[floors["F1"].pk] != facts.turn_of[floors["F5"].pk]
    set_neighbours(order=order, are=False, **pair)
    assert not order.rules.exists()


def test_joined_members_are_neighbours(vessel, floors, people):
    one, other = sorted((floors["F1"], floors["SH1P"]), key=lambda member: member.pk)
    Joint.objects.create(one=one, other=other)
    made = propose_order(vessel=vessel, members=[one, other], most_out=None, by=people["yard"])
    assert len(turns_of(made)) == 2


@pytest.mark.parametrize("turn", [0, None, 99])
def test_a_pin_to_a_turn_that_there_is_not_is_refused(order, people, floors, turn):
    with pytest.raises(ValidationError):
        fix(order, people, floors, "pinned", "F1", turn=turn)
    assert not order.rules.exists()


def test_never_more_than_none_is_refused_and_the_order_stays(order, vessel, floors, people):
    with pytest.raises(ValidationError, match="nothing is done"):
        propose_order(vessel=vessel, members=[floors["F1"]], most_out=0, by=people["yard"])
    assert len(turns_of(order)) == 2


def test_a_move_next_to_a_neighbour_is_refused_by_its_name_and_done_for_a_reason(order, people):
    with pytest.raises(ValidationError) as refused:
        move_member(place=place(order, "F3"), to=2, by=people["yard"])
    said = "{} is out in turn 2, and is a neighbour of F3: next to each other along the hull."
    assert refused.value.messages == [said.format("F2"), said.format("F4")]
    assert turns_of(order)[0] == ["F1", "F3", "F5"]
    reason = "she stands in a cradle that holds her there"
    move_member(place=place(order, "F3"), to=2, by=people["yard"], reason=reason)
    moved = place(order, "F3")
    assert (moved.turn.number, moved.moved_by, moved.override_reason) == (2, people["yard"], reason)
    assert facts_of(order).breaches() == (
        "F3 is out in turn 2, and is a neighbour of F2: next to each other along the hull.",
        "F4 is out in turn 2, and is a neighbour of F3: next to each other along the hull.",
    )


def test_a_reason_is_not_kept_where_nothing_stood_against_the_move(order, people):
    move_member(place=place(order, "SH1P"), to=1, by=people["yard"], reason="just because")
    assert place(order, "SH1P").override_reason == ""


def test_a_member_may_have_a_turn_of_its_own_and_the_last_turn_goes_when_it_is_empty(order, people):
    move_member(place=place(order, "F5"), to=3, by=people["yard"])
    assert turns_of(order)[2] == ["F5"]
    move_member(place=place(order, "F5"), to=1, by=people["yard"])
    assert len(turns_of(order)) == 2
    with pytest.raises(ValidationError, match="There is no turn 4"):
        move_member(place=place(order, "F5"), to=4, by=people["yard"])


def test_what_was_moved_by_hand_stays_when_something_is_fixed_later(order, people, floors):
    move_member(place=place(order, "F5"), to=3, by=people["yard"])
    assert fix(order, people, floors, "before", "F1", "F2") == []
    assert "F5" in turns_of(order)[2]
    assert place(order, "F5").moved_by == people["yard"]
    assert fix(order, people, floors, "first", "F1") == []
    assert fix(order, people, floors, "before", "F5", "SH1P") == []
    assert fix(order, people, floors, "before", "SH1P", "F3") == []


def test_a_move_that_what_is_fixed_later_rules_out_is_given_up_and_told(order, people, floors):
    move_member(place=place(order, "SH1P"), to=1, by=people["yard"])
    assert fix(order, people, floors, "before", "F1", "SH1P") == ["SH1P"]
    assert "SH1P" in turns_of(order)[1]
    assert place(order, "SH1P").moved_by is None


def test_a_rule_taken_away_no_longer_holds(order, people, floors):
    fix(order, people, floors, "before", "F1", "F3")
    drop_rule(rule=TurnRule.objects.get())
    assert turns_of(order)[0] == ["F1", "F3", "F5"]


def accepted(order, people):
    return accept_order(order=order, by=people["yard"], on=DAY)


def test_a_turn_is_begun_only_when_the_order_is_accepted(order, people):
    turn = order.turns.get(number=1)
    with pytest.raises(ValidationError, match="Accept the order"):
        keep_turn(turn=turn, note="", begun_on=DAY)
    accepted(order, people)
    keep_turn(turn=turn, note="shores under the bilge", begun_on=DAY)
    turn.refresh_from_db()
    assert (turn.begun_on, turn.note) == (DAY, "shores under the bilge")


def test_the_next_turn_waits_until_the_neighbours_are_back(order, people):
    accepted(order, people)
    first, second = order.turns.order_by("number")
    with pytest.raises(ValidationError, match="Turn 1 comes first"):
        keep_turn(turn=second, note="", begun_on=DAY)
    keep_turn(turn=first, note="", begun_on=DAY)
    with pytest.raises(ValidationError) as refused:
        keep_turn(turn=second, note="", begun_on=DAY)
    assert "F1 (turn 1) is not back yet, and F2 is its neighbour" in refused.value.messages[0]
    keep_turn(turn=first, note="", begun_on=DAY, done_on=DAY)
    keep_turn(turn=second, note="", begun_on=DAY)
    with pytest.raises(ValidationError, match="before it is done"):
        keep_turn(turn=second, note="", begun_on=DAY, done_on=date(2026, 4, 6))


def test_who_was_out_in_a_turn_that_is_done_stays_written(order, people):
    accepted(order, people)
    keep_turn(turn=order.turns.get(number=1), note="", begun_on=DAY, done_on=DAY)
    with pytest.raises(ValidationError, match="Turn 1 is done"):
        move_member(place=place(order, "F1"), to=2, by=people["yard"], reason="it was not")


def test_what_is_fixed_in_an_accepted_order_stays(order, people, floors):
    accepted(order, people)
    with pytest.raises(ValidationError, match="Propose one anew"):
        fix(order, people, floors, "first", "F2")


def test_a_new_proposal_keeps_turns_begun_and_what_is_fixed_until_it_is_accepted(
    order, vessel, people, floors
):
    fix(order, people, floors, "before", "F1", "F4")
    accepted(order, people)
    keep_turn(turn=order.turns.get(number=1), note="cradle", begun_on=DAY, done_on=DAY)
    out = [floors[mark] for mark in ("F1", "F2", "F3", "F4", "F5", "F6", "SH1P")]
    new = propose_order(vessel=vessel, members=out, most_out=2, by=people["yard"])
    assert new.pk != order.pk
    first, *later = turns_of(new)
    assert first == turns_of(order)[0]
    assert sorted(mark for turn in later for mark in turn) == ["F2", "F4", "F6", "SH1P"]
    assert all(len(turn) <= 2 for turn in later)
    assert new.turns.get(number=1).note == "cradle"
    order.refresh_from_db()
    assert order.state == "accepted"
    accepted(new, people)
    order.refresh_from_db()
    assert order.state == "aside"


def test_a_proposal_made_before_another_turn_was_begun_is_not_accepted(
    order, vessel, people, floors
):
    accepted(order, people)
    new = propose_order(vessel=vessel, members=[floors["F2"]], most_out=None, by=people["yard"])
    keep_turn(turn=order.turns.get(number=1), note="", begun_on=DAY)
    with pytest.raises(ValidationError, match="begun or done since"):
        accepted(new, people)
    order.refresh_from_db()
    assert order.state == "accepted"


def test_a_rule_that_a_turn_begun_has_broken_for_good_is_told(order, vessel, people, floors):
    accepted(order, people)
    keep_turn(turn=order.turns.get(number=1), note="", begun_on=DAY, done_on=DAY)
    new = propose_order(vessel=vessel, members=[floors["F2"]], most_out=None, by=people["yard"])
    with pytest.raises(ValidationError, match="F2 before F1 cannot be had any more"):
        fix(new, people, floors, "before", "F2", "F1")


def test_a_proposal_set_aside_stays_to_be_read(order, people, floors):
    set_aside(order=order)
    order.refresh_from_db()
    assert order.state == "aside"
    assert len(turns_of(order)) == 2
    with pytest.raises(ValidationError, match="set aside"):
        move_member(place=place(order, "F5"), to=2, by=people["yard"])


def test_the_facts_of_an_order_take_as_many_queries_for_many_members(
    order, vessel, people, floors, django_assert_num_queries
):
    known = WorkOrder.objects.select_related("vessel").get(pk=order.pk)
    with django_assert_num_queries(5):
        facts_of(known).breaches()
    more = Member.objects.bulk_create(
        Member(vessel=vessel, kind="frame", mark=f"FR{n}P", side="P", number=n, station_from=n)
        for n in range(30)
    )
    propose_order(vessel=vessel, members=more, most_out=None, by=people["yard"])
    known = WorkOrder.objects.select_related("vessel").get(pk=order.pk)
    with django_assert_num_queries(5):
        facts_of(known).breaches()
