"""Promising lengths of boards: nothing is promised twice, whoever is quicker."""

import threading
from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction

from restoration.actions.allotments import (
    allot_board,
    record_cut,
    record_fitted,
    withdraw_allotment,
)
from restoration.models import Allotment, Finding, Member, ReplacementSpec, Survey

TODAY = date(2026, 3, 4)


@pytest.fixture
def board(woods):
    from timber_stock.models import Board, Supplier

    mill = Supplier.objects.create(name="Aldermoor Sawing")
    return Board.objects.create(
        tag="X1-3",
        species=woods["oak_white"],
        supplier=mill,
        thickness_mm=76,
        width_mm=254,
        length_mm=3100,
    )


@pytest.fixture
def spec(vessel, people, woods):
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on=TODAY, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    member = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12")
    finding = Finding.objects.create(
        survey=survey, member=member, recorded_by=people["surveyor"], condition="3",
        urgency=3, measure=3,
    )  # fmt: skip
    return ReplacementSpec.objects.create(
        finding=finding, wood=woods["oak_white"], sided_mm=64, moulded_mm=127, length_mm=1100,
        specified_by=people["yard"],
    )  # fmt: skip


def promise(spec, board, start, end, people):
    return allot_board(
        spec=spec, board_id=board.pk, from_mm=start, to_mm=end, by=people["yard"], on=TODAY
    )


def test_the_same_length_of_a_board_is_never_promised_twice(spec, board, people):
    promise(spec, board, 100, 1300, people)
    with pytest.raises(ValidationError, match="promised already"):
        promise(spec, board, 1299, 2000, people)
    assert Allotment.objects.count() == 1


def test_lengths_that_only_touch_are_both_promised_and_the_board_says_for_whom(spec, board, people):
    promise(spec, board, 100, 1300, people)
    promise(spec, board, 1300, 3100, people)
    board.refresh_from_db()
    assert board.held_for == "TEN-F12"


def test_the_database_itself_refuses_an_overlap(spec, board, people):
    """Past every check of ours, as a careless script would: the database has the last word."""
    rows = {"spec": spec, "board": board, "allotted_by": people["yard"], "allotted_on": TODAY}
    Allotment.objects.create(from_mm=0, to_mm=500, **rows)
    with pytest.raises(IntegrityError), transaction.atomic():
        Allotment.objects.create(from_mm=499, to_mm=700, **rows)
    later = Allotment.objects.create(from_mm=500, to_mm=700, **rows)
    with pytest.raises(IntegrityError), transaction.atomic():
        Allotment.objects.filter(pk=later.pk).update(from_mm=480)


def test_what_was_withdrawn_can_be_promised_again(spec, board, people):
    first = promise(spec, board, 0, 1300, people)
    withdraw_allotment(allotment=first, on=TODAY, reason="a shake at 900 mm")
    board.refresh_from_db()
    assert board.held_for == ""
    assert promise(spec, board, 0, 1300, people).stage() == "allotted"


def test_a_board_is_not_promised_beyond_its_end(spec, board, people):
    told = "X1-3 is 10 ft 2 3/64 in long: it has no length to 10 ft 5 63/64 in"
    with pytest.raises(ValidationError, match=told):
        promise(spec, board, 2000, 3200, people)


def test_a_piece_is_cut_before_it_is_fitted_and_then_stays(spec, board, people):
    piece = promise(spec, board, 0, 1300, people)
    with pytest.raises(ValidationError, match="cutting first"):
        record_fitted(allotment=piece, on=TODAY, by="Ansgar")
    record_cut(allotment=piece, on=TODAY, by="Ansgar")
    with pytest.raises(ValidationError, match="before it is fitted"):
        record_fitted(allotment=piece, on=date(2026, 3, 1), by="Ansgar")
    piece = record_fitted(allotment=piece, on=date(2026, 3, 9), by="Ansgar")
    assert piece.stage() == "fitted"
    with pytest.raises(ValidationError, match="cannot be withdrawn"):
        withdraw_allotment(allotment=piece, on=TODAY, reason="too late")


@pytest.mark.django_db(transaction=True)
def test_of_two_people_who_promise_the_same_length_at_once_one_is_told_no(spec, board, people):
    start = threading.Barrier(4)
    outcomes = []

    def quick(offset):
        try:
            start.wait(timeout=60)
            promise(spec, board, offset, offset + 900, people)
            outcomes.append("promised")
        except ValidationError:
            outcomes.append("told no")
        finally:
            connection.close()

    threads = [threading.Thread(target=quick, args=(100 * n,)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert sorted(outcomes) == ["promised", "told no", "told no", "told no"]
    assert Allotment.objects.count() == 1


def test_what_is_left_after_a_cut_can_be_resawn_and_holds_only_what_is_left(spec, board, people):
    from timber_stock.actions import Piece, resaw_board

    piece = promise(spec, board, 0, 1300, people)
    told = {"board": board, "sawn_on": TODAY, "sawn_by": "Ansgar", "kerf_mm": 3}
    rest = Piece(tag="X1-3a", thickness_mm=70, width_mm=250, length_mm=1790)
    with pytest.raises(ValidationError, match="held for TEN-F12"):
        resaw_board(pieces=[rest], **told)
    record_cut(allotment=piece, on=TODAY, by="Ansgar")
    board.refresh_from_db()
    assert (board.held_for, board.cut_away_mm, board.left_mm()) == ("", 1300, 1800)
    with pytest.raises(ValidationError, match="too big"):
        resaw_board(pieces=[Piece(**{**vars(rest), "length_mm": 1900})], **told)
    sawing = resaw_board(pieces=[rest], **told)
    assert sawing.in_mm3 == pytest.approx(76 * 254 * 1800)
    fitted = record_fitted(allotment=piece, on=TODAY, by="Ansgar")
    assert fitted.stage() == "fitted"
    with pytest.raises(ValidationError, match="cannot be promised"):
        promise(spec, board, 1400, 2000, people)
