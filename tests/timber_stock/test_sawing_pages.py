"""The page at the saw: rows of pieces, tags, the balance, and refusals that lose nothing."""

import re

import pytest
from django.urls import reverse

from timber_stock.models import Board, Log, Sawing


def url(thing):
    name = "log_saw" if isinstance(thing, Log) else "board_resaw"
    return reverse(f"timber_stock:{name}", args=[thing.pk])


def sheet(*rows, **about):
    """What the page sends: each row a dict of what was typed into it."""
    data = {"sawn_on": "2026-03-04", "sawn_by": "Bram Oddy", "kerf_mm": "1/4", "rows": "4", **about}
    for n in range(int(data["rows"])):
        typed = {"quantity": "1", "heart": "unknown", "rings": "unknown"}
        typed.update(rows[n] if n < len(rows) else {})
        data.update({f"piece-{n}-{name}": text for name, text in typed.items()})
    return data


def row(thickness, width, length, **about):
    return {"thickness_mm": thickness, "width_mm": width, "length_mm": length, **about}


def send(client, thing, data, **headers):
    return client.post(url(thing), data, headers=headers)


def tags_shown(html):
    """What each row would be called: [("L07-1", ""), ("L07-2", "L07-4") ...]."""
    outputs = re.findall(r"<output[^>]*>(.*?)</output>", html, re.DOTALL)
    return [re.findall(r'"mark-no">([^<]*)<', output) for output in outputs]


def test_four_rows_stand_ready_with_the_tags_they_would_get(signed_in, log, flitch):
    client = signed_in()
    html = client.get(url(log)).content.decode()
    assert tags_shown(html) == [["L07-2"], ["L07-3"], ["L07-4"], ["L07-5"]]
    html = client.get(url(flitch)).content.decode()
    assert tags_shown(html) == [["L07-1a"], ["L07-1b"], ["L07-1c"], ["L07-1d"]]


def test_several_alike_in_one_row_become_so_many_boards_with_tags_of_their_own(signed_in, log):
    client = signed_in()
    data = sheet(
        row("2 1/2", "9", "13 ft", quantity="3", heart="clear", rings="rift", place="bay 2"),
        {},
        row("1 1/4", "6", "8 ft", tag="L07-B", has_sapwood="on"),
        note="The butt mark at two o'clock.",
    )
    response = send(client, log, data)
    assert response.url == log.get_absolute_url()
    boards = Board.objects.order_by("tag")
    assert [board.tag for board in boards] == ["L07-1", "L07-2", "L07-3", "L07-B"]
    assert boards[1].heart == "clear"
    assert boards[2].rings == "rift"
    assert boards[2].place == "bay 2"
    assert boards[0].thickness_mm == 63.5
    assert boards[3].has_sapwood
    assert boards[3].length_mm == pytest.approx(8 * 304.8)
    sawing = Sawing.objects.get()
    assert sawing.kerf_mm == 6.35
    assert sawing.note.startswith("The butt mark")
    assert "4 pieces came out of L07" in client.get(response.url).content.decode()


def test_a_tag_typed_in_a_later_row_is_left_for_it(signed_in, log):
    data = sheet(row("1", "6", "8 ft", quantity="2"), row("1", "5", "8 ft", tag="L07-2"))
    send(signed_in(), log, data)
    widths = {board.tag: round(board.width_mm, 3) for board in Board.objects.all()}
    assert widths == {"L07-1": 152.4, "L07-3": 152.4, "L07-2": 127}


def test_pieces_of_a_dry_board_are_dry_and_the_board_is_gone_from_stock(signed_in, board):
    response = send(signed_in(), board, sheet(row("1 in", "9 in", "10 ft"), kerf_mm="3 mm"))
    assert response.url == board.get_absolute_url()
    piece = Board.objects.get(tag="X1-3a")
    board.refresh_from_db()
    assert (piece.state, board.state, piece.species) == ("in_stick", "resawn", board.species)


def test_more_than_went_in_is_refused_and_everything_typed_is_kept(signed_in, board):
    data = sheet(
        row("1 1/4", "10", "10 ft", quantity="2", rings="quarter", place="rack 9"),
        row("0-0-7+", "4", "3 ft"),
        note="keep me",
    )
    response = send(signed_in(), board, data)
    html = response.content.decode()
    assert response.status_code == 422
    assert "More would come out of X1-3 than is in it" in html
    for kept in ("rack 9", "keep me", 'value="0-0-7+"', 'value="10 ft"', 'value="2026-03-04"'):
        assert kept in html
    assert '<option value="quarter" selected>' in html
    assert not Sawing.objects.exists()
    board.refresh_from_db()
    assert board.state == "in_stick"


@pytest.mark.parametrize(
    ("rows", "about", "sentence"),
    [
        ([], {}, "Enter at least one piece"),
        ([row("1", "6", "")], {}, "Fill this in: it is needed"),
        ([row("1", "six", "8 ft")], {}, "is not a length that can be read"),
        ([row("1", "6", "8 ft", quantity="0")], {}, "Give 1 or more."),
        ([row("1", "6", "8 ft", tag="X1-3")], {}, "Another board has this tag"),
        ([row("1", "6", "8 ft", tag="l07")], {}, "A log already has the tag l07"),
        ([row("1", "6", "8 ft", tag="two words")], {}, "without spaces"),
        ([row("1", "6", "8 ft")], {"kerf_mm": ""}, "Fill this in: it is needed"),
        ([row("1", "6", "8 ft")], {"sawn_on": "2999-01-01"}, "still to come"),
        ([row("0", "6", "8 ft")], {}, "more than nothing"),
        ([row("1", "11", "8 ft")], {}, "is too big to come out of X1-3"),
        (
            [row("1/64", "1/64", "1/64", quantity="99")] * 4,
            {"kerf_mm": "0"},
            "over 300 pieces",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(signed_in, log, board, rows, about, sentence):
    response = send(signed_in(), board, sheet(*rows, **about))
    assert response.status_code == 422
    assert sentence in response.content.decode()
    assert not Sawing.objects.exists()


def test_a_row_is_added_without_losing_or_judging_what_is_typed(signed_in, log):
    client = signed_in()
    data = sheet(row("2", "", "13 ft", tag="L07-9"), kerf_mm="", sawn_by="")
    response = send(client, log, {**data, "add_row": "1"})
    html = response.content.decode()
    assert response.status_code == 200
    assert html.count('<fieldset class="piece">') == 5
    assert 'value="13 ft"' in html
    assert 'value="L07-9"' in html
    assert "Fill this in: it is needed" not in html
    assert 'name="piece-4-quantity" value="1"' in html
    assert html.count('<option value="unknown" selected>') == 10  # heart and rings of each row
    piece = send(client, log, {**data, "add_row": "1"}, **{"HX-Request": "true"})
    assert piece.content.decode().count('<fieldset class="piece">') == 5
    assert "<html" not in piece.content.decode()
    assert not Sawing.objects.exists()


def test_a_row_that_was_added_counts(signed_in, log):
    rows = [row("1", "6", "8 ft")] * 5
    send(signed_in(), log, sheet(*rows, rows="5"))
    assert Board.objects.count() == 5


@pytest.mark.parametrize("rows", ["-3", "many", "100000"])
def test_a_senseless_number_of_rows_does_no_harm(signed_in, log, rows):
    data = {**sheet(), "rows": rows, "add_row": "1"}
    assert send(signed_in(), log, data).status_code == 200


def test_the_balance_is_reckoned_before_anything_is_kept(signed_in, log):
    data = sheet(row("100 mm", "300 mm", "4 m", quantity="2"), row("50 mm", "x", "4 m"))
    response = send(signed_in(), log, {**data, "reckon": "1"}, **{"HX-Request": "true"})
    html = response.content.decode()
    assert response.status_code == 200
    assert "0.240 m³" in html  # out
    assert "0.015 m³" in html  # kerf, 6.35 x 300 x 4000 twice
    assert "0.485 m³" in html  # 0.7406 less both
    assert "1 row not complete yet" in html
    assert tags_shown(html) == [["L07-1", "L07-2"], ["L07-3"], ["L07-4"], ["L07-5"]]
    finishing = send(signed_in(), log, {**data, "reckon": "1", "finishes_log": "on"})
    assert "Waste</dt><dd>0.485 m³" in finishing.content.decode()
    assert not Sawing.objects.exists()


def test_the_balance_says_at_once_when_it_is_too_much(signed_in, board):
    data = sheet(row("62 mm", "254 mm", "3100 mm", quantity="2"))
    html = send(signed_in(), board, {**data, "reckon": "1"}).content.decode()
    assert "More would come out of X1-3 than is in it" in html


def test_the_sawing_that_finishes_a_log_closes_it(signed_in, log):
    client = signed_in()
    send(client, log, sheet(row("3", "12", "13 ft"), finishes_log="on"))
    log.refresh_from_db()
    assert log.is_sawn_up
    assert url(log) not in client.get(log.get_absolute_url()).content.decode()
    again = send(client, log, sheet(row("3", "12", "13 ft")))
    assert "L07 is sawn up: nothing is left of it to saw" in again.content.decode()


def test_whoever_comes_second_is_told_so_and_keeps_what_was_typed(signed_in, board):
    client = signed_in()
    send(client, board, sheet(row("1", "9", "10 ft")))
    response = send(client, board, sheet(row("1", "8", "9 ft"), note="keep me"))
    html = response.content.decode()
    assert response.status_code == 422
    assert "X1-3 is resawn: it cannot be sawn again" in html
    assert "keep me" in html
    Board.objects.filter(pk=board.pk).update(state="green")  # by hand, past the forms
    response = send(client, board, sheet(row("1", "8", "9 ft")))
    assert "This board went through the saw already" in response.content.decode()


def test_a_board_that_is_held_says_for_whom_and_is_not_resawn(signed_in, board):
    Board.objects.filter(pk=board.pk).update(held_for="TEN-F12")
    client = signed_in()
    assert "held for TEN-F12" in client.get(url(board)).content.decode()
    response = send(client, board, sheet(row("1", "9", "10 ft")))
    assert "Withdraw that allotment first" in response.content.decode()
