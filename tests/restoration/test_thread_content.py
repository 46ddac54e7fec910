"""The chain from member to log and back: right at any depth, in one query."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from restoration.actions.allotments import record_cut, record_fitted, withdraw_allotment
from restoration.models import Survey
from restoration.reports.thread_content import (
    board_timber,
    log_timber,
    member_thread,
    members_timber,
)
from timber_stock.actions import Piece, resaw_board
from timber_stock.models import Board


@pytest.fixture
def floor(survey, make_spec):
    return make_spec(survey, "F12")


def test_a_members_chain_runs_from_its_log_down_to_the_length_it_took(floor, deep_log, promise):
    taken = promise(floor, "L7-2b1", 200, 1350)
    record_cut(allotment=taken, on=date(2026, 2, 9), by="Ansgar")
    record_fitted(allotment=taken, on=date(2026, 2, 20), by="Wiebke")
    (chain,) = member_thread([floor.finding.member_id])[floor.finding.member_id]
    assert (chain.log.tag, chain.log.felled_place) == ("L7", "Hangar Wood")
    assert chain.log.felled_on == date(2025, 1, 17)
    assert chain.log.supplier == "Aldermoor Sawing"
    assert [(piece.tag, piece.word) for piece in chain.pieces] == [
        ("L7-2", "flitch"),
        ("L7-2b", "board"),
        ("L7-2b1", "board"),
    ]
    assert [piece.depth for piece in chain.pieces] == [1, 2, 3]
    assert chain.pieces[-1].sawn_on == date(2025, 11, 20)
    assert chain.pieces[-1].heart == "clear of heart"
    assert (chain.use.from_mm, chain.use.to_mm, chain.use.stage) == (200, 1350, "fitted")
    assert (chain.use.cut_by, chain.use.fitted_by) == ("Ansgar", "Wiebke")
    assert chain.use.full_mark == "TEN-F12"
    assert chain.use.allotted_by == "wright"


def test_a_member_of_two_lengths_has_two_chains_and_one_of_none_has_none(
    floor, survey, make_spec, deep_log, bought_board, promise
):
    bare = make_spec(survey, "F13").finding.member_id
    promise(floor, "L7-1", 0, 1200)
    promise(floor, "Q3", 300, 900)
    chains = member_thread([floor.finding.member_id, bare])
    assert chains[bare] == []
    by_tag = {chain.pieces[-1].tag: chain for chain in chains[floor.finding.member_id]}
    assert set(by_tag) == {"L7-1", "Q3"}
    assert by_tag["Q3"].log is None
    assert by_tag["Q3"].pieces[0].supplier == "Drayhithe Timber"


def test_a_board_bought_sawn_and_resawn_twice_is_followed_to_where_it_was_bought(
    floor, bought_board, promise
):
    board = bought_board
    for tag, width in (("Q3a", 200), ("Q3a1", 150)):
        resaw_board(
            board=board, sawn_on=date(2025, 6, 1), sawn_by="J. Sawyer", kerf_mm=2,
            pieces=[Piece(tag, 60, width, 2400)],
        )  # fmt: skip
        board = Board.objects.get(tag=tag)
    promise(floor, "Q3a1", 0, 1200)
    (chain,) = member_thread([floor.finding.member_id])[floor.finding.member_id]
    assert [(p.tag, p.word, p.depth) for p in chain.pieces] == [
        ("Q3", "board", 1),
        ("Q3a", "board", 2),
        ("Q3a1", "board", 3),
    ]


def test_what_was_withdrawn_is_no_part_of_the_thread(floor, deep_log, promise):
    taken = promise(floor, "L7-1", 0, 1200)
    withdraw_allotment(allotment=taken, on=date(2026, 2, 4), reason="a shake")
    assert member_thread([floor.finding.member_id]) == {floor.finding.member_id: []}
    assert log_timber(deep_log.pk).uses == ()


def test_a_log_a_board_and_a_member_of_one_chain_tell_of_the_same_tree(floor, deep_log, promise):
    promise(floor, "L7-2b2", 0, 1200)
    whole = log_timber(deep_log.pk)
    assert [piece.tag for piece in whole.pieces] == [
        "L7-1", "L7-2", "L7-2a", "L7-2b", "L7-2b1", "L7-2b2",
    ]  # fmt: skip
    for tag in ("L7-1", "L7-2", "L7-2b1"):
        assert board_timber(Board.objects.get(tag=tag).pk) == whole
    assert members_timber([floor.finding.member_id]) == whole
    tags = [piece.tag for piece in whole.sawn_from_piece(Board.objects.get(tag="L7-2").pk)]
    assert tags == ["L7-2a", "L7-2b"]


def test_a_log_not_yet_sawn_and_a_board_bought_sawn_are_threads_too(deep_log, bought_board, woods):
    from timber_stock.models import Log

    whole_log = Log.objects.create(
        tag="L8", species=woods["oak_white"], length_mm=4100, butt_diameter_mm=400,
        top_diameter_mm=330,
    )  # fmt: skip
    unsawn = log_timber(whole_log.pk)
    assert (unsawn.pieces, unsawn.logs[0].unsawn_mm3) == ((), whole_log.solid_mm3)
    bought = board_timber(bought_board.pk)
    assert (bought.logs, [piece.tag for piece in bought.sawn_from_log(None)]) == ((), ["Q3"])


def test_lengths_of_one_board_in_two_vessels_are_told_in_order_along_it(
    floor, other_vessel, people, make_spec, deep_log, promise
):
    second = Survey.objects.create(
        vessel=other_vessel, surveyed_on=date(2025, 5, 5), place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    promise(floor, "L7-2a", 1900, 3100)
    promise(make_spec(second, "F3"), "L7-2a", 0, 1200)
    uses = log_timber(deep_log.pk).uses
    assert [use.full_mark for use in uses] == ["KIT-F3", "TEN-F12"]


def test_the_chain_is_one_query_however_many_members_and_however_deep(
    floor, survey, make_spec, deep_log, bought_board, promise
):
    promise(floor, "L7-2b1", 0, 1200)
    promise(floor, "Q3", 0, 1200)
    ids = [floor.finding.member_id] + [
        make_spec(survey, f"F{n}").finding.member_id for n in range(20, 40)
    ]
    with CaptureQueriesContext(
        connection,
    ) as queries:
        assert len(member_thread(ids)) == 21
    assert len(queries) == 1
