"""Plans kept, cuts ticked, boards taken off, and the rest planned again."""

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from timber_stock.actions import begin_search, changes_since, plan_rest_again, tick_cut, untick_cut
from timber_stock.actions.plan_search import carry
from timber_stock.models import Board, CuttingItem, CuttingList, Log, PlanSearch, request_for
from timber_stock.models.search_state import LOST_AFTER, is_lost, mark_lost
from timber_stock.sawing.request import Saw

LINE = {
    "id": "X", "thickness_mm": 30, "width_mm": 90, "length_mm": 900, "quantity": 1, "worth": 1,
}  # fmt: skip


@pytest.fixture
def log(woods):
    return Log.objects.create(
        tag="L31", species=next(iter(woods.values())),
        length_mm=3300, butt_diameter_mm=480, top_diameter_mm=400, butt_heart_offset_mm=18,
        butt_heart_clock=2, top_heart_offset_mm=7, top_heart_clock=8, sapwood_mm=24,
    )  # fmt: skip


@pytest.fixture
def wanted(db):
    made = CuttingList.objects.create(name="Floors of the yawl")
    CuttingItem.objects.create(
        cutting_list=made, label="F4", for_whom="the yawl, floor 4", thickness_mm=82,
        width_mm=136, length_mm=1150, quantity=3, worth=3, heart_clearance_mm=10,
    )  # fmt: skip
    CuttingItem.objects.create(
        cutting_list=made, label="P", thickness_mm=30, width_mm=118, length_mm=3000, quantity=5,
        worth=1, heart_clearance_mm=4, sapwood_allowed=True,
    )  # fmt: skip
    return made


def searched(**asked):
    search = begin_search(**asked)
    carry(search.pk)
    search.refresh_from_db()
    return search


@pytest.fixture
def plan(log, wanted):
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0))
    search = searched(
        log=log, cutting_list=wanted, request=request, seconds=1.0, why="Planned.", made_by="Edda"
    )
    assert search.state == "done", search.ended_why
    return search.plan


def saw_through(plan, until):
    return [
        board
        for cut in plan.cuts()[:until]
        for board in tick_cut(plan=plan, step=cut["step"], made_by="Edda")
    ]


def first_freeing(plan):
    return next(n for n, cut in enumerate(plan.cuts()) if cut["releases"])


def test_a_search_keeps_its_plan_with_the_named_ways_beside_it(plan):
    assert plan.number == 1
    assert plan.why == "Planned."
    assert [way["name"] for way in plan.plan["ways"]] == ["through and through", "quartered"]
    assert plan.plan["worth_mm3"] >= max(way["worth_mm3"] for way in plan.plan["ways"]) - 1e-6


def test_cuts_are_ticked_in_their_order_and_once(plan):
    steps = [cut["step"] for cut in plan.cuts()]
    tick_cut(plan=plan, step=steps[0], made_by="Edda")
    with pytest.raises(ValidationError, match="ticked already"):
        tick_cut(plan=plan, step=steps[0], made_by="Edda")
    with pytest.raises(ValidationError, match="in their order"):
        tick_cut(plan=plan, step=steps[2], made_by="Edda")
    plan.refresh_from_db()
    assert plan.state == "sawing"


def test_a_tick_made_by_mistake_is_taken_back_unless_it_put_timber_into_stock(plan):
    saw_through(plan, 1)
    untick_cut(plan=plan, step=plan.cuts()[0]["step"])
    plan.refresh_from_db()
    assert plan.state == "planned"
    freeing = first_freeing(plan)
    saw_through(plan, freeing + 1)
    with pytest.raises(ValidationError, match="into stock"):
        untick_cut(plan=plan, step=plan.cuts()[freeing]["step"])


def test_a_timber_set_free_becomes_a_board_of_its_log_that_knows_its_rings(plan, log):
    boards = saw_through(plan, first_freeing(plan) + 1)
    assert boards
    for board in boards:
        board.refresh_from_db()
        assert board.log == log
        assert board.heart == "clear"
        assert board.rings != "unknown"
        assert board.sawn_as.label in board.note
        line = next(row for row in plan.request["wanted"] if row["id"] == board.sawn_as.label)
        assert board.thickness_mm == pytest.approx(line["thickness_mm"], abs=0.05)
        assert board.width_mm == pytest.approx(line["width_mm"], abs=0.05)


def test_sizes_as_measured_go_before_those_reckoned(plan):
    freeing = first_freeing(plan)
    saw_through(plan, freeing)
    step = plan.cuts()[freeing]["step"]
    (board, *_) = tick_cut(plan=plan, step=step, made_by="Edda", sizes_mm={0: (79, 131, 1149)})
    board.refresh_from_db()
    assert (board.thickness_mm, board.width_mm, board.length_mm) == (79, 131, 1149)


def test_all_cuts_made_the_plan_is_sawn_and_every_timber_is_a_board(plan, log):
    boards = saw_through(plan, len(plan.cuts()))
    plan.refresh_from_db()
    log.refresh_from_db()
    assert plan.state == "sawn"
    assert len(boards) == sum(len(bolt["timbers"]) for bolt in plan.plan["bolts"])
    assert log.taken_mm3 >= sum(board.volume_mm3() for board in boards)
    with pytest.raises(ValidationError, match="Every cut"):
        tick_cut(plan=plan, step=len(plan.cuts()), made_by="Edda")


def test_the_rest_is_planned_again_when_the_heart_is_found_elsewhere(plan, log):
    boards = saw_through(plan, first_freeing(plan) + 1)
    met = dict(plan.request["log"])
    met["butt_pith_mm"] = [met["butt_pith_mm"][0] + 20, met["butt_pith_mm"][1]]
    search = begin_again(plan, met)
    assert search.state == "done", search.ended_why
    again = search.plan
    plan.refresh_from_db()
    assert plan.superseded_by == again
    assert again.number == 2
    assert again.request["log"]["butt_pith_mm"] == met["butt_pith_mm"]
    assert [row["tag"] for row in again.plan["sawn"]] == [board.tag for board in boards]
    asked = {row["id"]: row["quantity"] for row in plan.request["wanted"]}
    for line in again.request["wanted"]:
        had = sum(board.sawn_as.label == line["id"] for board in boards)
        assert line["quantity"] == asked[line["id"]] - had
    assert all(change["before"] != change["now"] for change in changes_since(again))
    with pytest.raises(ValidationError, match="has taken the place"):
        tick_cut(plan=plan, step=plan.next_step() or 1, made_by="Edda")
    # What the new version frees goes into stock too.
    before = Board.objects.count()
    came = saw_through(again, len(again.cuts()))
    assert Board.objects.count() == before + len(came)


def begin_again(plan, met):
    search = plan_rest_again(
        plan=plan, log_as_met=met, seconds=0.6, why="The heart lies 20 mm over.", made_by="Edda"
    )
    carry(search.pk)
    search.refresh_from_db()
    return search


def test_a_cut_made_meanwhile_keeps_an_outdated_plan_out(plan):
    saw_through(plan, 2)
    search = plan_rest_again(
        plan=plan, log_as_met=plan.request["log"], seconds=0.6, why="Again.", made_by="Edda"
    )
    saw_through_one_more(plan)
    carry(search.pk)
    search.refresh_from_db()
    assert search.state == "failed"
    assert "plan it again" in search.ended_why
    plan.refresh_from_db()
    assert not plan.is_superseded()


def saw_through_one_more(plan):
    tick_cut(plan=plan, step=plan.next_step(), made_by="Edda")


def test_a_search_with_no_sign_of_life_is_said_to_be_lost(log, wanted):
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0))
    search = begin_search(
        log=log, cutting_list=wanted, request=request, seconds=1.0, why="x", made_by="Edda"
    )
    assert not is_lost(search)
    search.beat_at = timezone.now() - LOST_AFTER * 1.1
    search.save()
    assert is_lost(search)
    mark_lost(search)
    assert search.state == "failed"
    assert "begin it again" in search.ended_why


def test_no_more_than_two_searches_go_at_once(log, wanted):
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0))
    asked = {
        "log": log, "cutting_list": wanted, "request": request, "seconds": 1.0, "why": "x",
        "made_by": "Edda",
    }  # fmt: skip
    begin_search(**asked)
    begin_search(**asked)
    with pytest.raises(ValidationError, match="Two searches"):
        begin_search(**asked)
    assert PlanSearch.objects.count() == 2


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"saw": {"kerf_mm": 0, "crosscut_kerf_mm": 9}}, "every saw takes some wood"),
        ({"wanted": []}, "Nothing is wanted"),
        ({"wanted": [LINE | {"quantity": 10_000}]}, "asks for 10000 timbers"),
        ({"wanted": [LINE | {"width_mm": float("nan")}]}, "can be measured"),
        ({"wanted": [LINE, LINE]}, "the same id"),
    ],
)
def test_what_cannot_be_planned_is_refused_before_any_search(log, wanted, change, said):
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0)) | change
    with pytest.raises(ValidationError, match=said):
        begin_search(
            log=log, cutting_list=wanted, request=request, seconds=1.0, why="x", made_by="Edda"
        )


def test_a_timber_longer_than_the_log_is_planned_round_and_the_reason_told(log, wanted):
    item = wanted.items.get(label="P")
    item.length_mm = 5000
    item.save()
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0))
    search = searched(
        log=log, cutting_list=wanted, request=request, seconds=0.6, why="x", made_by="Edda"
    )
    (refused,) = [row for row in search.plan.plan["refused"] if row["id"] == "P"]
    assert "too long" in refused["why"]


def test_a_log_thicker_at_its_top_is_planned_like_any_other(log, wanted):
    log.butt_diameter_mm, log.top_diameter_mm = 400, 470
    log.save()
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0))
    search = searched(
        log=log, cutting_list=wanted, request=request, seconds=0.6, why="x", made_by="Edda"
    )
    assert sum(len(bolt["timbers"]) for bolt in search.plan.plan["bolts"]) > 0


def test_a_search_that_fails_says_so_on_its_row(log, wanted, monkeypatch):
    def broken(*args, **options):
        raise ZeroDivisionError

    monkeypatch.setattr("timber_stock.actions.plan_search.plan_beside_ways", broken)
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0))
    search = searched(
        log=log, cutting_list=wanted, request=request, seconds=0.6, why="x", made_by="Edda"
    )
    assert search.state == "failed"
    assert "fault of the program" in search.ended_why


def test_a_search_asked_to_stop_keeps_its_best_so_far_long_before_its_time(log, wanted):
    request = request_for(log, wanted.items.all(), Saw(3.2, 9.0))
    for line in request["wanted"]:
        line["quantity"] = 300
    search = begin_search(
        log=log, cutting_list=wanted, request=request, seconds=100, why="Planned.", made_by="Edda"
    )
    PlanSearch.objects.update(stop_asked=True)
    carry(search.pk)
    search.refresh_from_db()
    assert search.state == "done", search.ended_why
    assert search.plan.why == "Planned. The search was stopped early."
    assert sum(len(bolt["timbers"]) for bolt in search.plan.plan["bolts"]) > 0


def test_a_piece_sawn_already_is_sawn_thinner_where_that_serves_better(plan, log):
    saw_through(plan, len(plan.cuts()))
    thick = max(log.boards.all(), key=lambda board: board.thickness_mm)
    sold_short = dict(plan.request)
    sold_short["wanted"] = [
        dict(row, quantity=0 if row["id"] == thick.sawn_as.label else 60)
        for row in plan.request["wanted"]
    ]
    for row in sold_short["wanted"]:
        row["length_mm"] = min(row["length_mm"], 1000)
    plan.request = sold_short
    plan.state = "sawing"
    plan.save()
    search = plan_rest_again(
        plan=plan, log_as_met=plan.request["log"], seconds=0.6, why="Thinner.", made_by="Edda",
        again=[thick],
    )  # fmt: skip
    line = next(r for r in search.request["wanted"] if r["id"] == thick.sawn_as.label)
    assert line["quantity"] >= 1  # what was freed of it is wanted again
    line["quantity"] = 0
    search.save()
    carry(search.pk)
    search.refresh_from_db()
    again = search.plan
    assert again, search.ended_why
    (number,) = [n for n, bolt in enumerate(again.plan["bolts"]) if bolt.get("board") == thick.pk]
    placed = again.plan["bolts"][number]["timbers"]
    assert placed
    saw_through(again, len(again.cuts()))
    thick.refresh_from_db()
    assert thick.state == "resawn"
    pieces = Board.objects.filter(sawing__source_board=thick)
    assert len(pieces) == len(placed)
    assert all(piece.tag.startswith(thick.tag) for piece in pieces)
    assert all(piece.thickness_mm < thick.thickness_mm for piece in pieces)
