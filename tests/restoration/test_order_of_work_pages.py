"""The pages of the order of work: proposing, fixing, moving, stepping through, printing."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from restoration.actions.orders_of_work import accept_order, propose_order
from restoration.models import Member, TurnRule, WorkOrder

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(vessel, people):
    """F1 to F5 in a row, stepped through in two turns, and F6 that stays in."""
    Member.objects.bulk_create(
        Member(vessel=vessel, kind="floor_timber", mark=f"F{n}", number=n, station_from=n + 2)
        for n in range(1, 7)
    )
    out = list(vessel.members.exclude(mark="F6"))
    return propose_order(vessel=vessel, members=out, most_out=None, by=people["yard"])


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


def text(answer):
    return " ".join(answer.content.decode().split())


def address(order, *rest):
    return "/".join([f"/orders-of-work/{order.pk}", *map(str, rest), ""])


def move(order, mark):
    return f"/turn-members/{order.places.get(member__mark=mark).pk}/move/"


def test_before_there_is_an_order_the_page_says_how_to_begin(yard, survey, make_spec):
    make_spec(survey, "F1")
    page = text(yard.get(f"/vessels/{survey.vessel_id}/order-of-work/"))
    assert "1 member waits to be replaced." in page
    assert "Neighbours are members that are joined" in page


def test_proposing_offers_who_waits_and_takes_others_by_their_marks(yard, survey, make_spec):
    specified = make_spec(survey, "F1").finding.member
    Member.objects.create(vessel=survey.vessel, kind="frame", mark="FR1P", side="P")
    ask = f"/vessels/{survey.vessel_id}/order-of-work/propose/"
    assert "needs timber" in text(yard.get(ask))
    answer = yard.post(ask, {"members": [specified.pk], "more": "fr1p", "most_out": ""})
    order = WorkOrder.objects.get()
    assert answer["Location"] == order.get_absolute_url()
    assert {place.member.mark for place in order.places.all()} == {"F1", "FR1P"}


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({"more": "F9"}, "No member of this mark is there: F9."),
        ({"most_out": ""}, "Choose at least one member to be out."),
        ({"more": "F2", "most_out": "0"}, "Never more than 0 out means that nothing is done"),
        ({"more": "F2", "most_out": "-3"}, "Never more than -3 out means that nothing is done"),
        ({"more": "F2", "most_out": "a few"}, "whole number"),
    ],
)
def test_what_cannot_be_proposed_is_told_and_what_was_typed_stays(yard, order, said, told):
    answer = yard.post(f"/vessels/{order.vessel_id}/order-of-work/propose/", said)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    for typed in filter(None, said.values()):
        assert f'value="{typed}"' in answer.content.decode()
    assert order.places.count() == 5


def test_the_order_shows_its_turns_and_says_they_are_the_fewest(yard, order):
    page = text(yard.get(address(order)))
    assert "Turn 1: 3 out" in page
    assert "2: these are the fewest" in page
    assert "F1 and F2 may not be out with one another: a turn for each." in page
    assert "Common practice, from memory" in page
    assert "A hull that slips off her shores kills." in page


def fix(yard, order, **said):
    return yard.post(address(order, "rules", "new"), said)


def test_a_circle_is_refused_with_its_names_and_what_was_typed_stays(yard, order):
    fix(yard, order, one="F1", kind="before", others="F3")
    fix(yard, order, one="F3", kind="before", others="F5")
    answer = fix(yard, order, one="f5", kind="before", others="F1")
    assert answer.status_code == 422
    page = text(answer)
    assert "This goes round in a circle:" in page
    assert "F5 before F1" in page
    assert 'value="f5"' in page
    assert TurnRule.objects.count() == 2


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({"one": "F1", "kind": "together", "others": "F2"}, "F1 and F2 are neighbours"),
        ({"one": "F1", "kind": "pinned", "turn": "0"}, "There is no turn 0: turns count from 1."),
        ({"one": "F1", "kind": "pinned", "turn": "9"}, "which there is not"),
        ({"one": "F1", "kind": "pinned"}, "Say to which turn."),
        ({"one": "F1", "kind": "before"}, "Say which others it is about."),
        ({"one": "F1", "kind": "before", "others": "F1"}, "cannot stand against itself"),
        ({"one": "F6", "kind": "first"}, "No member of this mark is there: F6."),
        ({"one": "F1, F3", "kind": "first"}, "Give one mark here"),
        ({"one": "F1", "kind": "pinned", "turn": "99999999999"}, "There is no turn 99999999999"),
    ],
)
def test_what_cannot_be_fixed_is_told_in_a_sentence(yard, order, said, told):
    answer = fix(yard, order, **said)
    assert answer.status_code == 422
    assert told in text(answer)
    assert not TurnRule.objects.exists()


def test_together_and_never_together_is_told(yard, order):
    fix(yard, order, one="F1", kind="together", others="F3")
    answer = fix(yard, order, one="F3", kind="apart", others="F1")
    assert "asked to be never out together, and also together" in text(answer)


def test_what_is_fixed_may_be_taken_away_again(yard, order):
    fix(yard, order, one="F4", kind="first")
    assert "Turn 1: 2 out" in text(yard.get(address(order)))
    yard.post(f"/turn-rules/{TurnRule.objects.get().pk}/delete/")
    assert "Turn 1: 3 out" in text(yard.get(address(order)))


def test_a_move_to_a_neighbour_is_refused_by_name_and_then_done_for_a_reason(yard, order):
    answer = yard.post(move(order, "F3"), {"to": 2})
    assert answer.status_code == 422
    assert "F2 is out in turn 2, and is a neighbour of F3" in text(answer)
    yard.post(move(order, "F3"), {"to": 2, "reason": "the cradle holds her"})
    page = text(yard.get(address(order)))
    assert "although something stood against it: the cradle holds her" in page
    assert "Not as asked, as it stands:" in page


def test_a_turn_that_takes_a_member_only_for_a_reason_is_offered_with_what_stands_against_it(
    yard, order
):
    page = text(yard.get(move(order, "F3")))
    assert '<option value="2">2, with F2, F4: only with a reason</option>' in page
    assert '<option value="3" selected>3, a turn of its own</option>' in page
    assert "Against turn 2" in page
    assert "F2 is out in turn 2, and is a neighbour of F3" in page
    assert "Against turn 3" not in page


def test_a_turn_that_is_begun_says_so_where_it_is_offered_and_one_that_is_done_is_not_offered(
    yard, order, people
):
    accept_order(order=order, by=people["yard"], on=date(2026, 4, 7))
    order.turns.filter(number=1).update(begun_on=date(2026, 4, 8))
    page = text(yard.get(move(order, "F2")))
    assert "1, with F1, F3, F5: only with a reason" in page
    assert "<li>Turn 1 is begun.</li>" in page
    order.turns.filter(number=1).update(done_on=date(2026, 4, 9))
    page = text(yard.get(move(order, "F2")))
    assert "1, with F1" not in page
    assert "3, a turn of its own</option>" in page


def test_out_of_a_turn_that_is_done_no_turn_is_offered(yard, order, people):
    accept_order(order=order, by=people["yard"], on=date(2026, 4, 7))
    day = date(2026, 4, 8)
    order.turns.filter(number=1).update(begun_on=day, done_on=day)
    page = text(yard.get(move(order, "F3")))
    assert "Turn 1 is done: who was out in it stays written." in page
    assert "a turn of its own" not in page


def test_the_printed_sheet_of_a_turn_says_what_in_it_is_not_as_asked(yard, order):
    yard.post(move(order, "F3"), {"to": 2, "reason": "the cradle holds her"})
    drawn = yard.get(address(order, "turns", 2)).context["drawing"]
    assert "– Not as asked: F" in drawn
    assert "Not as asked" not in yard.get(address(order, "turns", 1)).context["drawing"]


def test_the_printed_sheet_of_a_turn_counts_what_it_has_no_room_for(yard, order):
    yard.post(move(order, "F3"), {"to": 2, "reason": "the cradle holds her"})
    yard.post(move(order, "F5"), {"to": 2, "reason": "and there"})
    drawn = yard.get(address(order, "turns", 2)).context["drawing"]
    assert drawn.count("– Not as asked: F") == 2
    assert "– And 1 more not as asked" in drawn


def test_a_turn_in_which_neighbours_are_out_says_so_on_its_own_page(yard, order):
    yard.post(move(order, "F3"), {"to": 2, "reason": "the cradle holds her"})
    page = text(yard.get(address(order, "turns", 2)))
    assert "Not as asked, in this turn:" in page
    assert page.count("<li>F3 is out in turn 2, and is a neighbour of F2") == 1
    assert "although something stood against it: the cradle holds her" in page
    assert "Not as asked" not in text(yard.get(address(order, "turns", 1)))


def test_turns_that_break_what_is_asked_are_not_called_the_fewest(yard, order):
    assert "2: these are the fewest" in text(yard.get(address(order)))
    yard.post(move(order, "F3"), {"to": 2, "reason": "the cradle holds her"})
    page = text(yard.get(address(order)))
    assert "these are the fewest" not in page
    assert "2, if all that is asked is kept; as it stands not all of it is" in page


def test_more_turns_made_by_hand_are_held_against_the_fewest(yard, order):
    yard.post(move(order, "F3"), {"to": 3})
    assert "2, proven; members were moved by hand since" in text(yard.get(address(order)))


def test_neighbours_are_listed_with_why_and_a_pair_is_taken_away_and_set_down(yard, order):
    listed = address(order, "neighbours")
    assert "next to each other along the hull" in text(yard.get(listed))
    yard.post(f"{listed}set/", {"one": "F1", "other": "F2", "are": "no"})
    assert "F1 no neighbour of F2" in text(yard.get(listed))
    yard.post(f"{listed}set/", {"one": "F1", "other": "F5"})
    assert "set down as neighbours by hand" in text(yard.get(listed))
    answer = yard.post(f"{listed}set/", {"one": "F1", "other": "F1"})
    assert "no neighbour of itself" in text(answer)


def test_each_turn_is_drawn_and_leads_to_the_one_before_and_the_one_after(yard, order):
    page = text(yard.get(address(order, "turns", 1)))
    assert "F1, floor timber: turn 1, out in this turn" in page
    assert "F2, floor timber: turn 2, out in a later turn" in page
    assert "F6, floor timber: stays in" in page
    assert 'rel="next"' in page
    assert 'rel="prev"' not in page
    page = text(yard.get(address(order, "turns", 2)))
    assert "F1, floor timber: turn 1, back from an earlier turn" in page
    assert 'rel="prev"' in page
    assert yard.get(address(order, "turns", 3)).status_code == 404


def test_the_drawing_counts_those_that_must_hold_as_the_list_below_it_does(yard, order):
    answer = yard.get(address(order, "turns", 2))
    assert [member.mark for member in answer.context["holding"]] == ["F1", "F3", "F5"]
    assert "MUST HOLD MEANWHILE (3)" in answer.context["drawing"]
    assert "holds: neighbour of one out, in no turn" in answer.context["drawing"]


def test_a_step_by_htmx_is_the_piece_alone_with_its_title(yard, order):
    piece = yard.get(address(order, "turns", 2), headers={"HX-Request": "true"})
    assert "<html" not in piece.content.decode()
    assert "<title>Turn 2" in piece.content.decode()


def test_who_is_out_is_told_by_hatch_and_number_and_not_by_colour_alone(yard, order):
    page = yard.get(address(order, "turns", 2)).content.decode()
    for state, number in (("out", "2"), ("back", "1")):
        assert f'class="m s-{state}"' in page
        assert f'class="h-{state}"' in page
        assert f'text-anchor="middle">{number}</text>' in page


def test_accepting_beginning_and_the_note_of_a_turn(yard, order, people):
    yard.post(address(order, "accept"))
    turn = order.turns.get(number=1)
    said = {"note": "Cradle arms home", "begun_on": "2026-04-07", "done_on": ""}
    yard.post(f"/turns/{turn.pk}/edit/", said)
    page = text(yard.get(address(order)))
    assert "begun 7 April 2026" in page
    assert "Cradle arms home" in page
    assert "3</b> <span>members of Tenacious Wren out in turn 1" in text(yard.get("/"))
    answer = yard.post(f"/turns/{turn.pk}/edit/", said | {"done_on": "2026-04-06"})
    assert answer.status_code == 422
    assert "begun before it is done" in text(answer)


def test_the_page_to_print_has_every_turn_with_room_for_a_pen(yard, order):
    page = text(yard.get(address(order, "print")))
    assert page.count("by-pen") >= 5
    assert "Turn 2: 2 out" in page


def test_an_order_set_aside_is_read_and_no_longer_changed(yard, order):
    yard.post(address(order, "set-aside"))
    page = text(yard.get(address(order)))
    assert "Set aside" in page
    assert "Move" not in page
    assert yard.get(f"/vessels/{order.vessel_id}/order-of-work/").status_code == 200


def test_a_button_pressed_too_late_says_why_nothing_came_of_it(yard, order, people):
    accept_order(order=order, by=people["yard"], on=date(2026, 4, 7))
    answer = yard.post(address(order, "accept"), follow=True)
    assert "This order of work is accepted: what is fixed in it stays." in text(answer)


def test_a_surveyor_reads_and_changes_nothing(client, order, people):
    client.force_login(people["surveyor"])
    page = text(client.get(address(order)))
    assert "Accept this order" not in page
    assert "Move" not in page
    assert client.post(move(order, "F1"), {"to": 2}).status_code == 403
    listed = address(order, "neighbours")
    assert client.post(listed, {"one": "F1", "other": "F5"}).status_code == 405
    assert client.post(f"{listed}set/", {"one": "F1", "other": "F5"}).status_code == 403


def test_no_page_asks_more_of_the_database_for_a_longer_hull(yard, order, vessel, people):
    pages = [address(order), address(order, "turns", 1), address(order, "print")]
    pages += [address(order, "neighbours"), move(order, "F1")]

    def count(page):
        with CaptureQueriesContext(connection) as asked:
            assert yard.get(page).status_code == 200
        return len(asked)

    few = [count(page) for page in pages]
    Member.objects.bulk_create(
        Member(vessel=vessel, kind="frame", mark=f"FR{n}P", side="P", number=n, station_from=n)
        for n in range(1, 30)
    )
    propose_order(vessel=vessel, members=vessel.members.all(), most_out=None, by=people["yard"])
    pages[-1] = move(order, "FR1P")
    assert [count(page) for page in pages] == few
