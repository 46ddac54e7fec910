"""Visits to the nuts of what is fitted green: set down with the fitting, moved, made."""

import re
from datetime import date, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils import timezone

from restoration.actions.allotments import record_cut, record_fitted
from restoration.actions.retightening import move_visit, set_down_visit, visit_made
from restoration.models import ReplacementSpec, RetightenTask

pytestmark = pytest.mark.django_db
FITTED = date(2026, 3, 11)


def text(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


@pytest.fixture
def spec(make_spec, survey):
    made = make_spec(survey, "F12", sided_mm=63.5, moulded_mm=127, length_mm=1066.8)
    made.place_in_boat, made.rings, made.rings_face = "bilge", "quarter", "sided"
    made.save()
    return made


@pytest.fixture
def fit(spec, deep_log, promise):
    """`fit()` cuts and fits a length of L7-2b1; told other facts of the spec first."""

    def fitting(on=FITTED, **facts):
        ReplacementSpec.objects.filter(pk=spec.pk).update(**facts)
        allotment = promise(spec, "L7-2b1", 0, 1100)
        record_cut(allotment=allotment, on=on, by="A. Wright")
        return record_fitted(allotment=allotment, on=on, by="A. Wright")

    return fitting


@pytest.fixture
def signed_in(client, people):
    def sign_in(role="yard"):
        client.force_login(people[role])
        return client

    return sign_in


def dues(allotment):
    return list(allotment.retightenings.values_list("due_on", flat=True))


def test_fitting_a_green_piece_sets_down_visits_soon_then_yearly(fit):
    due = dues(fit())
    assert due[:4] == [date(2026, 4, 10), date(2026, 6, 9), date(2026, 9, 7), date(2027, 3, 11)]
    assert due[4] == date(2028, 3, 10)


def test_each_visit_says_what_to_expect_and_what_that_rests_on(fit):
    first, *_, last = fit().retightenings.all()
    assert 0 < first.take_up_mm < last.take_up_mm
    # White oak, tangential 10.5 %, from 30 to the driest bilge, 22 %, along 127 mm.
    assert last.take_up_mm == pytest.approx(127 * 0.105 * 8 / 30, rel=0.05)
    assert "moulded size" in first.reason
    assert "22 % (bilge, at its driest)" in first.reason
    assert "11 March 2026" in first.reason


def test_the_yards_own_moisture_of_the_bilge_goes_before_the_assumed(fit):
    from timber_stock.models import OwnServiceMoisture

    OwnServiceMoisture.objects.create(
        place="bilge", expected_percent=20, least_percent=14, greatest_percent=28,
        basis="Read in three hulls of ours", entered_by="A. Wright",
    )  # fmt: skip
    assert "14 % (bilge, at its driest)" in fit().retightenings.first().reason


def test_seasoned_wood_needs_no_visits(fit):
    assert dues(fit(seasoning="seasoned", moisture_percent=15)) == []


def test_without_a_place_in_the_boat_the_usual_dates_stand_without_a_figure(fit):
    visits = list(fit(place_in_boat="").retightenings.all())
    assert [visit.take_up_mm for visit in visits] == [None] * 4
    assert "Where in the boat it serves is not said" in visits[0].reason
    assert visits[-1].due_on == FITTED + timedelta(365)


def test_a_wood_without_figures_never_stands_in_the_way_of_recording_a_fitting(fit, woods):
    from timber_stock.models import Species

    plum = Species.objects.create(
        code="own-plum", botanical_name="Prunus domestica", common_name="plum", group="hardwood"
    )
    allotment = fit(wood=plum)
    assert allotment.fitted_on == FITTED
    assert "is known for plum" in allotment.retightenings.first().reason


def test_what_stays_too_wet_to_shrink_is_looked_at_once(fit):
    from timber_stock.models import OwnServiceMoisture

    OwnServiceMoisture.objects.create(
        place="bilge", expected_percent=36, least_percent=31, greatest_percent=44,
        basis="Read in three hulls of ours", entered_by="A. Wright",
    )  # fmt: skip
    only = fit().retightenings.get()
    assert only.due_on == FITTED + timedelta(365)
    assert "too wet to shrink" in only.reason


def test_a_visit_is_marked_made_with_date_and_by_whom_on_its_page(fit, signed_in):
    task = fit().retightenings.first()
    client = signed_in()
    done = client.post(
        f"/retightenings/{task.pk}/done/",
        {"on": "2026-04-14", "by": "A. Wright", "note": "a quarter turn"},
    )
    assert done.status_code == 302
    task.refresh_from_db()
    assert (task.done_on, task.done_by) == (date(2026, 4, 14), "A. Wright")
    page = text(client.get(done["Location"]))
    assert "10 April 2026 , made 14 April 2026 by A. Wright" in page
    assert "found: a quarter turn" in page


def test_a_later_visit_takes_those_missed_before_it_along(fit):
    first, second, third, *_ = fit().retightenings.all()
    visit_made(task=third, on=date(2026, 9, 8), by="A. Wright", note="half a turn")
    for missed in (first, second):
        missed.refresh_from_db()
        assert missed.done_on == date(2026, 9, 8)
        assert missed.note == "With the visit due 7 September 2026."
    third.refresh_from_db()
    assert third.note == "half a turn"


def test_a_visit_is_made_once(fit):
    task = fit().retightenings.first()
    visit_made(task=task, on=FITTED, by="A. Wright")
    with pytest.raises(ValidationError, match="was made on 11 March 2026 already"):
        visit_made(task=task, on=FITTED, by="B. Wright")
    with pytest.raises(ValidationError, match="its date stays"):
        move_visit(task=task, due_on=date(2026, 5, 1))


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"on": "2026-03-01", "by": "A. Wright"}, "was fitted on 11 March 2026: no visit came"),
        ({"on": "2199-01-01", "by": "A. Wright"}, "That day is still to come"),
        ({"on": "2026-04-14", "by": ""}, "Fill this in: it is needed"),
    ],
)
def test_what_cannot_be_is_refused_and_what_was_typed_is_kept(fit, signed_in, typed, says):
    task = fit().retightenings.first()
    page = signed_in().post(f"/retightenings/{task.pk}/done/", {**typed, "note": "slack"})
    assert page.status_code == 422
    assert says in text(page)
    assert 'value="slack"' in page.content.decode()


def test_the_date_of_a_visit_is_moved(fit, signed_in):
    task = fit().retightenings.first()
    client = signed_in()
    assert (
        client.post(f"/retightenings/{task.pk}/edit/", {"due_on": "2026-05-02"}).status_code == 302
    )
    task.refresh_from_db()
    assert task.due_on == date(2026, 5, 2)
    again = client.post(f"/retightenings/{task.pk}/edit/", {"due_on": "2026-06-09"})
    assert again.status_code == 422
    assert "set down for that day already" in text(again)


def test_a_visit_besides_those_proposed_is_set_down(fit, signed_in):
    allotment = fit()
    client = signed_in()
    typed = {"due_on": "2026-05-20", "reason": "Before she is launched", "take_up_mm": "1/16"}
    assert client.post(f"/allotments/{allotment.pk}/retighten/", typed).status_code == 302
    assert allotment.retightenings.get(due_on=date(2026, 5, 20)).take_up_mm == pytest.approx(1.5875)
    refused = client.post(f"/allotments/{allotment.pk}/retighten/", {"due_on": "", "reason": "x"})
    assert refused.status_code == 422


def test_no_visit_is_set_down_before_the_piece_is_fitted(spec, deep_log, promise):
    allotment = promise(spec, "L7-2b1", 0, 1100)
    with pytest.raises(ValidationError, match="not fitted yet"):
        set_down_visit(allotment=allotment, due_on=FITTED, reason="x")


def test_the_database_wants_a_name_with_every_visit_made(fit):
    task = fit().retightenings.first()
    with pytest.raises(IntegrityError), transaction.atomic():
        RetightenTask.objects.filter(pk=task.pk).update(done_on=FITTED, done_by="")


def test_home_names_the_next_visit_of_each_piece_once_it_is_near(fit, signed_in, spec):
    today = timezone.localdate()
    fit(on=today - timedelta(days=100))
    said = text(signed_in().get("/"))
    assert said.count("the nuts of") == 1
    assert "1 visit to the nuts of TEN-F12" in said
    assert ": 70 days overdue" in said


def test_home_says_nothing_of_visits_that_are_far_off(fit, signed_in):
    allotment = fit()
    far = timezone.localdate() + timedelta(days=90)
    for n, task in enumerate(allotment.retightenings.all()):
        RetightenTask.objects.filter(pk=task.pk).update(due_on=far + timedelta(days=n))
    assert "the nuts of" not in text(signed_in().get("/"))
    RetightenTask.objects.filter(due_on=far).update(due_on=far - timedelta(days=60))
    assert ": 30 days left" in text(signed_in().get("/"))


def test_the_member_and_the_list_of_all_name_the_visit(fit, signed_in, spec):
    fit()
    client = signed_in()
    assert "See to its nuts by 10 April 2026" in text(
        client.get(f"/members/{spec.finding.member_id}/")
    )
    listed = text(client.get("/retightenings/"))
    assert "TEN-F12 floor timber" in listed
    assert "Slack bolts carry nothing" in listed
    assert "No visit has been made yet" in text(client.get("/retightenings/?made"))


def test_with_nothing_to_see_to_the_list_says_when_there_will_be(signed_in):
    assert "Nothing waits" in text(signed_in().get("/retightenings/"))


def test_a_surveyor_sees_the_visits_and_only_the_yard_makes_them(fit, signed_in):
    task = fit().retightenings.first()
    surveyor = signed_in("surveyor")
    assert "Mark as made" not in text(surveyor.get("/retightenings/"))
    assert surveyor.get(f"/retightenings/{task.pk}/done/").status_code == 403


def test_a_fitting_that_is_refused_sets_nothing_down(spec, deep_log, promise):
    allotment = promise(spec, "L7-2b1", 0, 1100)
    with pytest.raises(ValidationError, match="Record the cutting first"):
        record_fitted(allotment=allotment, on=FITTED, by="A. Wright")
    assert RetightenTask.objects.count() == 0
