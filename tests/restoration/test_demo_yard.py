"""The demonstration yard holds what it is there to show."""

import pytest

from restoration.models import (
    Allotment,
    Finding,
    Member,
    Photograph,
    Reading,
    Report,
    ReportLink,
    Survey,
    User,
    Vessel,
)
from restoration.reports.checklist import checklist
from restoration.reports.frozen import from_json
from timber_stock.models import Board, Log

pytestmark = pytest.mark.django_db


def test_the_demo_yard_shows_every_step_of_the_thread(demo_yard):
    assert Vessel.objects.count() >= 2
    hare = Vessel.objects.get(code="WHR")
    assert Member.objects.filter(vessel=hare).count() >= 40
    assert Survey.objects.filter(vessel=hare).count() == 2
    assert Log.objects.count() >= 3
    assert Finding.objects.filter(condition="NE").exists()
    assert Photograph.objects.count() >= 6
    fitted = Allotment.objects.fitted().get(spec__finding__member__mark="F12")
    assert fitted.spec.seasoning == "green"
    assert Allotment.objects.standing().filter(cut_on=None).exists()


def test_the_demo_chain_is_four_pieces_deep_and_serves_two_vessels(demo_yard):
    board, depth = Board.objects.get(tag="L07-A2a1"), 0
    while board:
        board, depth = board.sawing.source_board, depth + 1
    assert depth == 4
    vessels = {
        a.spec.finding.member.vessel.code
        for a in Allotment.objects.standing().filter(board__log__tag="L07")
    }
    assert vessels == {"WHR", "MKT"}


def test_the_demo_people_sign_in_with_the_printed_password(demo_yard, client):
    for name in ("yard", "surveyor", "client"):
        assert client.login(username=name, password="demo-only")
    assert {user.role for user in User.objects.all()} == {"yard", "surveyor", "client"}


def test_demo_members_are_joined_by_their_fastenings(demo_yard):
    floor = Member.objects.get(vessel__code="WHR", mark="F12")
    joints = [*floor.joints_as_one.all(), *floor.joints_as_other.all()]
    assert len(joints) == 3
    assert all(joint.fastenings.count() == 1 for joint in joints)


def test_the_demo_shows_two_metals_that_meet_in_the_ballast_keel(demo_yard, client):
    client.login(username="surveyor", password="demo-only")
    page = client.get(Member.objects.get(vessel__code="WHR", mark="BK1").get_absolute_url())
    shown = page.content.decode()
    assert "Aluminium bronze with Cast iron" in shown
    assert "Galvanic series" in shown


def test_the_first_demo_report_is_replaced_and_knows_nothing_of_what_came_later(demo_yard):
    earlier, present = Report.objects.filter(vessel__code="WHR").order_by("number")
    assert earlier.superseded_by == present
    assert earlier.survey.surveyed_on < present.survey.surveyed_on
    assert earlier.issued_at.date() < present.survey.surveyed_on < present.issued_at.date()
    assert earlier.content["replacements"] == earlier.content["threads"] == []
    assert "L07" in str(present.content["threads"])
    assert ReportLink.objects.get().report == present


def test_the_demo_client_reads_the_report_in_force_and_anyone_can_check_it(demo_yard, client):
    present = Report.objects.get(vessel__code="WHR", superseded_by=None)
    checked = client.get(f"/check/{present.check_code}/")
    assert "This is report 2, issued 15 April 2026" in checked.content.decode()
    assert "It is not superseded." in checked.content.decode()
    client.login(username="client", password="demo-only")
    assert f'href="{present.get_absolute_url()}"' in client.get("/").content.decode()
    paper = client.get(f"{present.get_absolute_url()}pdf/")
    assert b"".join(paper.streaming_content).startswith(b"%PDF")


def test_the_demo_report_states_nearly_all_a_report_must_and_shows_how_the_rest_is_named(demo_yard):
    present = Report.objects.get(vessel__code="WHR", superseded_by=None)
    missing = [words for point in checklist(from_json(present.content)) for words in point.missing]
    assert missing == [
        "the evidence for a cause on HT1",
        "a photograph of FR10P, FR10S, FR11P, FR11S, FR12P, FR12S",
        "a photograph of her hull number (F 10427)",
        "a replacement specification, or why none, for F13",
    ]


def test_each_reading_of_the_yawl_names_what_it_was_taken_with(demo_yard):
    readings = Reading.objects.filter(finding__member__vessel__code="WHR")
    taken_with = dict(readings.values_list("kind", "instrument"))
    assert set(taken_with) == {"probe", "moisture", "sounding", "bolt", "ph"}
    assert not readings.filter(instrument="").exists()
    assert "calliper" in taken_with["bolt"]
