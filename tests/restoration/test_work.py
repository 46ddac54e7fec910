"""The work on a replacement: stages, hours, waits; and one truth with what its timber says."""

from datetime import date
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from restoration.actions.allotments import record_cut, record_fitted
from restoration.actions.retightening import visit_made
from restoration.actions.waiting import end_wait, set_wait
from restoration.actions.work import (
    log_hours,
    plan_work,
    reach_stage,
    take_back_hours,
    take_back_stage,
)
from restoration.forms.work import WaitForm
from restoration.models import (
    Member,
    ReplacementSpec,
    RetightenTask,
    Survey,
    Vessel,
    WorkPlan,
    WorkStep,
)
from restoration.models.work_track import track_of

CUT, SHAPED, DRY, FITTED, FAST = (date(2026, 2, day) for day in (5, 9, 11, 14, 16))


@pytest.fixture
def spec(survey, make_spec):
    return make_spec(survey, "F12")


@pytest.fixture
def timbered(spec, deep_log, promise):
    promise(spec, "L7-2a", 150, 1300)
    return spec


@pytest.fixture
def reach(people):
    def make(spec, stage, on, hours=None, by="Bram Oddy", **more):
        return reach_stage(
            spec_id=spec.pk, stage=stage, on=on, by=by, recorded_by=people["yard"],
            hours=hours and Decimal(hours), **more,
        )  # fmt: skip

    return make


@pytest.fixture
def fastened(timbered, reach):
    for stage, on in (
        ("sawn", CUT), ("shaped", SHAPED), ("dry_fitted", DRY), ("fitted", FITTED),
        ("fastened", FAST),
    ):  # fmt: skip
        reach(timbered, stage, on)
    return timbered


def test_sawn_and_fitted_are_written_to_every_length_of_its_timber(timbered, promise, reach):
    promise(timbered, "L7-2b1", 0, 400)
    reach(timbered, "sawn", CUT, "1.5")
    lengths = list(timbered.allotments.values_list("cut_on", "cut_by"))
    assert lengths == [(CUT, "Bram Oddy")] * 2
    assert WorkStep.objects.get().done is False  # hours alone: the lengths say when
    now = track_of(timbered.pk)
    assert (now.here.key, now.next.key, now.hours) == ("sawn", "shaped", Decimal("1.5"))


def test_what_the_timber_page_records_is_what_the_yard_board_says(timbered):
    allotment = timbered.allotments.get()
    record_cut(allotment=allotment, on=CUT, by="Wiebke")
    assert track_of(timbered.pk).here.key == "sawn"
    record_fitted(allotment=allotment, on=FITTED, by="Wiebke")
    now = track_of(timbered.pk)
    assert (now.here.key, now.last.on, now.last.by) == ("fitted", FITTED, "Wiebke")
    assert {"shaped", "dry_fitted"}.isdisjoint(now.done)


def test_one_of_two_lengths_sawn_is_not_sawn(timbered, promise, reach):
    second = promise(timbered, "L7-2b1", 0, 400)
    record_cut(allotment=second, on=CUT, by="Wiebke")
    now = track_of(timbered.pk)
    assert (now.here.key, now.pieces_at_next, now.pieces) == ("found", 1, 2)
    reach(timbered, "sawn", SHAPED)
    assert [a.cut_on for a in timbered.allotments.order_by("cut_on")] == [CUT, SHAPED]


def test_a_stage_is_not_passed_over_in_silence(timbered, reach):
    reach(timbered, "sawn", CUT)
    with pytest.raises(ValidationError, match="not recorded as shaped"):
        reach(timbered, "dry_fitted", DRY)
    reach(timbered, "dry_fitted", DRY, passing_over=True)
    assert track_of(timbered.pk).here.key == "dry_fitted"
    reach(timbered, "shaped", SHAPED)  # told afterwards, and it stays where it is
    assert track_of(timbered.pk).here.key == "dry_fitted"


def test_nothing_is_fastened_that_is_not_fitted_nor_sawn_without_timber(spec, reach, request):
    with pytest.raises(ValidationError, match="TEN-F12 is not timber found yet"):
        reach(spec, "sawn", CUT)
    timbered = request.getfixturevalue("timbered")
    reach(timbered, "sawn", CUT)
    with pytest.raises(ValidationError, match="not fitted yet"):
        reach(timbered, "fastened", FAST, passing_over=True)


def test_a_stage_comes_on_no_day_before_the_one_it_follows(timbered, reach):
    reach(timbered, "sawn", SHAPED)
    with pytest.raises(ValidationError, match="“Sawn” is recorded for 9 February 2026"):
        reach(timbered, "shaped", CUT)
    reach(timbered, "shaped", FITTED)
    with pytest.raises(ValidationError, match="shaped already"):
        reach(timbered, "shaped", FITTED)


def test_the_last_stage_is_taken_back_and_an_earlier_one_is_not(timbered, reach, people):
    reach(timbered, "sawn", CUT, "2")
    reach(timbered, "shaped", SHAPED, "3")
    back = {"spec_id": timbered.pk, "by": people["yard"], "on": FAST}
    with pytest.raises(ValidationError, match="not what was recorded last"):
        take_back_stage(stage="sawn", **back)
    take_back_stage(stage="shaped", **back)
    now = track_of(timbered.pk)
    assert (now.here.key, now.hours) == ("sawn", Decimal(2))
    take_back_stage(stage="sawn", **back)
    allotment = timbered.allotments.get()
    assert (allotment.cut_on, allotment.cut_by) == (None, "")
    allotment.board.refresh_from_db()
    assert (allotment.board.cut_away_mm, allotment.board.held_for) == (0, "TEN-F12")
    with pytest.raises(ValidationError, match="withdraw it on the page"):
        take_back_stage(stage="found", **back)
    assert WorkStep.objects.filter(taken_back_by=people["yard"]).count() == 2


def test_a_fitting_taken_back_takes_its_visits_with_it_unless_one_was_made(timbered, reach, people):
    reach(timbered, "sawn", CUT)
    reach(timbered, "fitted", FITTED, passing_over=True)
    assert RetightenTask.objects.exists()
    back = {"spec_id": timbered.pk, "by": people["yard"], "on": FAST, "stage": "fitted"}
    take_back_stage(**back)
    assert not RetightenTask.objects.exists()
    reach(timbered, "fitted", FITTED, passing_over=True)
    visit_made(task=RetightenTask.objects.first(), on=FAST, by="Wiebke")
    with pytest.raises(ValidationError, match="Its nuts were seen to on 16 February 2026"):
        take_back_stage(**back)


def test_hours_of_each_replacement_are_added_up_and_those_taken_back_are_not(
    timbered, reach, people, survey, make_spec
):
    other = make_spec(survey, "F13")
    reach(timbered, "sawn", CUT, "1.25")
    told = {"on": CUT, "by": "Bram Oddy", "recorded_by": people["yard"]}
    log_hours(spec_id=timbered.pk, stage="other", hours=Decimal("3.5"), **told)
    wrong = log_hours(spec_id=timbered.pk, stage="shaped", hours=Decimal(40), **told)
    take_back_hours(step=wrong, by=people["yard"], on=SHAPED)
    worked = dict(ReplacementSpec.objects.with_hours().values_list("pk", "hours_worked"))
    assert worked == {timbered.pk: Decimal("4.75"), other.pk: None}
    with pytest.raises(ValidationError, match="taken back already"):
        take_back_hours(step=wrong, by=people["yard"], on=SHAPED)


@pytest.mark.parametrize("hours", ["-1", "1000"])
def test_hours_below_nought_and_beyond_all_sense_are_refused(timbered, reach, hours):
    with pytest.raises(ValidationError):
        reach(timbered, "sawn", CUT, hours)
    assert track_of(timbered.pk).here.key == "found"


def test_the_database_itself_keeps_a_stage_from_being_finished_twice(timbered, people):
    row = {"spec": timbered, "stage": "shaped", "on": CUT, "by": "x", "done": True}
    row["recorded_by"] = people["yard"]
    WorkStep.objects.create(**row)
    with pytest.raises(IntegrityError), transaction.atomic():
        WorkStep.objects.create(**row)
    with pytest.raises(IntegrityError), transaction.atomic():
        WorkStep.objects.create(**(row | {"stage": "sawn"}))


def test_a_replacement_waits_until_the_other_is_fastened(
    fastened, survey, make_spec, promise, reach, people
):
    waiting = make_spec(survey, "F13")
    promise(waiting, "L7-2b1", 0, 1200)
    take_back_stage(spec_id=fastened.pk, stage="fastened", by=people["yard"], on=FAST)
    set_wait(spec_id=waiting.pk, after=fastened, by=people["yard"])
    reach(waiting, "sawn", CUT)
    reach(waiting, "shaped", SHAPED)  # it may be sawn and shaped meanwhile
    with pytest.raises(ValidationError, match="TEN-F13 waits until F12 is fastened"):
        reach(waiting, "dry_fitted", DRY)
    assert track_of(waiting.pk).waits_now
    reach(fastened, "fastened", FAST)
    reach(waiting, "dry_fitted", DRY)
    assert not track_of(waiting.pk).waits


def test_a_member_that_must_be_out_is_declared_out_by_somebody(spec, survey, people):
    keel = Member.objects.create(vessel=survey.vessel, kind="keel", mark="K1")
    wait = set_wait(spec_id=spec.pk, member_out=keel, note="bolts", by=people["yard"])
    assert track_of(spec.pk).waits == (wait,)
    end_wait(wait=wait, on=CUT, by="Wiebke")
    assert track_of(spec.pk).waits == ()
    with pytest.raises(ValidationError, match="over already"):
        end_wait(wait=wait, on=CUT, by="Wiebke")


def test_a_replacement_that_would_wait_for_itself_is_refused_in_a_sentence(
    spec, survey, make_spec, people
):
    third, second = make_spec(survey, "F14"), make_spec(survey, "F13")
    by = people["yard"]
    set_wait(spec_id=second.pk, after=spec, by=by)
    with pytest.raises(ValidationError) as refused:
        set_wait(spec_id=spec.pk, after=second, by=by)
    assert refused.value.messages == ["F12 would wait for itself: F12 after F13 after F12."]
    set_wait(spec_id=third.pk, after=second, by=by)
    with pytest.raises(ValidationError, match="F12 after F14 after F13 after F12"):
        set_wait(spec_id=spec.pk, after=third, by=by)
    with pytest.raises(ValidationError, match="F12 would wait for itself: F12 after F12"):
        set_wait(spec_id=spec.pk, after=spec, by=by)
    with pytest.raises(ValidationError, match="waits for that one already"):
        set_wait(spec_id=second.pk, after=spec, by=by)


def test_nothing_waits_for_what_is_fastened_already_nor_does_that_wait(
    fastened, survey, make_spec, people
):
    other = make_spec(survey, "F13")
    for spec, after in ((other, fastened), (fastened, other)):
        with pytest.raises(ValidationError, match="F12 is fastened already"):
            set_wait(spec_id=spec.pk, after=after, by=people["yard"])
    offered = WaitForm(spec=other).fields["after"].queryset
    assert fastened not in offered
    take_back_stage(spec_id=fastened.pk, stage="fastened", by=people["yard"], on=FAST)
    assert fastened in offered.all()


def test_nothing_waits_for_work_on_another_vessel(spec, survey, owner, make_spec, people):
    other = Vessel.objects.create(code="KIT", name="Kittiwake", client=owner)
    there = Survey.objects.create(
        vessel=other, surveyed_on=CUT, surveyor_name="P", recorded_by=people["surveyor"]
    )
    with pytest.raises(ValidationError, match="same vessel"):
        set_wait(spec_id=spec.pk, after=make_spec(there, "F1"), by=people["yard"])


def test_the_next_step_is_given_to_somebody_and_to_nobody_again(spec, people):
    told = {"spec_id": spec.pk, "wanted_on": FAST}
    plan_work(person=people["yard"], **told)
    plan_work(person=people["surveyor"], **told)
    assert WorkPlan.objects.get().person == people["surveyor"]
    with pytest.raises(ValidationError, match="client"):
        plan_work(person=people["client"], **told)
    plan_work(spec_id=spec.pk, person=None, wanted_on=None)
    assert not WorkPlan.objects.exists()


def test_what_is_fastened_and_has_no_nuts_to_see_to_is_finished(fastened):
    assert ReplacementSpec.objects.on_the_way().get() == fastened  # visits still to make
    last = RetightenTask.objects.order_by("-due_on").first()
    visit_made(task=last, on=last.due_on, by="Wiebke")  # and with it those before it
    assert ReplacementSpec.objects.finished().get() == fastened
    assert not ReplacementSpec.objects.on_the_way().exists()
