"""What a board's section will do: from where its heart lies, or assumed from what is recorded."""

import re
from datetime import date

import pytest

from timber_stock.models import Board, MoistureReading
from timber_stock.models.board_section import heart_place

pytestmark = pytest.mark.django_db


def text(response):
    plain = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))
    return plain.replace("&#x27;", "'")


@pytest.fixture
def flat(flitch):
    """L07-1, 76 x 360, recorded flat-sawn and clear of heart."""
    Board.objects.filter(pk=flitch.pk).update(rings="flat", heart="clear")
    return Board.objects.get(pk=flitch.pk)


@pytest.fixture
def enter(signed_in, flat):
    client = signed_in()

    def entering(butt=("", ""), top=("", "")):
        names = ("butt_heart_across_mm", "butt_heart_off_mm",
                 "top_heart_across_mm", "top_heart_off_mm")  # fmt: skip
        return client.post(
            f"/timber/boards/{flat.pk}/heart/", dict(zip(names, (*butt, *top), strict=True))
        )

    return entering


def test_the_ring_direction_stands_in_for_a_heart_nobody_entered_and_that_is_said(signed_in, flat):
    page = signed_in().get(flat.get_absolute_url())
    assert "assumed from “flat-sawn”" in text(page)
    assert page.context["section"].sheet.directions == ("flat",)
    assert "computed: flat" not in text(page)


def test_a_heart_recorded_in_is_taken_as_boxed(flat):
    flat.heart = "in"
    assert heart_place(flat).butt_mm == (0.0, 0.0)


def test_with_neither_the_page_says_what_to_enter(signed_in, flitch):
    Board.objects.filter(pk=flitch.pk).update(rings="mixed", heart="unknown")
    page = signed_in().get(flitch.get_absolute_url())
    assert page.status_code == 200
    assert "Neither where its heart lies nor its ring direction is recorded" in text(page)


def test_where_the_heart_lies_is_entered_with_a_minus_for_left_and_down(enter, flat):
    assert enter(butt=("1 1/2", "-3 1/4 in"), top=("−20 mm", "-70 mm")).status_code == 302
    flat.refresh_from_db()
    assert flat.butt_heart_mm() == pytest.approx((38.1, -82.55))
    assert flat.top_heart_mm() == pytest.approx((-20, -70))


def test_with_the_heart_entered_the_figures_are_of_this_board(enter, signed_in, flat):
    enter(butt=("0", "-6"), top=("3", "-4"))
    page = signed_in().get(flat.get_absolute_url())
    assert "assumed from" not in text(page)
    assert page.context["section"].sheet.twist.wide_face_deg != 0
    assert "Ring direction flat-sawn computed: flat-sawn" in text(page)


def test_a_record_the_heart_speaks_against_stays_and_is_pointed_out(enter, signed_in, flat):
    enter(butt=("15", "0"))
    page = signed_in().get(flat.get_absolute_url())
    assert "Recorded as flat-sawn; where its heart is entered the rings stand at" in text(page)
    assert "quarter-sawn by United States hardwood trade usage" in text(page)
    flat.refresh_from_db()
    assert flat.rings == "flat"


def test_a_heart_found_inside_a_board_recorded_clear_of_it_is_pointed_out(enter, signed_in, flat):
    enter(butt=("0", "0"))
    page = signed_in().get(flat.get_absolute_url())
    assert "Recorded as clear of heart" in text(page)
    assert "at the" in text(page)


def test_half_a_place_is_refused_and_what_was_typed_is_kept(enter):
    page = enter(butt=("2 1/2", ""))
    assert page.status_code == 422
    assert "both how far along the width it lies and how far across" in text(page)
    assert 'value="2 1/2"' in page.content.decode()


def test_a_top_without_a_butt_is_refused(enter):
    page = enter(top=("1", "2"))
    assert page.status_code == 422
    assert "is told beside where it lies at the butt" in text(page)


def test_a_heart_that_would_lie_outside_the_log_is_refused(enter, flat):
    page = enter(butt=("0", "-24"))
    assert page.status_code == 422
    assert "outside log L07, which is 20 7/8 in across" in text(page)
    flat.refresh_from_db()
    assert flat.butt_heart_mm() is None


def test_a_board_with_no_log_takes_a_heart_as_far_as_a_log_may_be_wide(signed_in, board):
    client, to = signed_in(), f"/timber/boards/{board.pk}/heart/"
    far = {"butt_heart_across_mm": "5 m", "butt_heart_off_mm": "0"}
    assert "outside any log" in text(client.post(to, far))
    assert client.post(to, {**far, "butt_heart_across_mm": "30 in"}).status_code == 302


def test_taking_the_heart_back_leaves_the_assumption_again(enter, signed_in, flat):
    enter(butt=("0", "-6"))
    enter()
    assert "assumed from" in text(signed_in().get(flat.get_absolute_url()))


def test_a_moisture_is_asked_for_one_look_and_refused_in_a_sentence(signed_in, flat):
    client = signed_in()
    dry = client.get(flat.get_absolute_url(), {"section-moisture": "9"})
    assert "At 9.0 %" in text(dry)
    wet = client.get(flat.get_absolute_url(), {"section-moisture": "500"})
    assert wet.status_code == 422
    assert "is full of water at" in text(wet)
    assert 'value="500"' in wet.content.decode()


def test_a_board_sawn_here_shrinks_from_green_and_a_bought_one_from_its_first_reading(
    signed_in, flat, board
):
    Board.objects.filter(pk=board.pk).update(rings="flat")
    client = signed_in()
    assert "enter one" in text(client.get(board.get_absolute_url()))
    for day, percent in ((date(2026, 3, 1), 16.0), (date(2026, 2, 1), 19.0)):
        MoistureReading.objects.create(board=board, read_on=day, percent=percent, method="oven")
    bought = client.get(board.get_absolute_url()).context["section"].sheet
    assert bought.movement.from_percent == 19.0
    sawn = client.get(flat.get_absolute_url()).context["section"].sheet
    assert sawn.movement.from_percent is None


def test_only_the_yard_enters_where_a_heart_lies(signed_in, flat):
    assert signed_in("surveyor").get(f"/timber/boards/{flat.pk}/heart/").status_code == 403


def test_a_board_that_is_resawn_says_nothing_of_its_section(signed_in, flat):
    Board.objects.filter(pk=flat.pk).update(state="gone")
    assert "What its section will do" not in text(signed_in().get(flat.get_absolute_url()))
