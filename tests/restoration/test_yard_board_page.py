"""The yard board and the page of the work on one replacement."""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from restoration.actions.waiting import set_wait
from restoration.actions.work import plan_work
from restoration.models import Member, User, WorkStep, WorkWait
from restoration.models.work_track import track_of
from restoration.reports.yard_board import MOST_SHOWN
from timber_stock.models import Board

HTMX = {"HX-Request": "true"}
BOARD = "/yard-board/"
DAY = date(2026, 2, 9)


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def spec(survey, make_spec):
    return make_spec(survey, "F12")


@pytest.fixture
def timbered(spec, deep_log, promise):
    promise(spec, "L7-2a", 150, 1300)
    return spec


def to(name, spec):
    return reverse(f"restoration:{name}", args=[spec.pk])


def tap(stage, **more):
    return {"stage": stage, "on": "2026-02-09", "by": "Bram Oddy"} | more


def column(answer, key):
    columns = {each.key: each for each in answer.context["board"].columns}
    return [each.full_mark for each in columns[key].tracks]


def test_each_replacement_stands_under_its_stage_with_the_day_and_by_whom(
    yard_client, timbered, survey, make_spec
):
    make_spec(survey, "F13")
    answer = yard_client.get(BOARD)
    assert column(answer, "specified") == ["TEN-F13"]
    assert column(answer, "found") == ["TEN-F12"]
    text = answer.content.decode()
    assert "3 February 2026" in text
    assert "Sawn today" in text
    assert reverse("restoration:allot", args=[timbered.pk + 1]) in text


def test_one_tap_moves_it_on_and_one_more_takes_it_back(yard_client, timbered):
    moved = yard_client.post(to("work_reach", timbered), tap("sawn"), headers=HTMX)
    assert moved.content.decode().lstrip().startswith('<div id="board">')
    assert "TEN-F12 is sawn." in moved.content.decode()
    assert column(moved, "sawn") == ["TEN-F12"]
    assert timbered.allotments.get().cut_by == "Bram Oddy"
    back = {"stage": "sawn", "from": "board"}
    undone = yard_client.post(to("work_take_back", timbered), back, headers=HTMX)
    assert column(undone, "found") == ["TEN-F12"]
    assert timbered.allotments.get().cut_on is None


def test_without_javascript_the_same_tap_comes_back_to_the_board_as_it_was_narrowed(
    yard_client, timbered, vessel
):
    answer = yard_client.post(to("work_reach", timbered), tap("sawn", vessel=vessel.pk))
    assert answer.url == f"{BOARD}?vessel={vessel.pk}"
    assert "TEN-F12 is sawn." in yard_client.get(answer.url).content.decode()


def test_a_tap_that_comes_too_late_says_so_and_changes_nothing(yard_client, timbered):
    yard_client.post(to("work_reach", timbered), tap("sawn"))
    again = yard_client.post(to("work_reach", timbered), tap("sawn"), headers=HTMX)
    assert again.status_code == 422
    assert "TEN-F12 is sawn already." in again.content.decode()
    nonsense = yard_client.post(to("work_reach", timbered), tap("varnished"), headers=HTMX)
    assert nonsense.status_code == 422
    future = yard_client.post(
        to("work_reach", timbered), tap("shaped", on="2399-01-01"), headers=HTMX
    )
    assert "still to come" in future.content.decode()
    assert track_of(timbered.pk).here.key == "sawn"
    assert yard_client.post(to("work_take_back", timbered), {"stage": "x"}).status_code == 404


def test_the_board_of_one_vessel_and_of_one_person(
    yard_client, timbered, survey, make_spec, other_vessel, people
):
    from restoration.models import Survey

    there = Survey.objects.create(
        vessel=other_vessel, surveyed_on=DAY, surveyor_name="P", recorded_by=people["surveyor"]
    )
    make_spec(there, "F1")
    wright = User.objects.create_user("bram", first_name="Bram", last_name="Oddy", role="yard")
    plan_work(spec_id=timbered.pk, person=wright, wanted_on=None)
    one = yard_client.get(BOARD, {"vessel": other_vessel.pk})
    assert (column(one, "specified"), column(one, "found")) == (["KIT-F1"], [])
    mine = yard_client.get(BOARD, {"person": wright.pk})
    assert [thing.track.full_mark for thing in mine.context["board"].next] == ["TEN-F12"]
    nobody = yard_client.get(BOARD, {"person": people["yard"].pk})
    assert "that is given to wright" in nobody.content.decode()
    assert yard_client.get(BOARD, {"vessel": "nonsense"}).status_code == 200


def test_what_is_wanted_by_a_day_that_is_past_comes_first_then_the_more_urgent(
    yard_client, timbered, survey, make_spec, people
):
    late, later = make_spec(survey, "F13"), make_spec(survey, "F14")
    calm = make_spec(survey, "F15")
    calm.finding.__class__.objects.filter(pk=calm.finding_id).update(urgency=1)
    today = timezone.localdate()
    plan_work(spec_id=late.pk, person=None, wanted_on=today - timedelta(days=3))
    plan_work(spec_id=later.pk, person=None, wanted_on=today + timedelta(days=9))
    page = yard_client.get(BOARD)
    things = page.context["board"].next
    assert [thing.why.partition(" by")[0] for thing in things[:2]] == ["late, wanted", "wanted"]
    assert page.content.decode().count("<b>late</b>") == 1
    order = [(thing.do, thing.track.member.mark) for thing in things]
    assert order == [
        ("find timber for", "F13"), ("find timber for", "F14"), ("saw", "F12"),
        ("find timber for", "F15"),
    ]  # fmt: skip


def test_its_turn_in_the_order_of_work_goes_before_urgency_and_is_told(
    yard_client, timbered, survey, make_spec, vessel, people
):
    from restoration.models.turn import Turn, TurnMember, WorkOrder

    second = make_spec(survey, "F13")
    told = {"made_by": people["yard"], "accepted_by": people["yard"], "accepted_on": DAY}
    order = WorkOrder.objects.create(vessel=vessel, state="accepted", **told)
    WorkOrder.objects.create(vessel=vessel, made_by=people["yard"])
    for number, spec in ((1, second), (2, timbered)):
        turn = Turn.objects.create(order=order, number=number)
        TurnMember.objects.create(order=order, turn=turn, member=spec.finding.member)
    answer = yard_client.get(BOARD)
    things = answer.context["board"].next
    assert [(t.track.member.mark, t.why) for t in things] == [
        ("F13", "turn 1, urgency 3"),
        ("F12", "turn 2, urgency 3"),
    ]
    page = reverse("restoration:turn", args=[order.pk, 2])
    assert f'<a href="{page}">turn 2</a>' in answer.content.decode()
    assert page in yard_client.get(to("work", timbered)).content.decode()


def test_what_waits_is_told_with_what_it_waits_for_and_is_not_to_be_done_next(
    yard_client, timbered, survey, make_spec, people
):
    other = make_spec(survey, "F13")
    set_wait(spec_id=timbered.pk, after=other, note="neighbours", by=people["yard"])
    for stage in ("sawn", "shaped"):
        yard_client.post(to("work_reach", timbered), tap(stage))
    answer = yard_client.get(BOARD)
    assert [each.full_mark for each in answer.context["board"].waiting] == ["TEN-F12"]
    assert "TEN-F12" not in [t.track.full_mark for t in answer.context["board"].next]
    assert "Dry fitted today" not in answer.content.decode()
    early = yard_client.post(to("work_reach", timbered), tap("dry_fitted"), headers=HTMX)
    assert "TEN-F12 waits until F13 is fastened" in early.content.decode()


def test_work_is_recorded_with_its_hours_and_refused_work_keeps_what_was_typed(
    yard_client, timbered
):
    page = yard_client.get(to("work", timbered))
    assert page.context["work_form"]["stage"].value() == "sawn"
    assert "Its <b>timber is found</b>; next: <b>saw</b> it." in page.content.decode()
    told = tap("sawn", done="on", hours="2.25", note="rip saw")
    assert yard_client.post(to("work_record", timbered), told).url == to("work", timbered)
    text = yard_client.get(to("work", timbered)).content.decode()
    assert "2.25 hours so far" in text
    assert "rip saw" in text
    early = yard_client.post(
        to("work_record", timbered), tap("fitted", done="on", hours="3", note="keep this")
    )
    assert early.status_code == 422
    assert "Record that first, or say that it was passed over" in early.content.decode()
    assert 'value="keep this"' in early.content.decode()
    nothing = yard_client.post(to("work_record", timbered), tap("other"))
    assert nothing.context["work_form"].errors == {"hours": ["Say how many hours it took."]}
    less = yard_client.post(to("work_record", timbered), tap("other", hours="-1"))
    assert less.status_code == 422


def test_what_was_passed_over_at_the_fitting_is_not_asked_again_at_the_fastening(
    yard_client, timbered
):
    yard_client.post(to("work_reach", timbered), tap("sawn"))
    over = tap("fitted", done="on", passing_over="on")
    assert yard_client.post(to("work_record", timbered), over).status_code == 302
    assert "Fastened today" in yard_client.get(BOARD).content.decode()
    answer = yard_client.post(to("work_reach", timbered), tap("fastened"), follow=True)
    assert answer.status_code == 200
    assert track_of(timbered.pk).here.key == "fastened"


def test_hours_alone_finish_no_stage_and_can_be_taken_back(yard_client, timbered):
    yard_client.post(to("work_record", timbered), tap("sawn", hours="4"))
    assert track_of(timbered.pk).here.key == "found"
    step = WorkStep.objects.get()
    back = reverse("restoration:work_hours_take_back", args=[step.pk])
    assert yard_client.post(back).url == to("work", timbered)
    assert track_of(timbered.pk).hours == 0
    again = yard_client.post(back, follow=True)
    assert "taken back already" in again.content.decode()


def test_a_circle_of_waits_is_refused_on_the_page_and_nothing_is_lost(
    yard_client, timbered, survey, make_spec, people
):
    other = make_spec(survey, "F13")
    set_wait(spec_id=other.pk, after=timbered, by=people["yard"])
    answer = yard_client.post(
        to("work_wait_new", timbered), {"after": other.pk, "note": "shores"}, headers=HTMX
    )
    assert answer.status_code == 422
    text = answer.content.decode()
    assert "F12 would wait for itself: F12 after F13 after F12." in text
    assert 'value="shores"' in text
    both = yard_client.post(to("work_wait_new", timbered), {})
    assert "Say one thing that it waits for" in both.content.decode()
    assert WorkWait.objects.count() == 1


def test_a_wait_is_set_down_and_declared_over(yard_client, timbered, vessel):
    keel = Member.objects.create(vessel=vessel, kind="keel", mark="K1")
    yard_client.post(to("work_wait_new", timbered), {"member_out": keel.pk})
    wait = WorkWait.objects.get()
    assert "is out" in yard_client.get(to("work", timbered)).content.decode()
    yard_client.post(reverse("restoration:work_wait_over", args=[wait.pk]))
    wait.refresh_from_db()
    assert (wait.over_on, wait.over_by) == (timezone.localdate(), "wright")


def test_the_next_step_is_given_on_the_page(yard_client, timbered, people):
    told = {"person": people["surveyor"].pk, "wanted_on": "2026-12-04"}
    assert yard_client.post(to("work_plan", timbered), told).status_code == 302
    assert "by 4 December" in yard_client.get(BOARD).content.decode()
    client_of_the_yard = {"person": people["client"].pk}
    assert yard_client.post(to("work_plan", timbered), client_of_the_yard).status_code == 422


def test_a_surveyor_reads_the_board_and_moves_nothing(client, people, timbered):
    client.force_login(people["surveyor"])
    text = client.get(BOARD).content.decode()
    assert "TEN-F12" in text
    assert "Sawn today" not in text
    assert "Record work" not in client.get(to("work", timbered)).content.decode()
    assert client.post(to("work_reach", timbered), tap("sawn")).status_code == 403


def test_a_long_column_is_folded_and_a_long_board_asks_the_database_no_more(
    yard_client, survey, make_spec, deep_log, promise, people
):
    def queries():
        with CaptureQueriesContext(connection) as asked:
            answer = yard_client.get(BOARD)
        return len(asked), answer

    first = make_spec(survey, "F0", length_mm=90)
    promise(first, "L7-1", 0, 100)
    set_wait(spec_id=first.pk, after=make_spec(survey, "FX"), by=people["yard"])
    plan_work(spec_id=first.pk, person=people["yard"], wanted_on=None)
    few, _ = queries()
    for n in range(MOST_SHOWN + 3):
        more = make_spec(survey, f"FR{n}", length_mm=80)
        promise(more, "L7-2a", 100 * n, 100 * n + 90)
        set_wait(spec_id=more.pk, after=first, by=people["yard"])
        plan_work(spec_id=more.pk, person=people["yard"], wanted_on=DAY)
    many, answer = queries()
    assert many == few
    found = next(c for c in answer.context["board"].columns if c.key == "found")
    assert (len(found.shown), len(found.folded)) == (MOST_SHOWN, 4)
    assert "4 more" in answer.content.decode()


def test_what_is_finished_leaves_the_board_for_a_page_of_its_own(yard_client, timbered):
    for stage in ("sawn", "shaped", "dry_fitted", "fitted", "fastened"):
        yard_client.post(to("work_reach", timbered), tap(stage))
    assert column(yard_client.get(BOARD), "nuts") == ["TEN-F12"]
    timbered.allotments.get().retightenings.all().delete()
    gone = yard_client.get(BOARD)
    assert gone.context["board"].is_empty
    assert "1 finished" in gone.content.decode()
    told = tap("other", hours="1.5")
    yard_client.post(to("work_record", timbered), told)
    listed = yard_client.get(reverse("restoration:yard_board_finished"))
    assert [track.full_mark for track in listed.context["tracks"]] == ["TEN-F12"]


def test_an_empty_yard_says_what_to_do(yard_client):
    assert "as soon as it is" in yard_client.get(BOARD).content.decode()
    assert yard_client.get("/replacements/77777/stages/").status_code == 404
    assert Board.objects.count() == 0


def test_a_piece_that_waits_may_be_sawn_and_its_card_says_that_only_dry_fitting_waits(
    yard_client, timbered, survey, make_spec, people
):
    set_wait(spec_id=timbered.pk, after=make_spec(survey, "F13"), by=people["yard"])
    early = " ".join(yard_client.get(BOARD).content.decode().split())
    assert "dry fitting waits until <a" in early
    for stage in ("sawn", "shaped"):
        yard_client.post(to("work_reach", timbered), tap(stage))
    shaped = " ".join(yard_client.get(BOARD).content.decode().split())
    assert "waits until <a" in shaped
    assert "dry fitting waits" not in shaped


def test_the_next_step_is_wanted_by_no_day_that_is_past_unless_it_was_set_before(
    yard_client, timbered, people
):
    today = timezone.localdate()
    past, page = today - timedelta(days=3), to("work_plan", timbered)
    refused = yard_client.post(page, {"person": "", "wanted_on": past.isoformat()})
    assert refused.status_code == 422
    assert "That day is past" in refused.content.decode()
    plan_work(spec_id=timbered.pk, person=None, wanted_on=past)
    again = {"person": people["yard"].pk, "wanted_on": past.isoformat()}
    assert yard_client.post(page, again).status_code == 302
    nobody = yard_client.post(page, {"person": "", "wanted_on": today.isoformat()}, headers=HTMX)
    assert "The next step is nobody&#x27;s yet." in nobody.content.decode()


def test_a_wait_that_is_over_already_is_not_said_to_be_over_a_second_time(
    yard_client, timbered, vessel
):
    keel = Member.objects.create(vessel=vessel, kind="keel", mark="K1")
    yard_client.post(to("work_wait_new", timbered), {"member_out": keel.pk})
    over = reverse("restoration:work_wait_over", args=[WorkWait.objects.get().pk])
    yard_client.post(over, follow=True)
    twice = yard_client.post(over, follow=True).content.decode()
    assert "This wait is over already." in twice
    assert "need not wait for that any more" not in twice


def test_too_many_hours_are_refused_in_one_sentence(yard_client, timbered):
    answer = yard_client.post(to("work_record", timbered), tap("other", hours="1e9"))
    assert len(answer.context["work_form"].errors["hours"]) == 1
