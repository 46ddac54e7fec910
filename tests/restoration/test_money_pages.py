"""What was spent on each replacement, where a log's cost lies, and what the yard's past says."""

import math
from datetime import date
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from restoration.actions.allotments import record_cut, record_fitted
from restoration.actions.costs import enter_cost, take_back_cost
from restoration.actions.work import log_hours
from restoration.models import Cost, Survey, WorkStep, Yard
from restoration.reports.gather_money import spec_money, vessel_money
from timber_stock.models import Board, Log, Sawing

pytestmark = pytest.mark.django_db
D = Decimal
SPENT = date(2026, 2, 11)


@pytest.fixture
def rate():
    yard, _ = Yard.objects.update_or_create(pk=1, defaults={"hourly_rate": D("31.50")})
    return yard


@pytest.fixture
def floor(survey, make_spec):
    spec = make_spec(survey, "F12")
    spec.cost_estimate, spec.hours_estimate = D("500.00"), D("9.5")
    spec.save()
    return spec


@pytest.fixture
def dear_log(deep_log):
    """L7, with what it cost: 700.00, 60.00 to bring it, 90.00 for the first sawing alone."""
    Sawing.objects.filter(source_log=None).update(cost=0)
    Log.objects.filter(pk=deep_log.pk).update(price=D("700.00"), transport=D("60.00"))
    Sawing.objects.filter(source_log=deep_log).update(cost=D("90.00"))
    return Log.objects.get(pk=deep_log.pk)


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


def finish(spec, people, hours="6.25"):
    WorkStep.objects.create(
        spec=spec, stage="fastened", on=SPENT, by="Wiebke", hours=D(hours), done=True,
        recorded_by=people["yard"],
    )  # fmt: skip


def row_of(spec):
    return spec_money(spec.pk)[0]


def test_a_members_share_is_its_log_down_the_chain_and_all_shares_add_up(
    floor, dear_log, promise, yard_client
):
    promise(floor, "L7-2b1", 200, 1350)
    page = yard_client.get(f"/logs/{dear_log.pk}/money/")
    money = page.context["money"]
    assert money.paid == D("850.00")
    parts = money.in_members + money.lying_in_stock + money.gone
    assert parts.total == D("850.00")
    assert parts.sawing == D("90.00")
    (share,) = money.members
    assert share.use.full_mark == "TEN-F12"
    assert share.carried.timber > 0
    assert share.carried.waste > 0
    assert {board.piece.tag for board in money.in_stock if board.piece} == {
        "L7-1", "L7-2a", "L7-2b1", "L7-2b2",
    }  # fmt: skip
    assert row_of(floor).carried == share.carried.total
    said = page.content.decode()
    assert "TEN-F12" in said
    assert "850.00 EUR" in said


def test_the_timber_in_the_piece_is_its_finished_size_and_the_shavings_are_waste(
    floor, bought_board, promise
):
    # 63.5 x 127 x 1100 finished out of 70 x 240 x 1250: just over two fifths of it stays timber.
    Board.objects.filter(pk=bought_board.pk).update(price=D("200.00"))
    promise(floor, "Q3", 0, 1250)
    row = row_of(floor)
    assert row.carried == D("100.00")
    assert row.timber == D("42.24")
    assert row.waste == D("57.76")


def test_hours_at_the_rate_fastenings_and_sundries_are_added_to_the_timber(
    floor, bought_board, promise, people, rate
):
    Board.objects.filter(pk=bought_board.pk).update(price=D("200.00"))
    promise(floor, "Q3", 0, 1250)
    log_hours(spec_id=floor.pk, stage="other", on=SPENT, by="W", hours=D("2.5"),
              recorded_by=people["yard"])  # fmt: skip
    enter_cost(spec=floor, kind="fastenings", amount=D("41.30"), on=SPENT, by=people["yard"])
    slip = enter_cost(spec=floor, kind="sundries", amount=D("900"), on=SPENT, by=people["yard"])
    take_back_cost(cost=slip, by=people["yard"], on=SPENT)
    enter_cost(spec=floor, kind="sundries", amount=D("9.00"), on=SPENT, by=people["yard"])
    row = row_of(floor)
    assert row.labour == D("78.75")
    assert row.spent == D("100.00") + D("78.75") + D("41.30") + D("9.00")
    assert row.difference == row.spent - D("500.00")


def test_without_a_rate_hours_have_no_money_and_the_page_says_so(floor, people, yard_client):
    log_hours(spec_id=floor.pk, stage="other", on=SPENT, by="W", hours=D("2.5"),
              recorded_by=people["yard"])  # fmt: skip
    row = row_of(floor)
    assert row.labour is None
    assert row.spent == 0
    assert "its hours, for the yard keeps no rate" in row.lacks
    said = yard_client.get(f"/vessels/{floor.finding.member.vessel_id}/money/").content.decode()
    assert "its hours, for the yard keeps no rate (F12)" in said


def test_a_log_without_a_price_is_told_as_not_known_and_never_as_free(
    floor, deep_log, promise, yard_client
):
    Sawing.objects.update(cost=0)
    promise(floor, "L7-2b1", 200, 1350)
    assert row_of(floor).lacks == ("the price of L7",)
    assert (
        "The log has no price yet"
        in yard_client.get(f"/logs/{deep_log.pk}/money/").content.decode()
    )


def test_a_sawing_on_its_way_without_a_bill_is_told_as_not_known_and_never_as_free(
    floor, dear_log, promise, yard_client
):
    promise(floor, "L7-2b1", 200, 1350)
    assert row_of(floor).lacks == ()
    Sawing.objects.filter(source_log=dear_log).update(cost=None)
    assert row_of(floor).lacks == ("what the sawing of L7 cost",)
    said = yard_client.get(f"/specs/{floor.pk}/money/").content.decode()
    assert "Not in the sum: what the sawing of L7 cost" in said


def test_a_log_whose_books_do_not_balance_is_told_and_the_rest_still_shown(
    floor, dear_log, promise, yard_client
):
    promise(floor, "L7-2b1", 200, 1350)
    Board.objects.filter(tag="L7-2b1").update(width_mm=900)
    (lacks,) = row_of(floor).lacks
    assert lacks.startswith("the timber of L7 (More came off the saw than went in")
    said = yard_client.get(f"/logs/{dear_log.pk}/money/").content.decode()
    assert "Its cost cannot be spread: More came off the saw" in said
    assert yard_client.get(f"/vessels/{floor.finding.member.vessel_id}/money/").status_code == 200


def test_a_replacement_is_called_fitted_as_elsewhere_and_fastened_besides(
    floor, deep_log, promise, people
):
    length = promise(floor, "L7-2b1", 200, 1350)
    record_cut(allotment=length, on=SPENT, by="Wiebke")
    record_fitted(allotment=length, on=SPENT, by="Wiebke")
    assert row_of(floor).stage == "fitted"
    finish(floor, people)
    assert row_of(floor).stage == "fitted and fastened"


def test_work_fastened_without_its_timber_on_record_is_not_called_fitted(floor, people):
    finish(floor, people)
    assert row_of(floor).stage == "fastened"


def test_a_log_that_was_never_sawn_lies_in_stock_with_all_that_was_paid(woods, yard_client):
    log = Log.objects.create(
        tag="L9", species=woods["oak_white"], length_mm=3000, butt_diameter_mm=400,
        top_diameter_mm=380, price=D("310.00"),
    )  # fmt: skip
    money = yard_client.get(f"/logs/{log.pk}/money/").context["money"]
    (share,) = money.in_stock
    assert (share.piece, share.state, share.carried.total) == (None, "not sawn yet", D("310.00"))


def test_the_range_comes_from_jobs_done_anywhere_in_the_yard(
    floor, survey, make_spec, other_vessel, people, rate, bought_board, promise
):
    Board.objects.filter(pk=bought_board.pk).update(price=D("50.00"))
    assert vessel_money(survey.vessel).low is None
    elsewhere = Survey.objects.create(
        vessel=other_vessel, surveyed_on=SPENT, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", recorded_by=people["surveyor"],
    )  # fmt: skip
    ratios = []
    for n, hours in enumerate(["10", "4"]):
        spec = make_spec(elsewhere, f"F{n}")
        spec.cost_estimate = D("200.00")
        spec.save()
        promise(spec, "Q3", 1150 * n, 1150 * n + 1100)
        finish(spec, people, hours)
        ratios.append(row_of(spec).spent / D("200.00"))
    money = vessel_money(survey.vessel)
    assert "2 jobs" in money.past_says
    assert money.low == math.floor(D("500.00") * min(ratios)) < 1000
    assert money.high == math.ceil(D("500.00") * max(ratios)) < 1000
    assert [row.mark for row in money.replacements] == ["F12"]


def test_a_job_that_took_more_already_than_the_past_reaches_has_no_range_and_says_so(
    floor, survey, make_spec, people, rate, bought_board, promise, yard_client
):
    Board.objects.filter(pk=bought_board.pk).update(price=D("50.00"))
    for n, hours in enumerate(["10", "4"]):
        spec = make_spec(survey, f"F2{n}")
        spec.cost_estimate = D("200.00")
        spec.save()
        promise(spec, "Q3", 1150 * n, 1150 * n + 1100)
        finish(spec, people, hours)
    enter_cost(spec=floor, kind="sundries", amount=D("400.00"), on=SPENT, by=people["yard"])
    row = row_of(floor)
    assert row.low == D("400.00") < row.high
    enter_cost(spec=floor, kind="sundries", amount=D("900.00"), on=SPENT, by=people["yard"])
    row, money = spec_money(floor.pk)
    assert (row.low, row.high, row.is_beyond, money.low) == (None, None, True, None)
    assert "took more already than that would make" in money.past_says
    said = yard_client.get(f"/specs/{floor.pk}/money/").content.decode()
    assert "no range: it took more already" in said


def test_a_job_done_without_hours_or_timber_is_left_out_of_the_past_and_counted(
    floor, survey, people, rate
):
    finish(floor, people)
    money = vessel_money(survey.vessel)
    assert "1 job done could not be counted" in money.past_says
    assert "its timber, which is not recorded" in row_of(floor).lacks


def test_a_cost_of_minus_one_is_refused_in_a_sentence_and_what_was_typed_is_kept(
    floor, yard_client
):
    typed = {"kind": "fastenings", "amount": "-1", "on": "2026-02-11", "note": "eight bolts"}
    answer = yard_client.post(f"/specs/{floor.pk}/costs/new/", typed)
    assert answer.status_code == 422
    said = answer.content.decode()
    assert "What was spent cannot be less than nothing" in said
    assert 'value="-1"' in said
    assert "eight bolts" in said
    assert not Cost.objects.exists()


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"amount": "1.005"}, "2 digits after the point"),
        ({"amount": "NaN"}, "number"),
        ({"amount": ""}, "needed"),
        ({"amount": "9" * 12}, "digits"),
        ({"on": "2199-01-01"}, "still to come"),
        ({"on": "0026-02-11"}, "the year in full"),
        ({"kind": "bribes"}, "bribes"),
    ],
)
def test_what_cannot_be_a_cost_is_refused(floor, yard_client, given, said):
    typed = {"kind": "fastenings", "amount": "12.40", "on": "2026-02-11"} | given
    answer = yard_client.post(f"/specs/{floor.pk}/costs/new/", typed)
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not Cost.objects.exists()


def test_the_database_itself_refuses_a_cost_below_nothing_or_of_two_things(floor, people):
    told = {"kind": "sundries", "on": SPENT, "by": people["yard"]}
    vessel = floor.finding.member.vessel
    for bad in ({"amount": D("-1"), "spec": floor}, {"amount": D("1")},
                {"amount": D("1"), "spec": floor, "vessel": vessel}):  # fmt: skip
        with pytest.raises(IntegrityError), transaction.atomic():
            Cost.objects.create(**told, **bad)


def test_a_cost_is_entered_taken_back_and_still_to_be_read(floor, yard_client):
    typed = {"kind": "sundries", "amount": "12.40", "on": "2026-02-11", "note": "bedding"}
    yard_client.post(f"/specs/{floor.pk}/costs/new/", typed)
    cost = Cost.objects.get()
    assert row_of(floor).sundries == D("12.40")
    yard_client.post(f"/costs/{cost.pk}/take-back/")
    assert row_of(floor).sundries == 0
    said = yard_client.get(f"/specs/{floor.pk}/money/").content.decode()
    assert "bedding" in said
    assert "taken back" in said
    again = yard_client.post(f"/costs/{cost.pk}/take-back/", follow=True).content.decode()
    assert "taken back already" in again


def test_what_is_spent_on_the_vessel_as_a_whole_is_in_her_sum_and_in_no_replacement(
    floor, yard_client
):
    vessel = floor.finding.member.vessel
    typed = {"kind": "bought_in", "amount": "220", "on": "2026-02-11", "note": "crane"}
    yard_client.post(f"/vessels/{vessel.pk}/costs/new/", typed)
    money = vessel_money(vessel)
    assert (money.besides, money.spent, money.all.spent) == (D("220.00"), D("220.00"), 0)
    said = yard_client.get(f"/vessels/{vessel.pk}/money/").content.decode()
    assert "220.00 EUR for the vessel as a whole" in said


def test_a_rate_of_nothing_is_refused_and_none_at_all_is_taken(yard_client):
    page = yard_client.get("/yard/").context["form"]
    typed = {name: page[name].value() or "" for name in page.fields} | {"hourly_rate": "0"}
    answer = yard_client.post("/yard/", typed)
    assert "An hourly rate is more than nothing" in answer.content.decode()
    assert yard_client.post("/yard/", typed | {"hourly_rate": ""}).status_code == 302


def test_by_worth_the_dearer_board_carries_more(dear_log, yard_client, rate):
    def share():
        money = yard_client.get(f"/logs/{dear_log.pk}/money/").context["money"]
        by_tag = {one.piece.tag: one.carried.total for one in money.in_stock if one.piece}
        return by_tag["L7-1"]

    by_volume = share()
    Board.objects.filter(tag="L7-1").update(worth=D("900"))
    Board.objects.filter(tag="L7-2").update(worth=D("100"))
    assert share() == by_volume
    Yard.objects.update(cost_by="worth")
    assert share() > by_volume * 2


def test_a_withdrawn_replacement_is_in_no_sum(floor, survey, yard_client):
    floor.withdrawn_on, floor.withdrawn_reason = SPENT, "kept after all"
    floor.save()
    assert vessel_money(survey.vessel).replacements == ()
    assert "in no sum" in yard_client.get(f"/specs/{floor.pk}/money/").content.decode()
    answer = yard_client.post(
        f"/specs/{floor.pk}/costs/new/",
        {"kind": "sundries", "amount": "1", "on": "2026-02-11"},
    )
    assert answer.status_code == 422


def test_a_client_sees_no_page_of_money(floor, client, people, dear_log):
    client.force_login(people["client"])
    vessel = floor.finding.member.vessel_id
    for address in (f"/vessels/{vessel}/money/", f"/specs/{floor.pk}/money/",
                    f"/logs/{dear_log.pk}/money/"):  # fmt: skip
        assert client.get(address).status_code == 403


def test_a_board_used_up_gives_its_offcut_to_the_lengths_that_were_fitted(
    floor, bought_board, promise
):
    Board.objects.filter(pk=bought_board.pk).update(price=D("200.00"))
    taken = promise(floor, "Q3", 0, 1250)
    record_cut(allotment=taken, on=SPENT, by="A")
    record_fitted(allotment=taken, on=SPENT, by="A")
    Board.objects.filter(pk=bought_board.pk).update(state="used")
    assert row_of(floor).carried == D("200.00")
