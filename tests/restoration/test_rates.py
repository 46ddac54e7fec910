"""Hours keep the rate of the day on which they were worked; boards whose whole width is carried."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.urls import reverse
from django.utils import timezone

from restoration.actions.rates import keep_yard
from restoration.actions.work import log_hours
from restoration.models import Yard
from restoration.models.yard import PastRate
from restoration.reports.gather_money import spec_money
from restoration.reports.money import HoursAt

pytestmark = pytest.mark.django_db
D = Decimal
SPRING, SUMMER, AUTUMN = date(2026, 3, 2), date(2026, 6, 1), date(2026, 9, 1)


@pytest.fixture
def yard():
    yard, _ = Yard.objects.update_or_create(pk=1, defaults={"hourly_rate": D("31.50")})
    return yard


@pytest.fixture
def spec(survey, make_spec):
    return make_spec(survey, "F12")


@pytest.fixture
def work(spec, people):
    def make(on, hours):
        return log_hours(
            spec_id=spec.pk, stage="other", on=on, by="Wiebke", hours=D(hours),
            recorded_by=people["yard"],
        )  # fmt: skip

    return make


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


def set_rate(hourly, rate_from):
    yard = Yard.objects.get(pk=1)
    yard.hourly_rate = hourly and D(hourly)
    keep_yard(yard=yard, rate_from=rate_from)


def row(spec):
    return spec_money(spec.pk)[0]


def test_hours_keep_the_rate_of_the_day_they_were_worked_on(yard, spec, work):
    work(SUMMER - timedelta(days=1), "4")
    work(SUMMER, "2.5")
    set_rate("40.00", SUMMER)
    assert row(spec).at_rates == (HoursAt(D(4), D("31.50")), HoursAt(D("2.5"), D("40.00")))
    assert row(spec).labour == D("226.00")  # 4 × 31.50 + 2.5 × 40
    set_rate("44.00", AUTUMN)
    work(AUTUMN, "1")
    assert row(spec).labour == D("270.00")
    work(SPRING, "1")  # told late: it was worked in spring
    assert row(spec).labour == D("301.50")


def test_without_a_day_a_rate_that_was_mistyped_is_put_right_for_all_its_hours(yard, spec, work):
    work(SPRING, "4")
    set_rate("35.00", None)
    assert row(spec).labour == D("140.00")
    assert not PastRate.objects.exists()


def test_a_rate_kept_as_it_is_or_set_for_the_first_time_leaves_no_past(yard, spec, work):
    set_rate("31.50", SUMMER)
    set_rate(None, SUMMER)
    assert row(spec).labour is None
    set_rate("20.00", AUTUMN)
    work(SPRING, "2")
    assert row(spec).labour == D("40.00")
    assert not PastRate.objects.exists()


def test_a_rate_that_is_still_to_come_leaves_the_hours_until_then_as_they_are(yard, spec, work):
    ahead = timezone.localdate() + timedelta(days=30)
    set_rate("50.00", ahead)
    work(SPRING, "2")
    (own, money) = spec_money(spec.pk)
    assert (own.labour, money.rate, money.rate_since) == (D("63.00"), D("31.50"), None)


def test_a_rate_before_one_that_is_kept_is_refused(yard):
    set_rate("40.00", SUMMER)
    with pytest.raises(ValidationError, match="A rate up to 31 May 2026 is kept already"):
        set_rate("45.00", SUMMER)
    assert Yard.objects.get(pk=1).hourly_rate == D("40.00")
    set_rate("45.00", SUMMER + timedelta(days=1))


def test_the_database_itself_keeps_one_rate_a_day_and_none_of_nothing(yard):
    PastRate.objects.create(until=SUMMER, hourly=D("30.00"))
    for until, hourly in ((SUMMER, "31.00"), (AUTUMN, "0")):
        with pytest.raises(IntegrityError), transaction.atomic():
            PastRate.objects.create(until=until, hourly=D(hourly))


def posted(client, **changed):
    page = client.get("/yard/").context["form"]
    typed = {name: page[name].value() or "" for name in page.fields}
    return client.post("/yard/", typed | changed)


def test_the_rate_is_changed_on_the_page_and_the_pages_of_money_tell_both(
    yard, spec, work, yard_client
):
    work(SPRING, "4")
    work(SUMMER, "2.5")
    assert posted(yard_client, hourly_rate="40.00", rate_from=SUMMER).status_code == 302
    said = yard_client.get(reverse("restoration:spec_money", args=[spec.pk])).content.decode()
    assert "6.5 hours</a>: 4 at 31.50, 2.5 at 40.00</th>" in said
    whole = reverse("restoration:vessel_money", args=[spec.finding.member.vessel_id])
    said = yard_client.get(whole).content.decode()
    assert "40.00 EUR an hour<br>worked before 1 June 2026: at the rate of their day" in said
    assert "31 May 2026" in yard_client.get("/yard/").content.decode()
    drop = reverse("restoration:past_rate_drop", args=[PastRate.objects.get().pk])
    assert yard_client.post(drop).status_code == 302
    assert row(spec).labour == D("260.00")


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"hourly_rate": "-1"}, "An hourly rate is more than nothing"),
        ({"hourly_rate": "NaN"}, "Write a number, such as"),
        ({"hourly_rate": "1e30"}, "no more than"),
        ({"hourly_rate": "forty"}, "Write a number, such as"),
        ({"hourly_rate": "40", "rate_from": "0026-06-01"}, "Write the year in full"),
        ({"hourly_rate": "40", "rate_from": "2926-06-01"}, "more than a year ahead"),
        ({"hourly_rate": "40", "rate_from": "soon"}, "Write a day of the calendar"),
        ({"hourly_rate": "40", "rate_from": SPRING}, "A rate up to 31 May 2026 is kept already"),
    ],
)
def test_what_cannot_be_a_rate_or_its_day_is_refused_and_what_was_typed_is_kept(
    yard, yard_client, changed, said
):
    PastRate.objects.create(until=SUMMER - timedelta(days=1), hourly=D("30.00"))
    answer = posted(yard_client, name="Ferry yard", **changed)
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert 'value="Ferry yard"' in answer.content.decode()
    assert Yard.objects.get(pk=1).hourly_rate == D("31.50")
    assert PastRate.objects.count() == 1


def test_a_surveyor_changes_no_rate(yard, client, people):
    client.force_login(people["surveyor"])
    rate = PastRate.objects.create(until=SUMMER, hourly=D("30.00"))
    assert client.post(reverse("restoration:past_rate_drop", args=[rate.pk])).status_code == 403
    assert PastRate.objects.exists()


def test_a_piece_much_narrower_than_its_board_is_told_to_carry_the_whole_width(
    spec, deep_log, promise, yard_client
):
    promise(spec, "L7-2a", 0, 1250)  # 63.5 × 127 out of 76 × 370
    (said,) = row(spec).wide
    assert said.startswith("It wants 29 % of the section of L7-2a, and carries all of it")
    page = yard_client.get(reverse("restoration:spec_money", args=[spec.pk])).content.decode()
    assert "It wants 29 % of the section of L7-2a" in page


def test_a_piece_that_takes_more_than_half_of_its_board_needs_no_such_word(spec, deep_log, promise):
    promise(spec, "L7-2b1", 0, 1250)  # 63.5 × 127 out of 78 × 180: 57 %
    assert row(spec).wide == ()


def test_the_table_of_a_vessel_marks_waste_that_is_of_the_whole_width(
    spec, deep_log, promise, yard_client
):
    page = reverse("restoration:vessel_money", args=[spec.finding.member.vessel_id])
    promise(spec, "L7-2b1", 0, 1250)
    assert "hole width" not in yard_client.get(page).content.decode()
    promise(spec, "L7-2a", 0, 1250)
    said = yard_client.get(page).content.decode()
    assert '<span class="small soft">whole width</span>' in said
    assert "wants less than half of its board's section" in said
