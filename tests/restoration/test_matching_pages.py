"""Boards matched to replacements: ranked for one, for one board, and for the whole yard."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.actions.cutting import Drawing, draw_timbers
from restoration.models import Allotment
from restoration.reports.yard_match import Wish, yard_match
from timber_stock.models import Board, CuttingList, Log, MoistureReading

MATCH, ACCEPT = "/matching/", "/matching/accept/"
DAY = date(2026, 1, 9)


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def spec(survey, make_spec):
    return make_spec(survey, "F12")  # 63.5 x 127 x 1100, white oak, green


@pytest.fixture
def page(spec):
    return reverse("restoration:allot", args=[spec.pk])


def choices(answer, name="serving"):
    return {each["choice"].board.tag: each["choice"] for each in answer.context[name]}


def only(*tags):
    Board.objects.exclude(tag__in=tags).update(state="gone")


def test_least_waste_comes_first_and_of_two_alike_the_plainer(yard_client, page, deep_log, spec):
    spec.clear_of_heart = False
    spec.save()
    Board.objects.filter(tag__in=["L7-2b1", "L7-2b2"]).update(thickness_mm=70, width_mm=140)
    only("L7-2b1", "L7-2b2", "L7-2a")
    answer = yard_client.get(page)
    # 76 x 370 wastes most; of the two of 70 x 140 the one not known to be clear of heart is kept
    # for this, that asks nothing of it.
    assert list(choices(answer)) == ["L7-2b2", "L7-2b1", "L7-2a"]
    assert choices(answer)["L7-2a"].waste_mm3 == pytest.approx((76 * 370 - 63.5 * 127) * 1100)
    assert "side by side" in answer.content.decode()


def test_one_that_differs_comes_after_all_that_meet_what_is_asked(yard_client, page, deep_log):
    Board.objects.filter(tag="L7-2b1").update(width_mm=130, has_sapwood=True)
    only("L7-2b1", "L7-2a")
    found = choices(yard_client.get(page))
    assert list(found) == ["L7-2a", "L7-2b1"]
    assert found["L7-2a"].meets_all
    assert not found["L7-2b1"].meets_all


def test_what_is_checked_at_the_ends_is_no_free_length(yard_client, page, deep_log):
    """3500 long, 2440 of it checked at the two ends: 1060 left of the 1100 asked for."""
    Board.objects.filter(tag="L7-2b1").update(butt_check_mm=1420, top_check_mm=1020)
    only("L7-2b1")
    answer = yard_client.get(page, {"tag": ""})
    assert choices(answer) == {}
    lacks = choices(answer, "others")["L7-2b1"].lacks
    short = "1 9/16 in short after trimming checks: no free length is long enough"
    assert lacks == (short,)
    assert short in answer.content.decode()
    nearest = answer.context["none_serve"].nearest
    assert [choice.board.tag for choice in nearest] == ["L7-2b1"]
    Board.objects.filter(tag="L7-2b1").update(top_check_mm=900)
    form = yard_client.get(page, {"board": Board.objects.get(tag="L7-2b1").pk}).context["form"]
    assert form.initial["from_mm"] == 1420


def test_the_heart_that_comes_too_near_is_told_with_its_end_and_its_figure(
    yard_client, page, deep_log
):
    """78 x 180: cut from the upper side the piece reaches to 24.5 below the middle."""
    Board.objects.filter(tag="L7-2b1").update(
        width_mm=127, thickness_mm=63.5, butt_heart_across_mm=0, butt_heart_off_mm=-200,
        top_heart_across_mm=0, top_heart_off_mm=300,
    )  # fmt: skip
    only("L7-2b1")
    mind = choices(yard_client.get(page))["L7-2b1"].mind
    # At 1100 of 3500 the heart is 500 * 1100/3500 - 200 = -42.9 off the middle: 11.1 from the face.
    heart = next(said for said in mind if "heart" in said)
    assert heart.startswith("heart within 7/16 in of it at the top end")


def test_out_of_square_is_told_in_degrees_and_a_wet_board_by_its_reading(
    yard_client, page, spec, deep_log
):
    spec.seasoning, spec.moisture_percent, spec.place_in_boat = "seasoned", 12, "inside_dry"
    spec.save()
    board = Board.objects.get(tag="L7-2b1")
    Board.objects.filter(pk=board.pk).update(rings="rift", state="in_stick")
    MoistureReading.objects.create(board=board, read_on=DAY, percent=31)
    only("L7-2b1")
    answer = yard_client.get(page)
    mind = choices(answer)["L7-2b1"].mind
    assert "in stick, last read 31 %; asked for seasoned to 12 %" in mind
    square = next(said for said in mind if "out of square" in said)
    assert square.startswith("will dry ")
    assert square.endswith(
        "on its way from 31 % to 13 %, if its heart lies as its ring direction has it"
    )
    MoistureReading.objects.create(board=board, read_on=date(2026, 2, 1), percent=13.5)
    good = choices(yard_client.get(page))["L7-2b1"].good
    assert "last read 13.5 %: dry enough" in good


def test_when_none_serves_the_page_leads_to_a_log_a_list_and_what_to_saw(
    yard_client, page, spec, deep_log, woods
):
    only()
    log = {"species": woods["oak_white"], "supplier": deep_log.supplier, "length_mm": 2400}
    Log.objects.create(tag="L30", butt_diameter_mm=420, top_diameter_mm=390, **log)
    Log.objects.create(tag="L31", butt_diameter_mm=190, top_diameter_mm=170, **log)
    answer = yard_client.get(page)
    text = answer.content.decode()
    assert "No board in stock serves it whole" in text
    assert [(each.log.tag, each.is_big_enough) for each in answer.context["none_serve"].logs] == [
        ("L30", True),
        ("L31", False),
    ]
    assert f"{reverse('restoration:cutting_from_specs')}?spec={spec.pk}" in text
    listed = CuttingList.objects.create(name="Floors")
    draw_timbers(cutting_list=listed, specs=[spec], drawing=Drawing(25.4, 100, 16, 1.0))
    text = yard_client.get(page).content.decode()
    assert reverse("timber_stock:log_wanted", args=[listed.pk]) in text
    assert "TEN-F12" in text


def test_what_a_board_could_become_comes_ranked_with_a_way_to_allot_it(
    yard_client, spec, survey, make_spec, deep_log, bought_board
):
    make_spec(survey, "F13", sided_mm=69, moulded_mm=200)
    make_spec(survey, "BIG", sided_mm=400, moulded_mm=400)
    page = reverse("restoration:board_uses", args=[bought_board.pk])  # Q3: 70 x 240 x 2500
    answer = yard_client.get(page)
    uses = answer.context["found"].uses
    assert [use.spec.finding.member.mark for use in uses] == ["F13", "F12"]
    assert answer.context["found"].others == 1
    text = answer.content.decode()
    assert f"{reverse('restoration:allot', args=[spec.pk])}?board={bought_board.pk}" in text
    assert page in yard_client.get(bought_board.get_absolute_url()).content.decode()
    Board.objects.filter(pk=bought_board.pk).update(state="gone")
    assert yard_client.get(page).status_code == 404


def test_the_proposal_gives_several_pieces_out_of_one_board_and_promises_nothing(
    yard_client, spec, survey, make_spec, deep_log
):
    only("L7-2b1")
    for mark in ("F13", "F14", "F15"):
        make_spec(survey, mark)
    answer = yard_client.get(MATCH, {"kerf_mm": "10 mm"})
    found = answer.context["found"]
    # 3500 holds three of 1100 with 10 between, not four.
    assert sorted(each.length.from_mm for each in found.proposed) == [0, 1110, 2220]
    assert (found.assigned.met, found.assigned.proven, len(found.left)) == (3, True, 1)
    assert found.left[0].why == "L7-2b1 would serve, and gives others more."
    assert "3 of 4 could be met" in answer.content.decode()
    assert not Allotment.objects.exists()


def test_a_board_that_differs_is_proposed_only_when_asked_for(yard_client, spec, deep_log):
    Board.objects.filter(tag="L7-2b1").update(has_sapwood=True)
    only("L7-2b1")
    found = yard_client.get(MATCH).context["found"]
    assert found.left[0].why == (
        "The nearest is L7-2b1, which differs from what was asked: sapwood."
    )
    asked = {"kerf_mm": "1/4", "with_differences": "on"}
    found = yard_client.get(MATCH, asked).context["found"]
    assert found.proposed[0].words.mind == ("has sapwood, which is not allowed",)


def test_where_the_better_board_goes_elsewhere_it_says_to_whom(
    yard_client, spec, survey, make_spec, deep_log, bought_board
):
    """Both would rather have Q3, which is the only one thick and long enough for F13."""
    only("Q3", "L7-2a")
    Board.objects.filter(tag="L7-2a").update(length_mm=1150)
    make_spec(survey, "F13", length_mm=2400)
    found = yard_client.get(MATCH).context["found"]
    told = {
        each.spec.finding.member.mark: (each.board.tag, each.instead) for each in found.proposed
    }
    assert told == {
        "F12": ("L7-2a", "Q3 would waste less, and goes to TEN-F13"),
        "F13": ("Q3", ""),
    }


def test_one_is_accepted_by_its_button_and_several_by_their_ticks(
    yard_client, spec, survey, make_spec, deep_log
):
    only("L7-2b1")
    make_spec(survey, "F13"), make_spec(survey, "F14")
    found = yard_client.get(MATCH).context["found"]
    first, *rest = [each.token() for each in found.proposed]
    answer = yard_client.post(f"{ACCEPT}?kerf_mm=1%2F4", {"one": first, "take": rest}, follow=True)
    assert Allotment.objects.count() == 1
    assert answer.redirect_chain[0][0] == f"{MATCH}?kerf_mm=1%2F4"
    assert "A length of L7-2b1 is allotted to TEN-F12." in answer.content.decode()
    yard_client.post(ACCEPT, {"take": rest})
    lengths = Allotment.objects.order_by("from_mm")
    assert lengths.count() == 3
    assert all(not each.is_short() for each in lengths)
    assert yard_client.get(MATCH).context["found"].specs == 0


def test_what_was_promised_meanwhile_is_refused_and_the_others_are_kept(
    yard_client, spec, survey, make_spec, deep_log, promise
):
    only("L7-2b1")
    other = make_spec(survey, "F13")
    tokens = [each.token() for each in yard_client.get(MATCH).context["found"].proposed]
    promise(make_spec(survey, "F14"), "L7-2b1", 0, 900)
    said = yard_client.post(ACCEPT, {"take": tokens}, follow=True).content.decode()
    assert "is promised already" in said
    assert Allotment.objects.filter(spec=other).count() == 1
    again = yard_client.post(ACCEPT, {"take": tokens}, follow=True).content.decode()
    assert "TEN-F13 has its timber already." in again


@pytest.mark.parametrize(
    "sent", ["", "1:2", "a:b:c:d", "1:2:nan:inf", "0:0:0:0", "1:1:5:2", "9:9:0:9"]
)
def test_what_is_no_proposed_length_is_refused(yard_client, spec, deep_log, sent):
    answer = yard_client.post(ACCEPT, {"one": sent or " "}, follow=True)
    assert answer.status_code == 200
    assert 'class="message error"' in answer.content.decode()
    assert not Allotment.objects.exists()
    nothing = yard_client.post(ACCEPT, {}, follow=True).content.decode()
    assert "Tick what is to be accepted" in nothing


def test_a_specification_that_asks_for_more_now_does_not_get_the_old_length(
    yard_client, spec, deep_log
):
    token = yard_client.get(MATCH).context["found"].proposed[0].token()
    spec.length_mm = 1300
    spec.save()
    said = yard_client.post(ACCEPT, {"one": token}, follow=True).content.decode()
    assert "asks for more than this length now" in said


def test_a_kerf_below_nought_or_no_length_is_refused_with_what_was_typed(yard_client, spec):
    answer = yard_client.get(MATCH, {"kerf_mm": "a bit", "to_trim_mm": "3 in"})
    assert answer.status_code == 422
    assert 'value="a bit"' in answer.content.decode()
    assert answer.context["found"] is None
    assert yard_client.get(MATCH, {"kerf_mm": "900 mm"}).status_code == 422


def test_a_piece_that_is_clear_of_the_heart_at_the_butt_alone_is_proposed_there(
    yard_client, spec, deep_log
):
    Board.objects.filter(tag="L7-2b1").update(
        width_mm=130, thickness_mm=66, butt_heart_across_mm=0, butt_heart_off_mm=-150,
        top_heart_across_mm=0, top_heart_off_mm=0,
    )  # fmt: skip
    only("L7-2b1")
    found = yard_client.get(MATCH).context["found"]
    assert [each.length.from_mm for each in found.proposed] == [0]
    assert found.proposed[0].instead.startswith("It fits at the butt end alone")


def test_a_surveyor_reads_the_proposal_and_accepts_nothing(client, people, spec, deep_log):
    client.force_login(people["surveyor"])
    text = client.get(MATCH).content.decode()
    assert "TEN-F12" in text
    assert "Accept" not in text.replace("until you accept it", "")
    assert client.post(ACCEPT, {"one": "1:1:0:900"}).status_code == 403


def test_an_empty_yard_has_nothing_to_match(yard_client):
    assert "No replacement waits for timber" in yard_client.get(MATCH).content.decode()


def test_the_whole_yard_asks_the_database_no_more_for_many_than_for_few(
    yard_client, spec, survey, make_spec, deep_log, woods
):
    def queries(path):
        with CaptureQueriesContext(connection) as asked:
            assert yard_client.get(path).status_code == 200
        return len(asked)

    uses = reverse("restoration:board_uses", args=[Board.objects.get(tag="L7-1").pk])
    few = queries(MATCH), queries(uses)
    for n in range(15):
        make_spec(survey, f"FR{n}", sided_mm=30 + n)
        Board.objects.create(
            tag=f"W-{n}", species=woods["oak_white"], supplier=deep_log.supplier,
            thickness_mm=70 + n, width_mm=200, length_mm=3000, heart="clear",
        )  # fmt: skip
    assert (queries(MATCH), queries(uses)) == few


def test_nothing_proposed_is_promised_already_nor_beyond_the_sound_wood(
    spec, survey, make_spec, deep_log, promise
):
    promise(make_spec(survey, "F1"), "L7-2b1", 1150, 2290)
    Board.objects.filter(tag="L7-2b1").update(top_check_mm=60)
    only("L7-2b1")
    make_spec(survey, "F13"), make_spec(survey, "F14")
    found = yard_match("metric", Wish(kerf_mm=4.0))
    lengths = sorted((each.length.from_mm, each.length.to_mm) for each in found.proposed)
    assert lengths == [(0, 1100), (2290, 3390)]


def test_a_mill_is_asked_in_the_marks_that_a_yard_would_say(yard_client, page, spec, deep_log):
    """2 hypot(127/2, 65 + 25.4) = 220.9 mm of log, 8 45/64 in; the side of 65 mm is 2 9/16 in."""
    spec.sided_mm = 65
    spec.save()
    only()
    text = yard_client.get(page).content.decode()
    asked = text[text.index("Ask a mill for") :].split("</p>")[0]
    assert "sawn green to <b>2 5/8 in × 5 in × 3 ft 7 5/16 in</b>" in asked
    assert "for a log <b>9 in</b> or more" in asked
    assert "(8 3/4 in would just hold it)" in asked


def test_with_no_board_at_all_everything_is_left_and_says_so(yard_client, spec, page):
    found = yard_client.get(MATCH).context["found"]
    assert [each.why for each in found.left] == ["No board in stock is of a wood that will do."]
    assert "No board in stock serves it whole" in yard_client.get(page).content.decode()


def test_a_board_promised_from_end_to_end_could_become_nothing(
    yard_client, spec, survey, make_spec, deep_log, promise
):
    promise(make_spec(survey, "F1"), "L7-2b1", 0, 3500)
    board = Board.objects.get(tag="L7-2b1")
    text = yard_client.get(reverse("restoration:board_uses", args=[board.pk])).content.decode()
    assert "It would serve none of the 1 replacement" in text
    found = yard_client.get(reverse("restoration:allot", args=[spec.pk]), {"tag": "L7-2b1"})
    assert choices(found, "others")["L7-2b1"].lacks == ("nothing of its length is free",)


def test_a_board_that_was_resawn_could_become_nothing_and_says_what_it_became(
    yard_client, deep_log
):
    gone, pieces = Board.objects.get(tag="L7-2"), Board.objects.filter(tag__in=["L7-2a", "L7-2b"])
    answer = yard_client.get(reverse("restoration:board_uses", args=[gone.pk]))
    assert answer.status_code == 200
    text = answer.content.decode()
    assert "L7-2 was resawn on 2 March 2025" in text
    assert [piece.get_absolute_url() in text for piece in pieces] == [True, True]
    assert reverse("restoration:board_uses", args=[pieces[0].pk]) in text


def test_a_board_that_is_used_up_says_so_and_where_to_look(yard_client, deep_log):
    Board.objects.filter(tag="L7-2b1").update(state="used")
    board = Board.objects.get(tag="L7-2b1")
    text = yard_client.get(reverse("restoration:board_uses", args=[board.pk])).content.decode()
    assert "L7-2b1 is used up: nothing more can come out of it" in text


def test_what_the_length_taken_is_worth_is_told_where_somebody_said(
    yard_client, page, bought_board
):
    """Q3 is 2500 long and was bought for 50: of it 1100 are taken."""
    Board.objects.filter(pk=bought_board.pk).update(price=50)
    paid = yard_client.get(page).content.decode()
    assert "By what was paid for Q3, the length taken is worth 22.00 EUR" in paid
    Board.objects.filter(pk=bought_board.pk).update(worth=75)
    worth = yard_client.get(page).content.decode()
    assert "By what Q3 is worth, the length taken is worth 33.00 EUR" in worth
    Board.objects.filter(pk=bought_board.pk).update(worth=None, price=None)
    assert "is worth" not in yard_client.get(page).content.decode()


def test_the_order_is_told_and_a_board_with_one_thing_to_weigh_comes_before_one_with_two(
    yard_client, page, deep_log
):
    """Worked by hand for 63.5 x 127 x 1100, green: L7-2b2 wastes least and differs twice."""
    Board.objects.filter(tag="L7-2b2").update(
        thickness_mm=64, width_mm=128, has_sapwood=True, state="in_stick"
    )
    Board.objects.filter(tag="L7-2b1").update(has_sapwood=True)
    Board.objects.filter(tag="L7-2b2").update(heart="clear")
    only("L7-2b1", "L7-2b2", "L7-2a")
    answer = yard_client.get(page)
    assert list(choices(answer)) == ["L7-2a", "L7-2b1", "L7-2b2"]
    told = answer.content.decode()
    assert "then those with one thing to weigh, then two" in told
    assert "and last the cheaper" in told


def test_what_lies_side_by_side_is_counted_without_the_heart_only_where_that_is_said(
    yard_client, page, deep_log
):
    only("L7-2a")
    beside = "side by side, its heart left out of account"
    assert "side by side, if it were" in yard_client.get(page).content.decode()
    Board.objects.filter(tag="L7-2a").update(heart="in")
    assert beside in yard_client.get(page).content.decode()
