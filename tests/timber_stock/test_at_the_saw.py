"""At the saw: nothing exceeds its source, however deep, and nothing is sawn twice."""

import threading
from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.db import connection, transaction
from django.db.utils import IntegrityError

from timber_stock.actions import Piece, resaw_board, saw_log
from timber_stock.models import Board, Log, Sawing

DAY = date(2026, 3, 4)


def saw(log, *pieces, **options):
    options = {"sawn_on": DAY, "sawn_by": "Bram Oddy", "kerf_mm": 4, **options}
    return saw_log(log=log, pieces=pieces, **options)


def resaw(board, *pieces, **options):
    options = {"sawn_on": DAY, "sawn_by": "Bram Oddy", "kerf_mm": 4, **options}
    return resaw_board(board=board, pieces=pieces, **options)


def test_a_chain_four_pieces_deep_knows_its_log_all_the_way(log):
    flitch = saw(log, Piece("L07-1", 110, 300, 4100)).pieces.get()
    half = resaw(flitch, Piece("L07-1a", 110, 145, 4100)).pieces.get()
    plank = resaw(half, Piece("L07-1a1", 50, 145, 2000)).pieces.get()
    blank = resaw(plank, Piece("L07-1a1a", 45, 60, 900)).pieces.get()
    assert blank.log == log
    assert [blank.parent(), plank.parent(), half.parent(), flitch.parent()] == [
        plank, half, flitch, log,
    ]  # fmt: skip
    states = Board.objects.order_by("tag").values_list("tag", "state")
    assert list(states) == [
        ("L07-1", "resawn"),
        ("L07-1a", "resawn"),
        ("L07-1a1", "resawn"),
        ("L07-1a1a", "green"),
    ]


def test_nothing_in_a_chain_exceeds_what_it_came_from(log):
    flitch = saw(log, Piece("L07-1", 110, 300, 4100)).pieces.get()
    with pytest.raises(ValidationError, match="L07-1a is too big to come out of L07-1"):
        resaw(flitch, Piece("L07-1a", 111, 145, 4100))
    half = resaw(flitch, Piece("L07-1a", 110, 145, 4100)).pieces.get()
    with pytest.raises(ValidationError, match="L07-1a1 is too big to come out of L07-1a"):
        resaw(half, Piece("L07-1a1", 50, 146, 2000))
    with pytest.raises(ValidationError, match="More would come out of L07-1a than is in it"):
        resaw(half, Piece("L07-1a1", 55, 145, 4100), Piece("L07-1a2", 55, 145, 4100))
    assert Board.objects.count() == 2
    assert Sawing.objects.count() == 2


def test_the_kerf_counts_too(board):
    """Two halves of 31.5 mm fill a board of 63 with nothing left for the saw."""
    halves = [Piece(f"X1-3{letter}", 31.5, 254, 3100) for letter in "ab"]
    with pytest.raises(ValidationError, match="m³ of kerf"):
        resaw(board, *halves, kerf_mm=0.5)
    sawing = resaw(board, *halves, kerf_mm=0)
    assert sawing.waste_mm3() == 0


def test_a_board_ripped_on_its_edge_loses_one_kerf_between_its_two_halves(board):
    """254 mm wide: 125 + 4 + 125, and no more; the wide faces were never cut."""
    halves = [Piece(f"X1-3{letter}", 63, 125, 3100) for letter in "ab"]
    with pytest.raises(ValidationError, match="m³ of kerf"):
        resaw(board, *halves, kerf_mm=4.1)
    sawing = resaw(board, *halves, kerf_mm=4)
    assert sawing.kerf_mm3 == pytest.approx(4 * 63 * 3100, rel=1e-9)
    assert sawing.waste_mm3() == pytest.approx(0, abs=1)


def test_a_ripping_with_an_edging_left_over_loses_a_kerf_along_the_edge_of_each_piece(board):
    sawing = resaw(board, Piece("X1-3a", 63, 100, 3100), Piece("X1-3b", 63, 90, 3100))
    assert sawing.kerf_mm3 == pytest.approx(2 * 4 * 63 * 3100, rel=1e-9)


def test_a_board_cut_across_loses_no_more_than_its_ends(board):
    """3100 mm long: 1548 + 4 + 1548."""
    lengths = [Piece(f"X1-3{letter}", 63, 254, 1548) for letter in "ab"]
    sawing = resaw(board, *lengths)
    assert sawing.kerf_mm3 == pytest.approx(4 * 63 * 254, rel=1e-9)


def test_six_pieces_out_of_one_ripping_and_two_cross_cuts_fill_the_board(board):
    """125 + 4 + 125 across, and 1030.6 + 4 + 1030.6 + 4 + 1030.6 along, with 0.2 mm over."""
    pieces = [Piece(f"X1-3{letter}", 63, 125, 1030.6) for letter in "abcdef"]
    assert resaw(board, *pieces).pieces.count() == 6


def test_the_books_of_a_resawing_add_up_to_the_board(board):
    sawing = resaw(board, Piece("X1-3a", 25, 240, 3000), Piece("X1-3b", 28, 120, 1500))
    assert sawing.out_mm3 == 25 * 240 * 3000 + 28 * 120 * 1500
    assert sawing.kerf_mm3 == 4 * 240 * 3000 + 4 * 120 * 1500
    assert sawing.out_mm3 + sawing.kerf_mm3 + sawing.waste_mm3() == pytest.approx(
        63 * 254 * 3100, rel=1e-12
    )


def test_a_log_gives_no_more_over_several_days_than_it_holds(log):
    pieces = [Piece(f"L07-{n}", 100, 300, 4000) for n in range(1, 5)]
    saw(log, *pieces)
    log.refresh_from_db()
    assert 0 < log.unsawn_mm3() < 0.3e9
    with pytest.raises(ValidationError, match="More would come out of L07 than is in it"):
        saw(log, *[Piece(f"L07-{n}", 100, 250, 4000) for n in range(5, 8)])


def test_the_sawing_that_finishes_a_log_takes_all_the_rest_as_waste(log):
    saw(log, Piece("L07-1", 100, 300, 4000))
    last = saw(log, Piece("L07-2", 50, 200, 3000), finishes_log=True)
    log.refresh_from_db()
    assert log.unsawn_mm3() == 0
    assert sum(s.in_mm3 for s in log.sawings.all()) == pytest.approx(log.solid_mm3)
    assert last.waste_mm3() > 0.5e9
    with pytest.raises(ValidationError, match="L07 is sawn up"):
        saw(log, Piece("L07-3", 50, 200, 3000))


def test_a_piece_longer_or_thicker_than_the_log_is_not_in_it(log):
    with pytest.raises(ValidationError, match="longer than the log"):
        saw(log, Piece("L07-1", 50, 200, 4201))
    with pytest.raises(ValidationError, match="too big to come out of the log"):
        saw(log, Piece("L07-1", 400, 400, 1000))


def test_nothing_is_sawn_before_it_was_felled_or_came_off_the_saw_itself(log, flitch):
    with pytest.raises(ValidationError, match="felled on 9 December 2025"):
        saw(log, Piece("L07-2", 50, 200, 3000), sawn_on=date(2025, 12, 8))
    with pytest.raises(ValidationError, match="was itself sawn on 3 February 2026"):
        resaw(flitch, Piece("L07-1a", 30, 200, 3000), sawn_on=date(2026, 2, 2))


def test_a_log_and_a_board_never_share_a_tag(log, board, woods, mill):
    with pytest.raises(ValidationError, match="A log already has the tag l07"):
        resaw(board, Piece("l07", 25, 200, 3000))
    with pytest.raises(ValidationError, match="l07-9: Another board has this tag"):
        saw(log, Piece("L07-9", 25, 200, 3000), Piece("l07-9", 25, 200, 3000))
    twin = Log(
        tag="x1-3", species=woods["oak_white"], length_mm=1, butt_diameter_mm=1,
        top_diameter_mm=1, solid_mm3=1,
    )  # fmt: skip
    with pytest.raises(ValidationError, match="A board already has the tag x1-3"):
        twin.full_clean()
    assert not Sawing.objects.exists()


def test_a_board_put_back_in_stock_by_hand_still_cannot_go_through_the_saw_again(board):
    resaw(board, Piece("X1-3a", 25, 240, 3000))
    Board.objects.filter(pk=board.pk).update(state="green")
    with pytest.raises(ValidationError, match="went through the saw already"):
        resaw(board, Piece("X1-3b", 25, 240, 3000))
    with pytest.raises(IntegrityError), transaction.atomic():
        Sawing.objects.create(
            source_board=board, sawn_on=DAY, sawn_by="a careless script", kerf_mm=1,
            in_mm3=9, out_mm3=1, kerf_mm3=1,
        )  # fmt: skip
    assert Board.objects.filter(sawing__source_board=board).count() == 1


def test_a_board_held_for_someone_is_not_resawn(board):
    Board.objects.filter(pk=board.pk).update(held_for="TEN-F12")
    with pytest.raises(ValidationError, match="held for TEN-F12"):
        resaw(board, Piece("X1-3a", 25, 240, 3000))


def at_once(*jobs):
    """Run the jobs together; what each came to, in the order they ended."""
    start, outcomes = threading.Barrier(len(jobs)), []

    def run(job):
        try:
            start.wait(timeout=60)
            job()
            outcomes.append("done")
        except ValidationError as error:
            outcomes.append(" ".join(error.messages))
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(job,)) for job in jobs]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    return sorted(outcomes, key=lambda outcome: outcome != "done")


@pytest.mark.django_db(transaction=True)
def test_of_three_people_who_resaw_a_board_at_once_two_are_told_no(board):
    outcomes = at_once(*(lambda n=n: resaw(board, Piece(f"X1-3{n}", 25, 240, 3000)) for n in "abc"))
    assert outcomes[0] == "done"
    assert all("X1-3 is resawn: it cannot be sawn again" in said for said in outcomes[1:])
    assert len(outcomes) == 3
    assert Board.objects.filter(sawing__source_board=board).count() == 1


@pytest.mark.django_db(transaction=True)
def test_two_people_who_saw_the_same_log_at_once_never_take_more_than_it_holds(log):
    """Each takes 0.45 m³ of 0.74: there is room for one."""
    outcomes = at_once(
        lambda: saw(log, *[Piece(f"L07-{n}", 90, 300, 4000) for n in (1, 2, 3, 4)]),
        lambda: saw(log, *[Piece(f"L07-{n}", 90, 300, 4000) for n in (5, 6, 7, 8)]),
    )
    assert outcomes[0] == "done"
    assert "More would come out of L07" in outcomes[1]
    log.refresh_from_db()
    assert log.taken_mm3 <= log.solid_mm3
    assert Board.objects.count() == 4


@pytest.mark.django_db(transaction=True)
def test_a_tag_given_to_a_log_and_to_a_board_at_once_goes_to_one_of_them(board, log):
    from timber_stock.actions import keep_log

    twin = Log(
        tag="L08", species=log.species, length_mm=3000, butt_diameter_mm=400, top_diameter_mm=350
    )
    outcomes = at_once(
        lambda: keep_log(log=twin), lambda: resaw(board, Piece("l08", 25, 240, 3000))
    )
    assert outcomes[0] == "done"
    assert "already has the tag" in outcomes[1]
