"""A member entered by mistake can be taken off; one that a survey speaks of stays."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from restoration.actions.member_removal import remove_member
from restoration.actions.members import join_members
from restoration.models import Fastening, Finding, Joint, Member, Survey

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def joined(vessel):
    keel = Member.objects.create(vessel=vessel, kind="keel", mark="K1")
    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F7", number=7)
    bolts = {"kind": "bolt", "metal": "bronze", "count": 2}
    join_members(member=floor, others=[keel], fastening=bolts)
    return floor, keel


def address(member):
    return reverse("restoration:member_delete", args=[member.pk])


def test_asking_removes_nothing_and_names_the_joints(yard, joined):
    floor, _ = joined
    page = yard.get(address(floor)).content.decode()
    assert "K1" in page
    assert "Remove it" in page
    assert Member.objects.filter(pk=floor.pk).exists()


def test_its_joints_and_fastenings_go_with_it_and_the_other_member_stays(yard, joined):
    floor, keel = joined
    answer = yard.post(address(floor), follow=True)
    assert "F7 is taken off the register." in answer.content.decode()
    assert list(Member.objects.all()) == [keel]
    assert not Joint.objects.exists()
    assert not Fastening.objects.exists()


def test_a_member_with_a_finding_stays_and_the_page_says_why(yard, people, vessel, joined):
    floor, _ = joined
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on=date(2026, 3, 4), place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    Finding.objects.create(
        survey=survey, member=floor, recorded_by=people["surveyor"], condition="0", urgency=0,
        measure=0,
    )  # fmt: skip
    assert "F7 has a finding" in yard.get(address(floor)).content.decode()
    answer = yard.post(address(floor))
    assert answer.status_code == 422
    assert "it stays" in answer.content.decode()
    with pytest.raises(ValidationError, match="F7 has a finding"):
        remove_member(member=floor)
    assert Joint.objects.count() == 1
    assert Member.objects.filter(pk=floor.pk).exists()
