"""Correcting what was entered, with the books still in balance and nobody's work undone."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.db.models import Sum

from timber_stock.actions import Piece, correct_board, enter_board, keep_log, resaw_board, saw_log
from timber_stock.models import Board, Log

DAY = date(2026, 3, 4)


def saw(log, *pieces, **options):
    return saw_log(log=log, pieces=pieces, sawn_on=DAY, sawn_by="Bram Oddy", kerf_mm=4, **options)


def took(log):
    return log.sawings.aggregate(Sum("in_mm3"))["in_mm3__sum"]


def test_a_log_is_never_smaller_than_what_came_out_of_it(log):
    saw(log, *[Piece(f"L07-{n}", 90, 300, 4000) for n in (1, 2, 3, 4)])
    log.butt_diameter_mm, log.top_diameter_mm = 390, 340
    with pytest.raises(ValidationError, match=r"0\.451 m³ of boards and kerf came out of L07"):
        keep_log(log=log)
    log = Log.objects.get(tag="L07")
    assert log.butt_diameter_mm == 530
    log.length_mm = 3999
    with pytest.raises(ValidationError, match="L07-1, sawn from L07, is longer than that"):
        keep_log(log=log)
    log.length_mm, log.butt_diameter_mm, log.top_diameter_mm = 9000, 310, 310
    with pytest.raises(ValidationError, match="too big for a log of these diameters"):
        keep_log(log=log)


def test_correcting_a_log_keeps_what_was_sawn_from_it_meanwhile(log):
    """The form was opened before the sawing and is sent after it."""
    stale = Log.objects.get(pk=log.pk)
    saw(log, Piece("L07-1", 90, 300, 4000), finishes_log=True)
    stale.place = "under the crane"
    keep_log(log=stale)
    log.refresh_from_db()
    assert (log.place, log.is_sawn_up) == ("under the crane", True)
    assert log.taken_mm3 == pytest.approx(log.solid_mm3)


def test_a_log_measured_again_after_it_was_sawn_up_has_its_waste_reckoned_again(log):
    saw(log, Piece("L07-1", 90, 300, 4000))
    saw(log, Piece("L07-2", 50, 200, 4000), finishes_log=True)
    log.refresh_from_db()
    log.top_diameter_mm = 430
    keep_log(log=log)
    first, last = log.sawings.all()
    assert first.waste_mm3() == 0
    assert took(log) == pytest.approx(log.solid_mm3) == pytest.approx(log.taken_mm3)
    assert last.waste_mm3() > 0.5e9


def test_a_log_can_be_called_sawn_up_later_and_that_can_be_taken_back(log):
    with pytest.raises(ValidationError, match="Nothing has been sawn from L07"):
        keep_log(log=log, is_sawn_up=True)
    log = Log.objects.get(tag="L07")
    saw(log, Piece("L07-1", 90, 300, 4000))
    keep_log(log=log, is_sawn_up=True)
    log.refresh_from_db()
    assert (log.is_sawn_up, log.unsawn_mm3()) == (True, 0)
    keep_log(log=log, is_sawn_up=False)
    log.refresh_from_db()
    assert log.taken_mm3 == pytest.approx(94 * 300 * 4000)
    assert log.sawings.get().waste_mm3() == 0


def test_a_sawn_log_keeps_its_tag_and_its_boards_follow_its_wood(log, woods):
    flitch = saw(log, Piece("L07-1", 90, 300, 4000)).pieces.get()
    resaw_board(
        board=flitch, pieces=[Piece("L07-1a", 40, 300, 4000)], sawn_on=DAY, sawn_by="Bram Oddy",
        kerf_mm=3,
    )  # fmt: skip
    log.tag = "L08"
    with pytest.raises(ValidationError, match="carry its tag"):
        keep_log(log=log)
    log.tag, log.species = "L07", woods["oak_european"]
    keep_log(log=log)
    assert {b.species.code for b in Board.objects.all()} == {"oak_european"}


def test_the_books_follow_a_piece_whose_size_is_corrected(log):
    piece = saw(log, Piece("L07-1", 90, 300, 4000)).pieces.get()
    piece.width_mm = 310
    correct_board(board=piece, changed={"width_mm"})
    log.refresh_from_db()
    assert log.taken_mm3 == pytest.approx(94 * 310 * 4000) == pytest.approx(took(log))
    piece.length_mm = 4201
    with pytest.raises(ValidationError, match="longer than the log"):
        correct_board(board=piece, changed={"length_mm"})


def test_a_piece_corrected_after_its_log_was_sawn_up_comes_out_of_the_waste(log):
    piece = saw(log, Piece("L07-1", 90, 300, 4000)).pieces.get()
    last = saw(log, Piece("L07-2", 50, 200, 4000), finishes_log=True)
    waste = last.waste_mm3()
    piece.thickness_mm = 95
    correct_board(board=piece, changed={"thickness_mm"})
    last.refresh_from_db()
    log.refresh_from_db()
    assert last.waste_mm3() == pytest.approx(waste - 5 * 300 * 4000)
    assert took(log) == pytest.approx(log.solid_mm3) == pytest.approx(log.taken_mm3)


def test_a_resawn_piece_never_grows_past_the_board_it_came_from(board):
    sawing = resaw_board(
        board=board, sawn_on=DAY, sawn_by="Bram Oddy", kerf_mm=4,
        pieces=[Piece("X1-3a", 28, 254, 3100), Piece("X1-3b", 26, 254, 3100)],
    )  # fmt: skip
    piece = sawing.pieces.get(tag="X1-3b")
    piece.thickness_mm = 31.5  # and 28, and the kerf of 4 between them: 63.5 of 63
    with pytest.raises(ValidationError, match="More would come out of X1-3 than is in it"):
        correct_board(board=piece, changed={"thickness_mm"})
    piece.thickness_mm = 31
    correct_board(board=piece, changed={"thickness_mm"})
    sawing.refresh_from_db()
    assert sawing.out_mm3 == 59 * 254 * 3100
    assert sawing.waste_mm3() == pytest.approx(0, abs=1)


def test_sizes_stay_once_a_board_was_resawn_or_is_held(board):
    board.width_mm = 250
    Board.objects.filter(pk=board.pk).update(held_for="TEN-F12")
    with pytest.raises(ValidationError, match="held for TEN-F12: its sizes stay"):
        correct_board(board=board, changed={"width_mm"})
    Board.objects.filter(pk=board.pk).update(held_for="", state="resawn")
    with pytest.raises(ValidationError, match="was resawn: its sizes stay"):
        correct_board(board=board, changed={"width_mm"})


def test_only_what_was_changed_is_written(board):
    """Someone held the board for a floor while its place was being typed."""
    stale = Board.objects.get(pk=board.pk)
    Board.objects.filter(pk=board.pk).update(held_for="TEN-F12", state="ready")
    stale.place = "rack 4"
    correct_board(board=stale, changed={"place"})
    board.refresh_from_db()
    assert (board.place, board.held_for, board.state) == ("rack 4", "TEN-F12", "ready")


@pytest.mark.parametrize(
    ("now", "held_for", "becomes", "sentence"),
    [
        ("resawn", "", "green", "its pieces have states now"),
        ("green", "", "resawn", "Record the resawing"),
        ("green", "TEN-F12", "gone", "held for TEN-F12"),
    ],
)
def test_a_state_that_would_not_be_true_is_refused(board, now, held_for, becomes, sentence):
    Board.objects.filter(pk=board.pk).update(state=now, held_for=held_for)
    board.state = becomes
    with pytest.raises(ValidationError, match=sentence):
        correct_board(board=board, changed={"state"})


def test_a_board_bought_sawn_names_its_supplier(woods):
    board = Board(
        tag="B5", species=woods["oak_white"], thickness_mm=50, width_mm=200, length_mm=2500
    )
    with pytest.raises(ValidationError, match="name its supplier"):
        enter_board(board=board)
