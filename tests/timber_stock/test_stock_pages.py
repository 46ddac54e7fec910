"""The stock's pages: suppliers, logs, boards, and finding a piece."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from timber_stock.actions import Piece, resaw_board, saw_log
from timber_stock.models import Board, Log, MoistureReading, Supplier

DAY = date(2026, 3, 4)


def page(client, name, *args, **query):
    response = client.get(reverse(f"timber_stock:{name}", args=args), query)
    assert response.status_code == 200
    return response.content.decode()


def post(client, where, *args, htmx=False, **data):
    headers = {"HX-Request": "true"} if htmx else {}
    return client.post(reverse(f"timber_stock:{where}", args=args), data, headers=headers)


def a_log(woods, **changes):
    return {
        "tag": "L11", "species": woods["larch_european"].pk, "length_mm": "13 ft 9",
        "butt_diameter_mm": "1-8-7+", "top_diameter_mm": "16 1/4", **changes,
    }  # fmt: skip


def a_board(woods, mill, **changes):
    return {
        "tag": "B5", "species": woods["oak_white"].pk, "supplier": mill.pk, "state": "green",
        "thickness_mm": "2 1/2", "width_mm": "10", "length_mm": "3.1 m", "heart": "clear",
        "rings": "quarter", **changes,
    }  # fmt: skip


def board_form(board, **changes):
    return {
        "state": board.state, "heart": board.heart, "rings": board.rings,
        "thickness_mm": f"{board.thickness_mm} mm", "width_mm": f"{board.width_mm} mm",
        "length_mm": f"{board.length_mm} mm", **changes,
    }  # fmt: skip


def test_the_landing_page_counts_what_there_is(signed_in, log, board, flitch):
    html = page(signed_in(), "stock")
    assert "1, 0.620 m³ left in them" in html  # Smalian 0.7406 m³ less 0.1122 + 0.0089
    assert "2, 0.162 m³" in html  # 63 x 254 x 3100 and 76 x 360 x 4100 mm
    assert "no moisture reading yet" in html


def test_an_exact_tag_opens_its_page_and_a_part_of_one_lists_what_has_it(signed_in, log, flitch):
    client = signed_in()
    response = client.get(reverse("timber_stock:stock"), {"q": " l07-1 "})
    assert response.url == flitch.get_absolute_url()
    html = page(client, "stock", q="07")
    assert log.get_absolute_url() in html
    assert flitch.get_absolute_url() in html
    assert flitch.get_absolute_url() in page(client, "stock", q="quercus alb")
    assert "No log or board has that" in page(client, "stock", q="zebrano")


def test_a_log_is_entered_as_the_trade_writes_it_and_read_back_as_typed(signed_in, woods, mill):
    client = signed_in()
    sent = a_log(
        woods, supplier=mill.pk, butt_heart_offset_mm="1 1/2", butt_heart_clock="4:30",
        felled_note="winter 2024", price="310.50",
    )  # fmt: skip
    response = post(client, "log_new", **sent)
    log = Log.objects.get(tag="L11")
    assert response.url == log.get_absolute_url()
    assert log.butt_diameter_mm == pytest.approx(20.9375 * 25.4)
    assert log.butt_heart_clock == 4.5
    assert log.top_heart_offset_mm == 0
    form = page(client, "log_edit", log.pk)
    assert 'value="1-8-7+"' in form
    assert 'value="4:30"' in form
    assert "1 1/2 in off centre towards 4:30" in page(client, "log", log.pk)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"tag": "x1-3"}, "A board already has the tag x1-3"),
        ({"tag": "two words"}, "A tag is letters, figures"),
        ({"length_mm": "long"}, "is not a length that can be read"),
        ({"top_heart_offset_mm": "2"}, "Say towards which o&#x27;clock"),
        (
            {"butt_heart_offset_mm": "11", "butt_heart_clock": "3"},
            "The heart must lie inside the log",
        ),
        ({"butt_heart_clock": "13"}, "is not a clock position"),
        ({"sapwood_mm": "9"}, "thinner than half the top diameter"),
        ({"felled_on": "2999-01-01"}, "still to come"),
        ({"length_mm": "0"}, "more than nothing"),
    ],
)
def test_a_log_that_cannot_be_is_refused_in_a_sentence_and_nothing_typed_is_lost(
    signed_in, woods, board, changes, sentence
):
    response = post(signed_in(), "log_new", **a_log(woods, note="keep me", **changes))
    html = response.content.decode()
    assert response.status_code == 422
    assert sentence in html
    assert "keep me" in html
    assert 'value="16 1/4"' in html
    assert not Log.objects.exists()


def test_a_log_is_not_made_smaller_than_what_came_out_of_it(signed_in, log, flitch):
    sent = {
        "tag": "L07", "species": log.species_id, "length_mm": "4200 mm",
        "butt_diameter_mm": "200 mm", "top_diameter_mm": "180 mm",
    }  # fmt: skip
    response = post(signed_in(), "log_edit", log.pk, **sent)
    assert response.status_code == 422
    assert "is too big for a log of these diameters" in response.content.decode()
    log.refresh_from_db()
    assert log.butt_diameter_mm == 530


def test_a_log_is_called_sawn_up_on_its_form_only_after_something_was_sawn(signed_in, log):
    client = signed_in()
    assert "is_sawn_up" not in page(client, "log_edit", log.pk)
    saw_log(
        log=log, pieces=[Piece("L07-1", 76, 360, 4100)], sawn_on=DAY, sawn_by="Bram Oddy", kerf_mm=6
    )
    assert "is_sawn_up" in page(client, "log_edit", log.pk)
    sent = {
        "tag": "L07", "species": log.species_id, "length_mm": "4200 mm", "is_sawn_up": "on",
        "butt_diameter_mm": "530 mm", "top_diameter_mm": "410 mm",
    }  # fmt: skip
    post(client, "log_edit", log.pk, **sent)
    log.refresh_from_db()
    assert log.is_sawn_up


def test_a_log_page_shows_the_yards_rule_with_its_source_beside_the_solid(signed_in, log, flitch):
    from restoration.models import Yard

    client = signed_in()
    Yard.objects.create(pk=1, log_rule="doyle")
    html = page(client, "log", log.pk)
    assert "0.741 m³" in html
    assert "127 bd ft" in html  # (410/25.4 - 4)^2 x 13.78 / 16
    assert "It underscales small logs" in html
    Yard.objects.update(log_rule="hoppus")
    assert "needs the diameter measured half way along" in page(client, "log", log.pk)


def test_a_log_page_lists_what_came_out_and_where_the_rest_went(signed_in, log, flitch):
    MoistureReading.objects.create(board=flitch, read_on=date(2026, 2, 9), percent=48.5)
    MoistureReading.objects.create(board=flitch, read_on=date(2026, 2, 4), percent=61)
    html = page(signed_in(), "log", log.pk)
    assert "3 February 2026, by Bram Oddy" in html
    assert "0.112 m³" in html  # out: 76 x 360 x 4100
    assert "0.009 m³" in html  # kerf: 6 x 360 x 4100
    assert flitch.get_absolute_url() in html
    assert "48.5 %" in html
    assert "61 %" not in html
    assert html.count("<svg") == 3  # the mark of the site and the two ends


def test_a_log_and_a_board_lead_to_their_thread(signed_in, log, flitch):
    client = signed_in()
    assert 'href="/t/L07/"' in page(client, "log", log.pk)
    assert 'href="/t/L07-1/"' in page(client, "board", flitch.pk)


def test_logs_are_listed_by_wood_and_whether_they_are_sawn_up(signed_in, log, woods, mill):
    other = Log.objects.create(
        tag="L03", species=woods["larch_european"], length_mm=5000, butt_diameter_mm=400,
        top_diameter_mm=300, is_sawn_up=True,
    )  # fmt: skip
    client = signed_in()
    assert "L03" not in page(client, "logs")
    assert "L03" in page(client, "logs", which="all")
    only = page(client, "logs", which="all", wood=other.species_id)
    assert "L03" in only
    assert "L07" not in only
    assert "No log is like that" in page(client, "logs", wood=other.species_id)
    assert "L07" in page(client, "logs", wood="no number", which="what")


def test_a_filter_asked_by_htmx_comes_back_as_the_list_alone(signed_in, log):
    client = signed_in()
    piece = client.get(reverse("timber_stock:logs"), headers={"HX-Request": "true"})
    assert "L07" in piece.content.decode()
    assert "<html" not in piece.content.decode()


@pytest.mark.parametrize(
    ("query", "tags"),
    [
        ({}, {"B1", "B2", "B3"}),
        ({"which": "in_stick"}, {"B2"}),
        ({"which": "all"}, {"B1", "B2", "B3", "B4", "B5"}),
        ({"heart": "clear"}, {"B1", "B2"}),
        ({"rings": "quarter", "which": "all"}, {"B2", "B5"}),
        ({"held": "free"}, {"B1", "B2"}),
        ({"held": "held"}, {"B3"}),
        ({"q": "b2"}, {"B2"}),
        ({"q": "Larix"}, {"B3"}),
    ],
)
def test_boards_are_narrowed_to_what_is_asked(signed_in, woods, mill, query, tags):
    sizes = {"thickness_mm": 50, "width_mm": 200, "length_mm": 2000, "supplier": mill}
    oak, larch = woods["oak_white"], woods["larch_european"]
    for tag, wood, about in (
        ("B1", oak, {"heart": "clear"}),
        ("B2", oak, {"heart": "clear", "rings": "quarter", "state": "in_stick"}),
        ("B3", larch, {"held_for": "TEN-F12"}),
        ("B4", oak, {"state": "gone"}),
        ("B5", oak, {"state": "resawn", "rings": "quarter"}),
    ):
        Board.objects.create(tag=tag, species=wood, **sizes, **about)
    html = page(signed_in(), "boards", **query)
    assert {t for t in ("B1", "B2", "B3", "B4", "B5") if f">{t}</a>" in html} == tags


def test_a_board_bought_sawn_needs_its_supplier(signed_in, woods, mill):
    client = signed_in()
    response = post(client, "board_new", **a_board(woods, mill, supplier="", note="keep me"))
    assert response.status_code == 422
    assert "keep me" in response.content.decode()
    assert "Fill this in: it is needed" in response.content.decode()
    assert not Board.objects.exists()
    response = post(client, "board_new", **a_board(woods, mill))
    board = Board.objects.get(tag="B5")
    assert response.url == board.get_absolute_url()
    assert board.length_mm == 3100
    assert "Aldermoor Sawing, bought sawn" in page(client, "board", board.pk)


def test_a_board_does_not_take_the_tag_of_a_log(signed_in, woods, mill, log):
    response = post(signed_in(), "board_new", **a_board(woods, mill, tag="l07"))
    assert "A log already has the tag l07" in response.content.decode()


def test_a_board_page_says_where_it_came_from_and_what_became_of_it(signed_in, log, flitch):
    resaw_board(
        board=flitch, pieces=[Piece("L07-1a", 70, 180, 4000, place="rack 1")], sawn_on=DAY,
        sawn_by="Bram Oddy", kerf_mm=4,
    )  # fmt: skip
    client = signed_in()
    html = page(client, "board", flitch.pk)
    assert log.get_absolute_url() in html
    assert "resawn" in html
    assert reverse("timber_stock:board_resaw", args=[flitch.pk]) not in html
    assert "L07-1a" in html
    assert "rack 1" in html
    piece = Board.objects.get(tag="L07-1a")
    assert flitch.get_absolute_url() in page(client, "board", piece.pk)


def test_only_what_may_change_of_a_board_is_on_its_form(signed_in, board, flitch):
    client = signed_in()
    html = page(client, "board_edit", board.pk)
    assert 'name="width_mm"' in html
    assert 'name="price"' in html
    assert 'value="resawn"' not in html
    for never in ("tag", "species", "supplier", "held_for", "log"):
        assert f'name="{never}"' not in html
    assert 'name="price"' not in page(client, "board_edit", flitch.pk)
    Board.objects.filter(pk=board.pk).update(held_for="TEN-F12")
    html = page(client, "board_edit", board.pk)
    assert 'name="width_mm"' not in html
    assert "held for TEN-F12" in html


def test_a_board_is_put_in_stick_without_touching_what_holds_it(signed_in, board):
    Board.objects.filter(pk=board.pk).update(held_for="TEN-F12")
    response = post(
        signed_in(), "board_edit", board.pk, state="ready", heart="clear", rings="rift",
        place="rack 9",
    )  # fmt: skip
    assert response.status_code == 302
    board.refresh_from_db()
    assert (board.state, board.place, board.held_for) == ("ready", "rack 9", "TEN-F12")
    assert board.width_mm == 254


def test_a_piece_does_not_grow_past_its_source_on_its_form_either(signed_in, flitch):
    response = post(signed_in(), "board_edit", flitch.pk, **board_form(flitch, length_mm="5 m"))
    assert response.status_code == 422
    assert "longer than the log L07" in response.content.decode()
    assert 'value="5 m"' in response.content.decode()


def test_a_moisture_reading_is_put_into_the_board_page_by_htmx_and_works_without(signed_in, board):
    client = signed_in()
    sent = {"read_on": "2026-02-09", "percent": "34.5", "depth_mm": "1", "read_by": "Hanne"}
    response = post(client, "moisture_new", board.pk, htmx=True, **sent)
    piece = response.content.decode()
    assert response.status_code == 200
    assert "34.5 %" in piece
    assert "<html" not in piece
    response = post(client, "moisture_new", board.pk, **{**sent, "percent": "31"})
    assert response.url == board.get_absolute_url()
    html = page(client, "board", board.pk)
    assert "9 February 2026" in html
    assert "equilibrium of the place" in html
    assert MoistureReading.objects.count() == 2


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"percent": "301"}, "between 0 and 300"),
        ({"percent": "nan"}, "Write a number"),
        ({"read_on": "2999-01-01"}, "still to come"),
        ({"depth_mm": "deep"}, "is not a length that can be read"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_and_what_was_typed_stays(
    signed_in, board, changes, sentence
):
    sent = {"read_on": "2026-02-09", "percent": "34.5", "instrument": "pin meter 2", **changes}
    for htmx in (True, False):
        response = post(signed_in(), "moisture_new", board.pk, htmx=htmx, **sent)
        assert response.status_code == 422
        assert sentence in response.content.decode()
        assert "pin meter 2" in response.content.decode()
    assert not MoistureReading.objects.exists()


def test_suppliers_are_entered_corrected_and_never_twice(signed_in, mill):
    client = signed_in()
    assert "Aldermoor" in page(client, "suppliers")
    assert post(client, "supplier_new", name="Aldermoor Sawing").status_code == 422
    assert post(client, "supplier_new", name="Sallow Creek Timber").status_code == 302
    assert post(client, "supplier_edit", mill.pk, name="Aldermoor Mill").status_code == 302
    assert set(Supplier.objects.values_list("name", flat=True)) == {
        "Aldermoor Mill", "Sallow Creek Timber",
    }  # fmt: skip


def test_a_surveyor_sees_the_stock_and_is_offered_nothing_to_change(signed_in, log, board):
    client = signed_in("surveyor")
    html = page(client, "log", log.pk) + page(client, "board", board.pk) + page(client, "stock")
    for name, args in (
        ("log_new", []), ("board_new", []), ("log_saw", [log.pk]), ("log_edit", [log.pk]),
        ("board_resaw", [board.pk]), ("board_edit", [board.pk]), ("moisture_new", [board.pk]),
    ):  # fmt: skip
        url = reverse(f"timber_stock:{name}", args=args)
        assert url not in html
        assert client.get(url).status_code == 403


def queries(client, url):
    with CaptureQueriesContext(connection) as caught:
        assert client.get(url).status_code == 200
    return len(caught)


@pytest.mark.parametrize("name", ["stock", "logs", "boards", "log", "board"])
def test_no_page_asks_the_database_more_often_when_there_is_more_timber(
    signed_in, log, flitch, woods, mill, name
):
    client = signed_in()
    resawn = resaw_board(
        board=flitch, pieces=[Piece("L07-1a", 70, 90, 4000)], sawn_on=DAY, sawn_by="B", kerf_mm=2
    )
    args = {"log": [log.pk], "board": [flitch.pk]}.get(name, [])
    url = reverse(f"timber_stock:{name}", args=args)
    few = queries(client, url)
    for n in range(12):
        saw_log(
            log=log, sawn_on=DAY, sawn_by="Bram Oddy", kerf_mm=4,
            pieces=[Piece(f"L07-{n}b", 20, 60, 900, state="in_stick", place="rack")],
        )  # fmt: skip
        Log.objects.create(
            tag=f"M{n}", species=woods["oak_white"], supplier=mill, length_mm=900,
            butt_diameter_mm=300, top_diameter_mm=290,
        )  # fmt: skip
        Board.objects.create(
            tag=f"Z{n}", sawing=resawn, log=log, species=log.species, thickness_mm=1, width_mm=1,
            length_mm=1,
        )  # fmt: skip
    for board in Board.objects.all():
        MoistureReading.objects.create(board=board, read_on=DAY, percent=20)
    assert queries(client, url) == few


def test_a_long_list_of_boards_comes_a_hundred_at_a_time(signed_in, woods, mill):
    Board.objects.bulk_create(
        Board(
            tag=f"B{n:03}", species=woods["oak_white"], supplier=mill, thickness_mm=50,
            width_mm=200, length_mm=2000, heart="clear",
        )
        for n in range(130)
    )  # fmt: skip
    client = signed_in()
    first, second = page(client, "boards"), page(client, "boards", page=2, heart="clear")
    assert first.count("/timber/boards/") - second.count("/timber/boards/") == 70
    assert "1 to 100 of 130" in first
    assert "heart=clear" in second  # the way back keeps what was asked


def test_an_empty_tag_is_refused_in_one_sentence(signed_in):
    html = signed_in().post("/timber/logs/new/", {"tag": ""}).content.decode()
    tag_errors = html.split('id="id_tag_error"')[1].split("</div>")[0]
    assert tag_errors.count("<p>") == 1


def test_a_log_whose_top_is_wider_than_its_butt_is_asked_about(signed_in, log):
    asked = "Were the two ends taken for each other?"
    assert asked not in signed_in().get(log.get_absolute_url()).content.decode()
    log.butt_diameter_mm, log.top_diameter_mm = 460, 520
    log.save()
    assert asked in signed_in().get(log.get_absolute_url()).content.decode()
