"""A survey: its particulars, and the round of members with what is done and what is left."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.models import Finding, Member, Survey

DAY = "2026-03-04"
PARTICULARS = {
    "surveyed_on": DAY, "place": "Sallow Creek", "lying": "ashore", "surveyor_name": "P. Prober",
    "methods": "spike, hammer", "not_reached": "behind the tank",
}  # fmt: skip


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def members(vessel):
    rows = [
        ("deck_beam", "B2", 2), ("floor_timber", "F12", 12), ("floor_timber", "F3", 3),
        ("keel", "K1", None),
    ]  # fmt: skip
    return {
        mark: Member.objects.create(vessel=vessel, kind=kind, mark=mark, station_from=station)
        for kind, mark, station in rows
    }


@pytest.fixture
def found(people):
    def make(survey, member, condition="1", **said):
        if condition != "NE":
            said = {"urgency": 0, "measure": 1} | said
        return Finding.objects.create(
            survey=survey, member=member, condition=condition, recorded_by=people["yard"], **said
        )

    return make


def test_a_survey_is_started_kept_and_changed(surveyor, people, vessel):
    new = reverse("restoration:survey_new", args=[vessel.pk])
    assert "prober" in surveyor.get(new).content.decode()
    response = surveyor.post(new, PARTICULARS | {"present": "the owner's nephew"})
    kept = Survey.objects.get()
    assert response["Location"] == kept.get_absolute_url()
    assert (kept.vessel, kept.recorded_by) == (vessel, people["surveyor"])
    edit = reverse("restoration:survey_edit", args=[kept.pk])
    assert "behind the tank" in surveyor.get(edit).content.decode()
    surveyor.post(edit, PARTICULARS | {"not_reached": "behind both tanks"})
    kept.refresh_from_db()
    assert kept.not_reached == "behind both tanks"


def test_methods_and_limits_may_wait_until_the_round_is_made(surveyor, vessel):
    new = reverse("restoration:survey_new", args=[vessel.pk])
    surveyor.post(new, PARTICULARS | {"methods": "", "not_reached": ""})
    kept = Survey.objects.get()
    assert (kept.methods, kept.not_reached) == ("", "")
    assert surveyor.get(kept.get_absolute_url()).content.decode().count("Not stated yet.") == 2


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"ended_on": "2026-03-01"}, "The last day cannot be before the first."),
        ({"surveyed_on": "the fourth"}, "Write a day of the calendar"),
        ({"place": ""}, "Fill this in: it is needed."),
        ({"surveyed_on": "2062-03-04"}, "That day is still to come. Give the day on which"),
        ({"ended_on": "2062-03-04"}, "That day is still to come. Give the day on which"),
        ({"lying": "aloft"}, "Choose one of those listed"),
    ],
)
def test_refused_particulars_say_why_and_keep_what_was_typed(surveyor, vessel, wrong, sentence):
    new = reverse("restoration:survey_new", args=[vessel.pk])
    response = surveyor.post(new, PARTICULARS | {"weather": "hard frost"} | wrong)
    assert response.status_code == 422
    assert sentence in response.content.decode()
    assert "hard frost" in response.content.decode()
    assert not Survey.objects.exists()


def test_the_round_walks_from_keel_to_deck_and_forward_to_aft(surveyor, survey, members):
    page = surveyor.get(survey.get_absolute_url()).content.decode()
    places = [page.index(f'class="mark-no">{mark}<') for mark in ("K1", "F3", "F12", "B2")]
    # The first of all is the button that leads to the next member not yet examined.
    assert places[1:] == sorted(places[1:])
    assert places[0] < places[1]
    walked = list(survey.vessel.members.along_the_hull().values_list("mark", flat=True))
    assert walked == ["K1", "F3", "F12", "B2"]


def test_the_round_counts_what_is_graded_not_examined_and_left(surveyor, survey, members, found):
    found(survey, members["F3"])
    found(survey, members["F3"], "2")
    found(survey, members["K1"], "NE", not_examined_reason="in the mud")
    page = surveyor.get(survey.get_absolute_url()).content.decode()
    assert "<strong>2 of 4</strong> done: 1 graded, 1 marked not examined" in page
    assert "<strong>2</strong> left" in page
    assert "newest of 2" in page
    next_one = reverse("restoration:finding_new", args=[survey.pk, members["F12"].pk])
    assert page.index(next_one) < page.index("Next not yet examined")
    assert "Its scope does not name vessels, so this is an adaptation" in page


def test_the_newest_finding_of_this_survey_stands_and_an_earlier_survey_is_shown_beside_it(
    surveyor, survey, members, found, vessel
):
    old = Survey.objects.create(
        vessel=vessel, surveyed_on=date(2019, 5, 1), place="Old Quay", lying="shed",
        surveyor_name="P.", methods="eye", not_reached="much", recorded_by=survey.recorded_by,
    )  # fmt: skip
    later = Survey.objects.create(
        vessel=vessel, surveyed_on=date(2027, 5, 1), place="Old Quay", lying="shed",
        surveyor_name="P.", methods="eye", not_reached="much", recorded_by=survey.recorded_by,
    )  # fmt: skip
    found(survey, members["F3"], "1")
    found(survey, members["F3"], "2")
    found(old, members["F3"], "0")
    found(later, members["F3"], "3")
    page = surveyor.get(survey.get_absolute_url()).content.decode()
    stop = page[page.index('class="mark-no">F3<') :]
    stop = stop[: stop.index("</li>")]
    assert "class-2" in stop
    assert "2019: class 0" in stop
    assert "2027" not in stop


def test_when_every_member_is_found_the_round_says_so(surveyor, survey, members, found):
    for member in members.values():
        found(survey, member)
    page = surveyor.get(survey.get_absolute_url()).content.decode()
    assert "Every member has a finding" in page
    assert "Next not yet examined" not in page


def test_a_vessel_without_members_is_told_what_to_do_first(surveyor, survey):
    page = surveyor.get(survey.get_absolute_url()).content.decode()
    assert "has no members yet" in page


def test_the_list_tells_what_to_do_when_there_is_nothing_yet(surveyor, people):
    page = surveyor.get(reverse("restoration:surveys")).content.decode()
    assert reverse("restoration:vessel_new") in page


def test_the_list_counts_each_member_once(surveyor, survey, members, found, vessel):
    found(survey, members["F3"])
    found(survey, members["F3"])
    found(survey, members["K1"])
    page = surveyor.get(reverse("restoration:surveys")).content.decode()
    assert '<td data-label="Members found" class="num">2</td>' in page
    assert reverse("restoration:survey_new", args=[vessel.pk]) in page


def test_the_round_and_the_list_make_no_more_queries_with_more_members(
    surveyor, survey, members, found, vessel
):
    def queries(address):
        with CaptureQueriesContext(connection) as counted:
            assert surveyor.get(address).status_code == 200
        return len(counted)

    found(survey, members["F3"])
    before = Survey.objects.create(
        vessel=vessel, surveyed_on=date(2019, 1, 1), place="x", lying="shed",
        surveyor_name="P.", methods="x", not_reached="x", recorded_by=survey.recorded_by,
    )  # fmt: skip
    found(before, members["F3"])
    addresses = [survey.get_absolute_url(), reverse("restoration:surveys")]
    few = [queries(address) for address in addresses]
    for n in range(30, 50):
        member = Member.objects.create(vessel=vessel, kind="floor_timber", mark=f"F{n}")
        other = Survey.objects.create(
            vessel=vessel, surveyed_on=date(2020, 1, 1), place="x", lying="shed",
            surveyor_name="P.", methods="x", not_reached="x", recorded_by=survey.recorded_by,
        )  # fmt: skip
        found(survey, member)
        found(other, member)
    assert [queries(address) for address in addresses] == few
