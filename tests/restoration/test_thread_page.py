"""The page of a thread: found by whatever is written on the wood, told and drawn both ways."""

import re
from datetime import date
from html import unescape
from urllib.parse import quote

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.actions.allotments import record_cut, record_fitted
from restoration.models import Member
from timber_stock.actions import Piece, resaw_board
from timber_stock.models import Board


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def floor(survey, make_spec):
    return make_spec(survey, "F12")


@pytest.fixture
def fitted(floor, deep_log, promise):
    taken = promise(floor, "L7-2b1", 203.2, 1320.8)
    record_cut(allotment=taken, on=date(2026, 2, 9), by="Ansgar")
    record_fitted(allotment=taken, on=date(2026, 2, 20), by="Wiebke")
    return taken


def at(tag) -> str:
    return reverse("restoration:thread", args=[tag])


def says(response) -> str:
    text = re.sub(r"<svg class=\"thread.*?</svg>", " ", response.content.decode(), flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", text)).split())


def picture(response) -> str:
    return re.search(r'<svg class="thread".*?</svg>', response.content.decode(), re.S)[0]


def test_a_piece_is_called_the_same_on_its_own_page(yard_client, fitted):
    for tag, word in (("L7-2", "Flitch"), ("L7-2b", "Board"), ("L7-1", "Board")):
        page = yard_client.get(Board.objects.get(tag=tag).get_absolute_url())
        assert f"<h1>{word} <span" in page.content.decode()


def test_a_floor_is_told_back_to_where_its_log_was_felled(yard_client, fitted):
    text = says(yard_client.get(at("TEN-F12")))
    for sentence in (
        "This floor timber F12 of Tenacious Wren came from 8 in to 4 ft 4 in of board L7-2b1",
        "cut 9 February 2026 by Ansgar, fitted 20 February 2026 by Wiebke.",
        "Board L7-2b1 was sawn on 20 November 2025 by J. Sawyer out of board L7-2b",
        "Board L7-2b was sawn on 2 March 2025 by J. Sawyer out of flitch L7-2",
        "Flitch L7-2 was sawn on 2 March 2025 by J. Sawyer out of log L7 .",
        "was felled at Hangar Wood on 17 January 2025; it came from Aldermoor Sawing of Aldermoor",
    ):
        assert sentence in text
    order = [text.index(s) for s in ("This floor timber F12", "Board L7-2b1 was", "Flitch L7-2")]
    assert order == sorted(order)


def test_the_log_is_told_down_to_its_members_and_to_what_is_left(yard_client, fitted, deep_log):
    text = says(yard_client.get(at("L7")))
    assert "It became board L7-1 and flitch L7-2 ." in text
    assert "8 in to 4 ft 4 in: floor timber TEN-F12 of Tenacious Wren, fitted 20" in text
    assert "became L7-2a and L7-2b" in text
    left = text[text.index("What is left") :]
    assert f"Unsawn of log L7: {deep_log.unsawn_mm3() / 1e9:.3f} m³" in left
    # Its 3500 mm are 11 ft 5 51/64 in: told down to the mark, for 5 13/16 in is not there.
    assert "L7-2b1 : 0 in to 8 in; 4 ft 4 in to 11 ft 5 3/4 in free." in left
    assert "L7-2b :" not in left  # resawn: nothing of it is left under that tag


def test_a_board_is_told_both_ways(yard_client, fitted):
    text = says(yard_client.get(at("L7-2b")))
    assert "Board L7-2b was sawn on 2 March 2025 by J. Sawyer out of flitch L7-2" in text
    assert "8 in to 4 ft 4 in of L7-2b1 : floor timber TEN-F12" in text
    went = says(yard_client.get(at("L7-1")))
    assert "Nothing of it is allotted to a member yet." in went


def test_timber_that_was_bought_sawn_says_so(yard_client, floor, bought_board, promise):
    promise(floor, "Q3", 0, 1200)
    text = says(yard_client.get(at("TEN-F12")))
    assert (
        "Board Q3 was bought sawn from Drayhithe Timber; its log is not in this register." in text
    )
    assert "This floor timber F12 of Tenacious Wren is to come from 0 in to 3 ft 11 1/4 in" in text


@pytest.mark.parametrize("asked", ["l7", "L7-2B1", "ten-f12", "F12", "f12", " L7 "])
def test_small_letters_and_capitals_are_one(yard_client, fitted, asked):
    assert yard_client.get(at(asked)).status_code == 200


def test_the_picture_links_every_node_and_marks_what_was_asked_in_a_word(yard_client, fitted):
    drawn = picture(yard_client.get(at("TEN-F12")))
    for tag in ("L7", "L7-1", "L7-2", "L7-2a", "L7-2b", "L7-2b1", "L7-2b2", "TEN-F12"):
        assert f'<a href="{at(tag)}"><g class="node' in drawn
    assert drawn.count("asked for") == 1
    (asked,) = re.findall(r'<g class="node [a-z]+ asked"><title>([^<]*)</title>', drawn)
    assert asked.startswith("Floor timber F12 of Tenacious Wren: floor timber, fitted")
    assert drawn.count("<title>") == 8


def test_what_someone_typed_is_never_code_in_the_picture(yard_client, fitted):
    vessel = Member.objects.get().vessel
    vessel.name = '<script>alert(1)</script> & "Wren"'
    vessel.save()
    drawn = picture(yard_client.get(at("TEN-F12")))
    assert "<script" not in drawn
    assert "&lt;script&gt;" in drawn


def test_a_mark_that_two_vessels_have_is_a_choice(
    yard_client, fitted, other_vessel, deep_log, woods
):
    Member.objects.create(vessel=other_vessel, kind="floor_timber", mark="F12")
    answer = yard_client.get(at("f12"))
    assert [found.name for found in answer.context["found"]] == ["KIT-F12", "TEN-F12"]
    text = answer.content.decode()
    for found in answer.context["found"]:
        assert f'href="{found.href()}"' in text
        assert yard_client.get(found.href()).context["answer"] == found


def test_a_board_tagged_like_a_member_is_a_choice_and_each_has_its_own_address(
    yard_client, fitted, bought_board
):
    Board.objects.filter(pk=bought_board.pk).update(tag="TEN-F12")
    found = yard_client.get(at("TEN-F12")).context["found"]
    assert {each.kind for each in found} == {"board", "member"}
    for each in found:
        assert yard_client.get(each.href()).context["answer"].kind == each.kind


def test_nothing_by_that_name_is_a_page_with_a_box_to_ask_again(yard_client, fitted):
    for path in (at("L77"), at("KIT-F12"), at("-"), at("TEN-"), at("-F12x")):
        answer = yard_client.get(path)
        assert answer.status_code == 404
        assert 'name="q"' in answer.content.decode()
    assert yard_client.get("/t/" + quote("<b>?", safe="") + "/").status_code == 404


def test_the_box_leads_to_the_thread_and_the_page_offers_where_to_start(yard_client, fitted):
    trace = reverse("restoration:trace")
    assert yard_client.get(trace, {"q": " L7-2b1 "}).url == at("L7-2b1")
    assert yard_client.get(trace, {"q": "a/b"}).status_code == 404
    start = yard_client.get(trace).content.decode()
    assert at("L7") in start
    assert at("TEN-F12") in start


def test_a_member_without_timber_says_what_comes_first(yard_client, floor):
    text = says(yard_client.get(at("TEN-F12")))
    assert "No timber is allotted to floor timber F12 of Tenacious Wren yet." in text


def test_a_client_sees_no_thread(client, people, fitted):
    client.force_login(people["client"])
    assert client.get(at("TEN-F12")).status_code == 403


def test_a_thread_of_any_depth_is_told_and_drawn(yard_client, floor, deep_log, promise):
    tag, width = "L7-2a", 370.0
    for n in range(40):
        board = Board.objects.get(tag=tag)
        tag, width = f"D{n}", width - 4
        resaw_board(
            board=board, sawn_on=date(2025, 6, 1), sawn_by="J. Sawyer", kerf_mm=0,
            pieces=[Piece(tag, 70, width, 3600)],
        )  # fmt: skip
    promise(floor, tag, 0, 1200)
    answer = yard_client.get(at("TEN-F12"))
    assert "Board D39 was sawn on 1 June 2025 by J. Sawyer out of board D38" in says(answer)
    assert at("D0") in picture(answer)


def test_the_page_asks_no_more_of_the_database_for_a_big_tree_than_for_a_small_one(
    yard_client, fitted, survey, make_spec, bought_board, promise
):
    def queries(tag):
        with CaptureQueriesContext(connection) as asked:
            yard_client.get(at(tag))
        chains = [q for q in asked.captured_queries if "WITH RECURSIVE" in q["sql"]]
        assert len(chains) == 1
        return len(asked)

    few = [queries(tag) for tag in ("TEN-F12", "L7", "L7-2b1")]
    flitch = Board.objects.get(tag="L7-2a")
    pieces = [Piece(f"S{n}", 20, 30, 3000) for n in range(30)]
    resaw_board(
        board=flitch, sawn_on=date(2025, 6, 1), sawn_by="J. Sawyer", kerf_mm=1, pieces=pieces
    )
    for n in range(10):
        promise(make_spec(survey, f"FR{n}"), f"S{n}", 0, 1100)
    promise(fitted.spec, "Q3", 0, 900)
    promise(fitted.spec, "L7-1", 0, 900)
    assert [queries(tag) for tag in ("TEN-F12", "L7", "L7-2b1")] == few
