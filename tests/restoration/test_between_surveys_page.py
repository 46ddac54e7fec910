"""Two surveys of a hull side by side, and what the next round is told to check."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.models import Finding, Member, Survey, User, Vessel

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard(client, demo_yard):
    client.force_login(User.objects.get(username="yard"))
    return client


@pytest.fixture
def hare(yard):
    return Vessel.objects.get(code="WHR")


def compare(vessel, **asked):
    query = "&".join(f"{name}={value}" for name, value in asked.items())
    return reverse("restoration:between_surveys", args=[vessel.pk]) + (f"?{query}" if query else "")


def by_outcome(page):
    return {outcome: [each.member.mark for each in members]
            for outcome, _, members in page.context["groups"]}  # fmt: skip


def test_the_newest_two_surveys_are_compared_unasked(yard, hare):
    page = yard.get(compare(hare))
    found = by_outcome(page)
    assert found["right"] == ["F12"]
    assert found["unseen"] == ["BK1"]
    assert {"F10", "SF1", "F13"} <= set(found["worse"])
    assert {"FR17P", "FR18P"} == set(found["dropped"])
    assert {"HT1", "MS1"} <= set(found["found"])
    assert sum(map(len, found.values())) == hare.members.count()
    drawn = page.content.decode()
    assert "F10, floor timber: got worse (class 1, minor; class 3, major)" in drawn
    assert ">1→3</text>" in drawn


def test_the_earlier_survey_comes_first_however_they_are_chosen(yard, hare):
    new, old = hare.surveys.newest_first()
    page = yard.get(compare(hare, a=new.pk, b=old.pk))
    assert (page.context["earlier"], page.context["later"]) == (old, new)


def test_the_same_survey_twice_and_another_vessels_survey_are_refused_in_a_sentence(yard, hare):
    survey = hare.surveys.first()
    for asked in ({"a": survey.pk, "b": survey.pk}, {"a": survey.pk, "b": 9999}, {"a": "x"}):
        page = yard.get(compare(hare, **asked))
        assert page.status_code == 200
        assert "Choose two different surveys" in page.content.decode()


def test_with_one_survey_the_page_says_what_is_missing(yard):
    launch = Vessel.objects.get(code="MKT")
    assert "She has one survey" in yard.get(compare(launch)).content.decode()


def new_survey(hare, day=date(2026, 6, 1)):
    return Survey.objects.create(
        vessel=hare, surveyed_on=day, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=User.objects.get(username="surveyor"),
    )  # fmt: skip


def told(client, survey):
    return {
        each.member.mark: each for each in client.get(survey.get_absolute_url()).context["to_check"]
    }


def test_rot_and_corrosion_are_carried_into_the_next_round_and_a_crack_is_not(yard, hare):
    found = told(yard, new_survey(hare))
    assert {"F10", "SF1", "MS1", "F7"} <= set(found)
    assert "FR10P" not in found, "a clean break does not go on by itself"
    assert "F12" not in found, "it was replaced in March"
    assert found["F10"].causes[0].startswith("Iron or steel")


def test_a_defect_is_to_check_even_where_its_replacement_is_only_promised(yard, hare):
    assert "F14" in told(yard, new_survey(hare))


def test_what_was_seen_again_is_said_so(yard, hare):
    survey = new_survey(hare)
    Finding.objects.create(
        survey=survey, member=hare.members.get(mark="SF1"), recorded_by=survey.recorded_by,
        condition="2", urgency=1, measure=1,
    )  # fmt: skip
    found = told(yard, survey)
    assert found["SF1"].done
    assert not found["F10"].done


def test_the_first_survey_of_a_hull_has_nothing_to_check(yard, hare):
    assert told(yard, hare.surveys.newest_first().last()) == {}


def test_neither_page_asks_more_for_more_members(yard, hare):
    survey = new_survey(hare)
    addresses = [compare(hare), survey.get_absolute_url()]

    def counts():
        found = []
        for address in addresses:
            with CaptureQueriesContext(connection) as asked:
                assert yard.get(address).status_code == 200
            found.append(len(asked))
        return found

    few = counts()
    older = hare.surveys.newest_first()[1]
    for n in range(30):
        member = Member.objects.create(vessel=hare, kind="frame", mark=f"X{n}", station_from=n)
        finding = Finding.objects.create(
            survey=older, member=member, recorded_by=older.recorded_by, condition="2",
            urgency=1, measure=1,
        )  # fmt: skip
        finding.causes.create(rank=1, cause="BROWN_ROT", certainty="probable")
    assert counts() == few
