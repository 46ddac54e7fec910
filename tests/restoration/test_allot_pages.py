"""Finding timber for a replacement, and recording what is done with it, in the browser."""

import threading
from datetime import date

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.actions.allotments import record_cut
from restoration.actions.replacement import withdraw_specification
from restoration.models import Allotment, Yard
from restoration.reports.spec_sums import sizes_to_ask
from timber_stock.models import Board
from timber_stock.web.fields import format_for

DAY = date(2026, 2, 9)
HTMX = {"HX-Request": "true"}


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def spec(survey, make_spec):
    return make_spec(survey, "F12")


@pytest.fixture
def page(spec):
    return reverse("restoration:allot", args=[spec.pk])


def sent(tag, start, end, **more):
    board = Board.objects.get(tag=tag).pk
    return {"board": board, "from_mm": start, "to_mm": end, "on": "2026-02-09"} | more


def tags(shown):
    return [each["choice"].board.tag for each in shown]


def test_the_boards_that_could_serve_come_with_what_speaks_against_them(
    yard_client, page, spec, deep_log, bought_board, woods
):
    other = Board.objects.get(tag="L7-2a")
    other.species = woods["larch_european"]
    other.save()
    answer = yard_client.get(page)
    # Wanted: 63.5 x 127 x 1100 white oak. The clear ones first, then the smallest that will do.
    assert tags(answer.context["serving"]) == ["L7-2b1", "Q3", "L7-2b2", "L7-1"]
    mind = {each["choice"].board.tag: each["choice"].mind for each in answer.context["serving"]}
    assert mind["L7-2b2"] == ("heart not known; asked for clear of heart",)
    assert mind["Q3"] == ()
    everything = yard_client.get(page, {"tag": ""}).context["others"]
    lacks = {each["choice"].board.tag: each["choice"].lacks for each in everything}
    assert lacks["L7-2a"] == ("European larch is not a wood asked for",)
    assert "L7-2" not in lacks  # resawn: no longer in stock


def test_a_board_with_less_than_what_to_saw_is_to_be_weighed(yard_client, page, spec, deep_log):
    spec.place_in_boat = "deck"
    spec.save()
    # As big as it is to finish, and nothing over: green it comes small, dry it does not.
    Board.objects.filter(tag="L7-2b1").update(thickness_mm=65, width_mm=130)
    Board.objects.filter(tag="L7-2a").update(thickness_mm=65, width_mm=130, state="ready")
    answer = yard_client.get(page)
    mind = {each["choice"].board.tag: each["choice"].mind for each in answer.context["serving"]}
    ask = " × ".join(
        format_for(side.ask_mm, "imperial")
        for side in sizes_to_ask(spec, Yard.current(), "imperial")
    )
    small = f"{ask} is what to saw for it green: this one may finish small"
    assert small in mind["L7-2b1"]
    assert small not in mind["L7-2a"]
    assert small not in mind["L7-2b2"]  # 78 x 170
    assert small in answer.content.decode()


def test_a_wood_that_is_also_acceptable_serves_and_a_thin_or_short_board_does_not(
    yard_client, page, spec, deep_log, woods
):
    Board.objects.exclude(tag="L7-2a").update(thickness_mm=60)
    Board.objects.filter(tag="L7-2a").update(species=woods["larch_european"])
    assert tags(yard_client.get(page).context["serving"]) == []
    spec.other_woods.add(woods["larch_european"])
    assert tags(yard_client.get(page).context["serving"]) == ["L7-2a"]
    Board.objects.filter(tag="L7-2a").update(length_mm=1090)
    assert tags(yard_client.get(page).context["serving"]) == []


def test_boards_too_small_do_not_crowd_out_the_one_that_serves(
    yard_client, page, deep_log, woods, monkeypatch
):
    monkeypatch.setattr("restoration.reports.board_choice.MOST_LOOKED_AT", 3)
    mill = deep_log.supplier
    for n in range(5):
        Board.objects.create(
            tag=f"N{n}", species=woods["oak_white"], supplier=mill, thickness_mm=25, width_mm=90,
            length_mm=3000,
        )  # fmt: skip
    assert "L7-2b1" in tags(yard_client.get(page).context["serving"])


def test_the_first_free_length_that_fits_is_proposed_and_drawn(
    yard_client, page, survey, make_spec, deep_log, promise
):
    promise(make_spec(survey, "F1"), "L7-2a", 900, 2000)  # 900 mm before it is too short
    board = Board.objects.get(tag="L7-2a")
    answer = yard_client.get(page, {"board": board.pk})
    form = answer.context["form"]
    assert (form.initial["from_mm"], form.initial["to_mm"]) == (2000, 3100)
    drawn = answer.context["chosen"]["bar"]
    assert drawn.count('class="taken"') == 1
    assert "TEN-F1" in drawn
    assert 'class="proposed" x="555.6" width="305.6"' in drawn


def test_a_proposed_length_says_what_is_still_to_be_added_to_it(
    yard_client, page, survey, make_spec, deep_log, promise
):
    board = Board.objects.get(tag="L7-2a")
    alone = yard_client.get(page, {"board": board.pk}).content.decode()
    assert "Proposed is the finished length and no more: add what is trimmed off its ends." in alone
    promise(make_spec(survey, "F1"), "L7-2a", 0, 1300)
    promise(make_spec(survey, "F3"), "L7-2a", 2700, 3000)
    answer = yard_client.get(page, {"board": board.pk})
    assert answer.context["form"].initial["from_mm"] == 1300
    told = "off its ends, and a kerf beside TEN-F1, which it touches."
    assert told in answer.content.decode()


def test_what_is_proposed_can_be_allotted_as_it_is_shown(
    yard_client, page, survey, make_spec, deep_log, promise
):
    """Shown to a sixteenth of an inch it may say half a millimetre less than is free."""
    promise(make_spec(survey, "F1"), "L7-2a", 0, 1300.4)
    board = Board.objects.get(tag="L7-2a")
    form = yard_client.get(page, {"board": board.pk}).context["form"]
    shown = {name: form[name].value() for name in ("from_mm", "to_mm")}
    assert shown["from_mm"] == "4 ft 3 3/16 in"
    answer = yard_client.post(page, sent("L7-2a", shown["from_mm"], shown["to_mm"]))
    assert answer.status_code == 302
    assert Allotment.objects.get(board=board, from_mm=1300.4).length_mm() == pytest.approx(
        1100, abs=0.9
    )


def test_a_length_is_allotted_and_a_second_one_beside_it(
    yard_client, page, spec, deep_log, bought_board, people
):
    first = yard_client.post(page, sent("L7-2a", "1'", "4 ft 8 in", note="the crook"))
    assert first.url == spec.get_absolute_url()
    yard_client.post(page, sent("Q3", "0", "24"))
    kept = Allotment.objects.order_by("pk").values_list("board__tag", "from_mm", "note")
    assert list(kept) == [("L7-2a", pytest.approx(304.8), "the crook"), ("Q3", 0.0, "")]
    shown = yard_client.get(first.url).content.decode()
    assert shown.count('class="sheet allotment"') == 2
    assert "12 in to 4 ft 8 in" in shown


def test_who_comes_second_reads_why_and_keeps_what_they_typed(
    yard_client, page, survey, make_spec, deep_log, promise
):
    promise(make_spec(survey, "F1"), "L7-2a", 0, 1300)
    answer = yard_client.post(page, sent("L7-2a", "2-3-4", "6 ft 1 in", note="keep this"))
    assert answer.status_code == 422
    text = answer.content.decode()
    told = "Part of L7-2a between 2 ft 3 1/2 in and 6 ft 1 in is promised already."
    assert told in text
    assert all(f'value="{typed}"' in text for typed in ("2-3-4", "6 ft 1 in", "keep this"))
    assert answer.context["chosen"]["choice"].free[0].from_mm == 1300
    assert Allotment.objects.count() == 1


def test_a_length_that_runs_backwards_or_is_no_length_is_refused(yard_client, page, deep_log):
    backwards = yard_client.post(page, sent("L7-2a", "5 ft", "4 ft"))
    assert backwards.status_code == 422
    assert "farther from the butt end" in backwards.content.decode()
    no_length = yard_client.post(page, sent("L7-2a", "a bit", "4 ft"))
    assert no_length.status_code == 422
    assert "a bit" in no_length.content.decode()
    assert not Allotment.objects.exists()


def test_a_board_that_went_through_the_saw_meanwhile_is_told_of(yard_client, page, deep_log):
    Board.objects.filter(tag="L7-2a").update(state="resawn")
    answer = yard_client.post(page, sent("L7-2a", "1 ft", "4 ft"))
    assert answer.status_code == 422
    assert "L7-2a is resawn: it cannot be promised." in answer.content.decode()
    assert "4 ft" in answer.content.decode()
    gone = yard_client.get(page, {"board": Board.objects.get(tag="L7-2a").pk})
    assert "not in stock any more" in gone.content.decode()
    for nonsense in ("77777", "9" * 30):
        assert yard_client.post(page, {"board": nonsense, "from_mm": "1"}).status_code == 422
    assert yard_client.get(page, {"board": "²"}).status_code == 404


def test_nothing_is_allotted_to_what_was_withdrawn(yard_client, page, spec, deep_log):
    withdraw_specification(spec=spec, on=DAY, reason="it will do")
    answer = yard_client.post(page, sent("L7-2a", "1 ft", "4 ft"))
    assert answer.status_code == 422
    assert "This specification was withdrawn" in answer.content.decode()


def test_cutting_and_fitting_are_recorded_with_the_day_and_by_whom(
    yard_client, spec, deep_log, promise
):
    taken = promise(spec, "L7-2a", 0, 1200)
    cut = reverse("restoration:allotment_cut", args=[taken.pk])
    assert yard_client.post(cut, {"on": "2026-02-09", "by": "Wiebke"}).status_code == 302
    fitted = reverse("restoration:allotment_fitted", args=[taken.pk])
    early = yard_client.post(fitted, {"on": "2026-02-08", "by": "Ansgar"})
    assert early.status_code == 422
    assert "A piece is cut before it is fitted" in early.content.decode()
    assert 'value="2026-02-08"' in early.content.decode()
    yard_client.post(fitted, {"on": "2026-02-21", "by": "Ansgar"})
    taken.refresh_from_db()
    assert (taken.cut_by, taken.fitted_on, taken.fitted_by) == (
        "Wiebke",
        date(2026, 2, 21),
        "Ansgar",
    )


def test_a_day_still_to_come_and_nobody_are_refused(yard_client, spec, deep_log, promise):
    taken = promise(spec, "L7-2a", 0, 1200)
    cut = reverse("restoration:allotment_cut", args=[taken.pk])
    answer = yard_client.post(cut, {"on": "2299-01-01", "by": ""})
    assert answer.status_code == 422
    assert set(answer.context["opened"]["form"].errors) == {"on", "by"}
    taken.refresh_from_db()
    assert taken.cut_on is None


def test_an_allotment_is_withdrawn_with_a_reason_and_stays_to_be_read(
    yard_client, spec, deep_log, promise
):
    taken = promise(spec, "L7-2a", 0, 1200)
    where = reverse("restoration:allotment_withdraw", args=[taken.pk])
    told = {"on": "2026-02-09", "reason": "a shake at the butt"}
    assert yard_client.post(where, told, follow=True).status_code == 200
    text = yard_client.get(spec.get_absolute_url()).content.decode()
    assert "No timber is allotted yet" in text
    assert "a shake at the butt" in text
    again = yard_client.post(where, told)
    assert again.status_code == 422


def test_htmx_swaps_only_the_timber_of_the_page(yard_client, spec, deep_log, promise):
    taken = promise(spec, "L7-2a", 0, 1200)
    cut = reverse("restoration:allotment_cut", args=[taken.pk])
    opened = yard_client.get(cut, headers=HTMX).content.decode()
    assert opened.lstrip().startswith('<section id="standing">')
    assert 'name="by"' in opened
    refused = yard_client.post(cut, {"on": "2026-02-09", "by": ""}, headers=HTMX)
    assert refused.status_code == 422
    assert refused.content.decode().lstrip().startswith('<section id="standing">')
    done = yard_client.post(cut, {"on": "2026-02-09", "by": "Wiebke"}, headers=HTMX)
    assert done.status_code == 200
    assert "Cut 9 February 2026 by Wiebke" in done.content.decode()
    # Without htmx the same address is the whole page with the same form in it.
    whole = yard_client.get(reverse("restoration:allotment_fitted", args=[taken.pk]))
    assert "<!doctype html>" in whole.content.decode()
    assert 'name="by"' in whole.content.decode()


def test_a_surveyor_reads_the_page_and_is_offered_none_of_the_yards_steps(
    client, people, spec, deep_log, promise
):
    promise(spec, "L7-2a", 0, 1200)
    client.force_login(people["surveyor"])
    text = client.get(spec.get_absolute_url()).content.decode()
    assert "Record the cutting" not in text
    assert "Allot another length" not in text
    assert client.get(reverse("restoration:allot", args=[spec.pk])).status_code == 403


def test_once_it_is_all_fitted_no_other_length_is_offered_but_one_may_still_be_allotted(
    yard_client, page, spec, deep_log, promise
):
    taken = promise(spec, "L7-2a", 0, 1200)
    taken.cut_on, taken.cut_by = date(2026, 2, 9), "Wiebke"
    taken.save()
    text = yard_client.get(spec.get_absolute_url()).content.decode()
    assert "Allot another length" in text
    assert "Lay it out on a board" in text
    taken.fitted_on, taken.fitted_by = date(2026, 3, 2), "Wiebke"
    taken.save()
    text = yard_client.get(spec.get_absolute_url()).content.decode()
    assert "Allot another length" not in text
    assert "Lay it out on a board" not in text
    assert yard_client.get(page).status_code == 200


def test_the_page_of_boards_asks_no_more_of_the_database_for_many_than_for_few(
    yard_client, page, spec, survey, make_spec, deep_log, promise, woods
):
    def queries(path):
        with CaptureQueriesContext(connection) as asked:
            yard_client.get(path, {"tag": ""})
        return len(asked)

    promise(make_spec(survey, "F0"), "L7-1", 0, 300)
    promise(spec, "L7-1", 300, 400)
    few, few_here = queries(page), queries(spec.get_absolute_url())
    supplier = Board.objects.get(tag="L7-1").log.supplier
    for n in range(12):
        Board.objects.create(
            tag=f"W-{n}", species=woods["oak_white"], supplier=supplier, thickness_mm=80,
            width_mm=200 + n, length_mm=3000,
        )  # fmt: skip
        promise(make_spec(survey, f"FR{n + 1}"), f"W-{n}", 0, 300)
        promise(spec, f"W-{n}", 300, 400)
    assert (queries(page), queries(spec.get_absolute_url())) == (few, few_here)


@pytest.mark.django_db(transaction=True)
def test_of_two_who_send_the_same_length_at_once_one_reads_that_the_other_was_quicker(
    people, survey, make_spec, deep_log
):
    pages = [reverse("restoration:allot", args=[make_spec(survey, m).pk]) for m in ("F1", "F2")]
    data, start, outcomes = sent("L7-2a", "1 ft", "5 ft"), threading.Barrier(2), []

    def send(page):
        try:
            browser = Client()
            browser.force_login(people["yard"])
            start.wait(timeout=60)
            answer = browser.post(page, data)
            told = "promised already" in answer.content.decode()
            outcomes.append((answer.status_code, told))
        finally:
            connection.close()

    threads = [threading.Thread(target=send, args=(page,)) for page in pages]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert sorted(outcomes) == [(302, False), (422, True)]
    assert Allotment.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_a_specification_is_not_withdrawn_while_timber_is_being_allotted_to_it(
    people, spec, deep_log
):
    """Whoever is quicker, no timber ends up allotted to what was withdrawn."""
    from django.core.exceptions import ValidationError

    from restoration.actions.allotments import allot_board

    board, start = Board.objects.get(tag="L7-2a").pk, threading.Barrier(2)

    def quietly(action, **what):
        try:
            start.wait(timeout=60)
            action(**what)
        except ValidationError:
            pass
        finally:
            connection.close()

    allotting = {
        "spec": spec, "board_id": board, "from_mm": 0, "to_mm": 900, "by": people["yard"], "on": DAY
    }  # fmt: skip
    withdrawing = {"spec": spec, "on": DAY, "reason": "it will do"}
    threads = [
        threading.Thread(target=quietly, args=(allot_board,), kwargs=allotting),
        threading.Thread(target=quietly, args=(withdraw_specification,), kwargs=withdrawing),
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    spec.refresh_from_db()
    assert (spec.withdrawn_on is None) == Allotment.objects.standing().exists()


def test_what_was_cut_is_not_withdrawn_nor_cut_twice(yard_client, spec, deep_log, promise):
    taken = promise(spec, "L7-2a", 0, 1200)
    record_cut(allotment=taken, on=DAY, by="Wiebke")
    again = yard_client.post(
        reverse("restoration:allotment_cut", args=[taken.pk]), {"on": "2026-02-10", "by": "A"}
    )
    assert "This piece was cut on 9 February 2026 already." in again.content.decode()
    back = yard_client.post(
        reverse("restoration:allotment_withdraw", args=[taken.pk]),
        {"on": "2026-02-10", "reason": "regret"},
    )
    assert back.status_code == 422
    assert "cannot be withdrawn" in back.content.decode()


def test_a_length_shorter_than_the_piece_is_said_to_be_short(yard_client, page, spec, deep_log):
    """Asked for: 1100 mm, which is 3 ft 7 5/16 in."""
    yard_client.post(page, sent("L7-2b1", "0", "1099 mm"))
    short = "Shorter than the 3 ft 7 5/16 in asked for"
    assert short in yard_client.get(spec.get_absolute_url()).content.decode()
    Allotment.objects.update(to_mm=1100)
    assert short not in yard_client.get(spec.get_absolute_url()).content.decode()


def test_recording_a_fitting_shows_the_whole_page_for_the_nuts_to_see_to_are_on_it(
    yard_client, page, spec, deep_log
):
    yard_client.post(page, sent("L7-2b1", "0", "1100 mm"))
    allotment = Allotment.objects.get()
    record_cut(allotment=allotment, on=DAY, by="Ansgar Wedderlie")
    to = reverse("restoration:allotment_fitted", args=[allotment.pk])
    assert f'hx-post="{to}"' not in yard_client.get(to, headers=HTMX).content.decode()
    done = {"on": "2026-02-10", "by": "Ansgar Wedderlie"}
    html = yard_client.post(to, done, follow=True).content.decode()
    assert "Nuts to see to" in html
