"""What is in hand: counted right, linked to where it is done, and a client's own things only."""

from datetime import date

import pytest
from django.core.files.base import ContentFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from restoration.actions.allotments import record_cut, record_fitted
from restoration.models import Client, Finding, Member, Report, Survey, Vessel

HOME = reverse("restoration:home")
DAY = date(2026, 2, 9)


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


def steps(answer):
    return {step.stage: step.count for step in answer.context["steps"]}


def survey_of(vessel, people, day):
    return Survey.objects.create(
        vessel=vessel, surveyed_on=day, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip


def a_report(vessel, survey, people):
    return Report.objects.create(
        vessel=vessel, survey=survey, number=1, issued_at=timezone.now(),
        issued_by=people["yard"], pdf=ContentFile(b"%PDF", "r.pdf"), sha256="0" * 64,
        content={},
    )  # fmt: skip


def test_an_empty_register_says_what_to_begin_with(yard_client):
    text = yard_client.get(HOME).content.decode()
    assert reverse("restoration:vessel_new") in text
    for job in ("surveys", "trace", "reports"):
        assert reverse(f"restoration:{job}") in text


def test_each_step_is_counted_and_leads_to_its_list(
    yard_client, survey, make_spec, deep_log, promise
):
    marks = ("F1", "F2", "F3", "F4", "F5", "F6")
    specs = {mark: make_spec(survey, mark, length_mm=300) for mark in marks}
    specs["F1"].delete()  # to be replaced, not specified
    for start, mark in ((0, "F3"), (300, "F4"), (600, "F5"), (900, "F6")):
        promise(specs[mark], "L7-1", start, start + 300)
    for mark in ("F5", "F6"):
        record_cut(allotment=specs[mark].allotments.get(), on=DAY, by="Ansgar")
    record_fitted(allotment=specs["F6"].allotments.get(), on=DAY, by="Ansgar")
    answer = yard_client.get(HOME)
    assert steps(answer) == {"specify": 1, "timber": 1, "found": 2, "cut": 1}
    text = answer.content.decode()
    for stage, count in steps(answer).items():
        where = f"{reverse('restoration:replacements')}?stage={stage}"
        assert where in text
        assert yard_client.get(where).context["page"].paginator.count == count


def test_only_the_newest_survey_of_a_vessel_asks_for_its_members(
    yard_client, vessel, people, make_spec
):
    old, new = (survey_of(vessel, people, day) for day in (date(2025, 5, 6), DAY))
    for n in range(3):
        Member.objects.create(vessel=vessel, kind="floor_timber", mark=f"F{n}")
    make_spec(old, "F9")
    answer = yard_client.get(HOME)
    assert [(s.pk, s.members_left) for s in answer.context["open_surveys"]] == [(new.pk, 4)]
    for member in vessel.members.all():
        Finding.objects.create(
            survey=new, member=member, recorded_by=people["surveyor"], condition="NE",
            not_examined_reason="behind the tank",
        )  # fmt: skip
    assert list(yard_client.get(HOME).context["open_surveys"]) == []


def test_a_client_sees_their_own_vessels_and_issued_reports_and_nothing_of_the_work(
    client, people, vessel, survey, make_spec, deep_log
):
    make_spec(survey, "F1")
    stranger = Client.objects.create(name="Somebody Else")
    theirs = Vessel.objects.create(code="ELS", name="Elsewhere", client=stranger)
    for boat, visit in ((vessel, survey), (theirs, survey_of(theirs, people, DAY))):
        a_report(boat, visit, people)
    client.force_login(people["client"])
    answer = client.get(HOME)
    assert [v.name for v in answer.context["vessels"]] == ["Tenacious Wren"]
    assert [r.vessel.name for r in answer.context["reports"]] == ["Tenacious Wren"]
    text = answer.content.decode()
    assert "Elsewhere" not in text
    assert reverse("restoration:replacements") not in text


@pytest.mark.parametrize("role", ["yard", "client"])
def test_home_asks_no_more_of_the_database_for_many_vessels_than_for_one(
    client, people, owner, vessel, survey, make_spec, deep_log, promise, role
):
    client.force_login(people[role])

    def queries():
        with CaptureQueriesContext(connection) as asked:
            client.get(HOME)
        return len(asked)

    promise(make_spec(survey, "F1"), "L7-1", 0, 200)
    Member.objects.create(vessel=vessel, kind="floor_timber", mark="F2")
    a_report(vessel, survey, people)
    few = queries()
    for n in range(1, 6):
        boat = Vessel.objects.create(code=f"B{n}", name=f"Boat {n}", client=owner)
        visit = survey_of(boat, people, DAY)
        promise(make_spec(visit, "F1"), "L7-1", 200 * n, 200 * n + 200)
        make_spec(visit, "F2")
        Member.objects.create(vessel=boat, kind="floor_timber", mark="F3")
        a_report(boat, visit, people)
    assert queries() == few
