"""A neighbour of what is out waits: on the board, on its page and wherever work is recorded."""

from datetime import date
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone

from restoration.actions.allotments import record_cut
from restoration.actions.out_now import track_now, with_holds
from restoration.actions.replacement import withdraw_specification
from restoration.actions.turns import keep_turn
from restoration.actions.waiting import set_wait
from restoration.actions.work import fit_length, reach_stage, take_back_hours, take_back_stage
from restoration.models import ReplacementSpec, Turn, TurnMember, TurnRule, WorkOrder, WorkStep
from restoration.models.work_track import for_tracks, track

OUT, LATER, LAST = date(2026, 2, 5), date(2026, 2, 9), date(2026, 2, 16)
BOARD = "/yard-board/"
WHY = "the hull is shored from F11 to F14"


@pytest.fixture
def make_floor(survey, make_spec):
    """A floor timber with its station, so that the next one is its neighbour."""

    def make(number, station):
        spec = make_spec(survey, f"F{number}")
        member = spec.finding.member
        member.number, member.station_from, member.side = number, station, "C"
        member.save()
        return spec

    return make


@pytest.fixture
def floors(make_floor):
    """F12, F13 and F14 stand next to each other; F20 stands far away."""
    return {number: make_floor(number, at) for number, at in ((12, 4), (13, 5), (14, 6), (20, 13))}


@pytest.fixture
def reach(people):
    def make(spec, stage, on=OUT, **more):
        return reach_stage(
            spec_id=spec.pk, stage=stage, on=on, by="Bram Oddy", recorded_by=people["yard"], **more
        )

    return make


@pytest.fixture
def timbered(floors, deep_log, promise):
    """F13 with its timber cut and shaped."""
    allotment = promise(floors[13], "L7-2a", 150, 1300)
    record_cut(allotment=allotment, on=OUT, by="Wiebke")
    return floors[13]


@pytest.fixture
def order(vessel, people, floors):
    """F12 and F20 in the first turn, F13 in the second, F14 in the third."""
    accepted = {"made_by": people["yard"], "accepted_by": people["yard"], "accepted_on": OUT}
    order = WorkOrder.objects.create(vessel=vessel, state="accepted", **accepted)
    for number, marks in ((1, (12, 20)), (2, (13,)), (3, (14,))):
        turn = Turn.objects.create(order=order, number=number)
        for mark in marks:
            TurnMember.objects.create(order=order, turn=turn, member=floors[mark].finding.member)
    return order


def held(spec):
    return [each.by.mark for each in track_now(spec.pk).held]


def test_a_neighbour_of_what_is_taken_out_waits_until_that_is_fastened(floors, reach, people):
    assert held(floors[13]) == []
    reach(floors[12], "taken_out")
    assert [held(floors[n]) for n in (12, 13, 14, 20)] == [[], ["F12"], [], []]
    assert track_now(floors[12].pk).is_out
    WorkStep.objects.create(
        spec=floors[12], stage="fastened", done=True, on=LAST, by="B", recorded_by=people["yard"]
    )
    assert held(floors[13]) == []
    assert not track_now(floors[12].pk).is_out


def test_a_new_piece_loose_in_its_place_means_that_the_old_one_is_out(timbered, floors, reach):
    reach(timbered, "shaped")
    assert held(floors[12]) == []
    reach(timbered, "dry_fitted", LATER)
    assert held(floors[12]) == held(floors[14]) == ["F13"]
    take_back_stage(spec_id=timbered.pk, stage="dry_fitted", by=timbered.specified_by, on=LATER)
    assert held(floors[12]) == []


def test_taking_out_the_neighbour_is_refused_without_a_reason_and_kept_with_one(floors, reach):
    reach(floors[12], "taken_out")
    with pytest.raises(ValidationError) as refused:
        reach(floors[13], "taken_out", LATER)
    said = " ".join(refused.value.messages)
    assert "TEN-F13 is not to come out before F12 is back: it is out, and a neighbour" in said
    assert "say why it is done all the same" in said
    assert not WorkStep.objects.filter(spec=floors[13]).exists()
    reach(floors[13], "taken_out", LATER, override_reason=f" {WHY} ")
    assert WorkStep.objects.get(spec=floors[13]).override_reason == WHY
    now = track_now(floors[13].pk)
    assert (now.is_out, now.held, [each.by.mark for each in now.out_beside]) == (True, (), ["F12"])


def test_a_reason_where_none_is_wanted_is_not_kept(floors, reach):
    reach(floors[12], "taken_out", override_reason=WHY)
    assert WorkStep.objects.get().override_reason == ""


def test_its_timber_may_be_sawn_and_shaped_while_the_neighbour_is_out(timbered, floors, reach):
    reach(floors[12], "taken_out")
    reach(timbered, "shaped")
    with pytest.raises(ValidationError, match="before F12 is back"):
        reach(timbered, "dry_fitted", LATER)
    with pytest.raises(ValidationError, match="before F12 is back"):
        reach(timbered, "fitted", LATER, passing_over=True)
    reach(timbered, "fitted", LATER, passing_over=True, override_reason=WHY)
    step = WorkStep.objects.get(spec=timbered, stage="fitted")
    assert (step.override_reason, step.done, step.hours) == (WHY, False, None)
    with pytest.raises(ValidationError, match="belongs to its stage"):
        take_back_hours(step=step, by=timbered.specified_by, on=LAST)


def test_a_length_is_fitted_from_the_specification_by_the_same_rule(timbered, floors, people):
    set_wait(spec_id=timbered.pk, after=floors[20], by=people["yard"])
    told = {"on": LATER, "by": "Bram", "recorded_by": people["yard"]}
    with pytest.raises(ValidationError, match="waits until F20 is fastened"):
        fit_length(allotment=timbered.allotments.get(), **told)
    timbered.waits.all().delete()
    reach_stage(
        spec_id=floors[12].pk, stage="taken_out", on=OUT, by="B", recorded_by=people["yard"]
    )
    with pytest.raises(ValidationError, match="before F12 is back"):
        fit_length(allotment=timbered.allotments.get(), **told)
    fit_length(allotment=timbered.allotments.get(), override_reason=WHY, **told)
    assert timbered.allotments.get().fitted_on == LATER
    assert timbered.work_steps.get(stage="fitted").override_reason == WHY


def test_the_old_one_is_out_no_later_than_the_new_one_is_in_its_place(timbered, reach):
    reach(timbered, "taken_out", LATER)
    with pytest.raises(ValidationError, match="“Taken out” is recorded for 9 February 2026"):
        reach(timbered, "dry_fitted", OUT, passing_over=True)
    reach(timbered, "shaped", OUT)  # the timber may be worked before that
    reach(timbered, "dry_fitted", LAST)
    with pytest.raises(ValidationError, match="TEN-F13 is dry fitted: the old one was out before"):
        take_back_stage(spec_id=timbered.pk, stage="taken_out", by=timbered.specified_by, on=LAST)


def test_that_it_was_taken_out_is_taken_back(floors, reach):
    with pytest.raises(ValidationError, match="not recorded as taken out"):
        take_back_stage(
            spec_id=floors[12].pk, stage="taken_out", by=floors[12].specified_by, on=OUT
        )
    reach(floors[12], "taken_out", hours=Decimal("2.5"))
    with pytest.raises(ValidationError, match="taken out already"):
        reach(floors[12], "taken_out")
    take_back_stage(spec_id=floors[12].pk, stage="taken_out", by=floors[12].specified_by, on=OUT)
    assert held(floors[13]) == []
    assert track_now(floors[12].pk).hours == 0


def test_a_specification_is_not_withdrawn_while_its_member_is_out(floors, reach):
    reach(floors[12], "taken_out")
    with pytest.raises(ValidationError, match="F12 is recorded as taken out for it"):
        withdraw_specification(spec=floors[12], on=LATER, reason="another wood")


def test_a_turn_that_is_begun_has_its_members_out(order, floors):
    assert held(floors[13]) == []
    first = order.turns.get(number=1)
    keep_turn(turn=first, note="", begun_on=OUT)
    assert [held(floors[n]) for n in (12, 13, 14, 20)] == [[], ["F12"], [], []]
    keep_turn(turn=first, note="", begun_on=OUT, done_on=LATER)
    assert held(floors[13]) == []


def test_what_is_fastened_is_back_though_its_turn_is_not_done(order, floors, people):
    keep_turn(turn=order.turns.get(number=1), note="", begun_on=OUT)
    WorkStep.objects.create(
        spec=floors[12], stage="fastened", done=True, on=LAST, by="B", recorded_by=people["yard"]
    )
    assert held(floors[13]) == []


def test_a_turn_is_not_done_while_a_new_piece_of_it_stands_loose(order, floors, reach):
    first = order.turns.get(number=1)
    keep_turn(turn=first, note="", begun_on=OUT)
    reach(floors[12], "taken_out")
    with pytest.raises(ValidationError, match="F12 is out: its replacement is not fastened"):
        keep_turn(turn=first, note="", begun_on=OUT, done_on=LATER)


def test_what_the_shipwright_says_of_neighbours_holds_here_too(order, floors, reach, people):
    twelve, thirteen, twenty = (floors[n].finding.member for n in (12, 13, 20))
    by = {"order": order, "made_by": people["yard"]}
    TurnRule.objects.create(kind="not_near", one=twelve, other=thirteen, **by)
    TurnRule.objects.create(kind="near", one=thirteen, other=twenty, **by)
    reach(floors[12], "taken_out")
    assert held(floors[13]) == []
    reach(floors[20], "taken_out")
    assert held(floors[13]) == ["F20"]


def test_never_more_are_out_than_the_order_allows(order, floors, reach):
    WorkOrder.objects.update(most_out=1)
    reach(floors[20], "taken_out")
    (only,) = track_now(floors[12].pk).held
    assert (only.by, only.why[:8]) == (None, "1 is out")
    with pytest.raises(ValidationError, match="not to come out now: 1 is out"):
        reach(floors[12], "taken_out")


def test_another_vessel_is_not_held_by_this_one(
    floors, reach, make_spec, other_vessel, survey, people
):
    from restoration.models import Survey

    values = {f.attname: getattr(survey, f.attname) for f in Survey._meta.concrete_fields[1:]}
    elsewhere = Survey.objects.create(**values | {"vessel_id": other_vessel.pk})
    other = make_spec(elsewhere, "F13")
    reach(floors[12], "taken_out")
    assert held(other) == []


def test_the_board_and_the_page_tell_it_with_a_link_and_ask_for_the_reason(
    client, people, timbered, floors, reach
):
    client.force_login(people["yard"])
    page = reverse("restoration:work", args=[timbered.pk])
    assert "Why all the same" not in client.get(page).content.decode()
    reach(timbered, "shaped")
    reach(floors[12], "taken_out")
    board = client.get(BOARD)
    assert [each.full_mark for each in board.context["board"].waiting] == ["TEN-F13"]
    assert "TEN-F13" not in [t.track.full_mark for t in board.context["board"].next]
    told = board.content.decode()
    other = reverse("restoration:work", args=[floors[12].pk])
    link = f'until <a class="mark-no" href="{other}">F12</a> is back (it is out, and a neighbour'
    assert f"waits {link}" in told
    assert "Dry fitted today" not in told
    assert f"Taking it out waits {link}" in client.get(page).content.decode()
    typed = {
        "stage": "taken_out", "done": "on", "on": OUT, "by": "Bram", "override_reason": "",
    }  # fmt: skip
    to = reverse("restoration:work_record", args=[timbered.pk])
    refused = client.post(to, typed)
    assert refused.status_code == 422
    assert "before F12 is back" in refused.content.decode()
    assert client.post(to, typed | {"override_reason": WHY}).status_code == 302
    kept = client.get(page).content.decode()
    assert f"all the same: {WHY}" in kept
    assert "Neighbours out at once let the hull move" in kept


def test_the_page_of_the_specification_asks_for_the_reason_too(
    client, people, timbered, floors, reach
):
    client.force_login(people["yard"])
    reach(floors[12], "taken_out")
    to = reverse("restoration:allotment_fitted", args=[timbered.allotments.get().pk])
    assert "Why all the same" in client.get(to).content.decode()
    typed = {"on": timezone.localdate(), "by": "Bram", "override_reason": ""}
    refused = client.post(to, typed)
    assert refused.status_code == 422
    assert "before F12 is back" in refused.content.decode()
    assert client.post(to, typed | {"override_reason": WHY}).status_code == 302


def test_reading_who_is_out_asks_no_more_of_a_longer_hull(
    floors, make_floor, reach, django_assert_max_num_queries
):
    reach(floors[12], "taken_out")

    def read(most):
        tracks = [track(spec) for spec in for_tracks(ReplacementSpec.objects.open())]
        with django_assert_max_num_queries(most):
            return with_holds(tracks)

    assert sum(bool(each.held) for each in read(5)) == 1
    for number in range(30, 50):
        make_floor(number, number * 2)
    reach(ReplacementSpec.objects.get(finding__member__mark="F30"), "taken_out")
    assert sum(bool(each.held) for each in read(5)) == 2


def test_a_turn_is_not_begun_beside_what_is_out_of_its_own_accord(order, floors, reach):
    for number in (1, 2):
        keep_turn(turn=order.turns.get(number=number), note="", begun_on=OUT, done_on=OUT)
    reach(floors[13], "taken_out", LATER)
    third = order.turns.get(number=3)
    with pytest.raises(ValidationError, match="F13 is out, its replacement not fastened yet, and"):
        keep_turn(turn=third, note="", begun_on=LATER)
    take_back_stage(spec_id=floors[13].pk, stage="taken_out", by=order.made_by, on=LATER)
    assert keep_turn(turn=third, note="", begun_on=LATER).begun_on == LATER


def test_the_order_of_work_and_the_board_say_who_is_out_now(client, people, order, floors, reach):
    client.force_login(people["yard"])
    page = client.get(order.get_absolute_url())
    assert "nobody, as far as is recorded" in page.content.decode()
    keep_turn(turn=order.turns.get(number=1), note="", begun_on=OUT)
    reach(floors[14], "taken_out", LATER)
    page = client.get(order.get_absolute_url())
    assert [member.mark for member in page.context["out_now"]] == ["F12", "F14", "F20"]
    board = client.get(BOARD).content.decode()
    assert "the old one is out since 9 February 2026" in board
    assert board.count("the old one is out") == 3


@pytest.mark.parametrize("day", ["0026-02-05", "0001-01-01"])
def test_a_year_of_two_figures_is_no_day_to_begin_a_turn(client, people, order, day):
    client.force_login(people["yard"])
    turn = order.turns.get(number=1)
    to = reverse("restoration:turn_edit", args=[turn.pk])
    answer = client.post(to, {"note": "", "begun_on": day, "done_on": ""})
    assert answer.status_code == 422
    assert "Write the year in full" in answer.content.decode()


def test_a_day_wanted_in_the_year_9999_is_asked_about(client, people, floors):
    client.force_login(people["yard"])
    to = reverse("restoration:work_plan", args=[floors[12].pk])
    answer = client.post(to, {"person": "", "wanted_on": "9999-12-31"})
    assert answer.status_code == 422
    assert "Is the year right?" in answer.content.decode()
