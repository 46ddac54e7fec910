"""A finding's readings with what they mean, where it comes from and what to beware of."""

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.actions.findings import record_finding
from restoration.calc import bolt_loss, section_loss
from restoration.models import Fastening, Finding, Joint, Member, Reading


@pytest.fixture
def frame(vessel, woods):
    return Member.objects.create(
        vessel=vessel, kind="frame", mark="FR7P", wood=woods["oak_white"],
        sided_mm=50, moulded_mm=80,
    )  # fmt: skip


@pytest.fixture
def keep(survey, frame, people):
    def make(*readings, member=None):
        return record_finding(
            finding=Finding(
                survey=survey, member=member or frame, recorded_by=people["surveyor"],
                condition="2", urgency=1, measure=2,
            ),
            readings=[Reading(kind=kind, value=value) for kind, value in readings],
        )  # fmt: skip

    return make


@pytest.fixture
def surveyor(client, people):
    people["surveyor"].units = "metric"
    people["surveyor"].save()
    client.force_login(people["surveyor"])
    return client


def page_of(client, finding, **asked):
    address = reverse("restoration:readings_meaning", args=[finding.pk])
    return client.get(address, {"meaning": "1", **asked} if asked else {}).content.decode()


def test_a_probe_shows_what_is_left_of_the_section_drawn_and_cautioned(surveyor, keep):
    page = surveyor.get(keep(("probe", 20)).get_absolute_url()).content.decode()
    assert "75 % of the section is left; of its section modulus 56 % in the moulded depth" in page
    assert 'class="section-left"' in page
    assert "No published rule was found that allows a given loss" in page
    assert "3,000 mm²" in page or "3000 mm²" in page


def test_another_face_gives_another_remainder(surveyor, keep):
    page = page_of(surveyor, keep(("probe", 20)), face="port")
    assert "60 % of the section is left; of its section modulus 60 % in the moulded depth" in page


def test_a_drill_that_met_soft_wood_inside_leaves_the_faces_whole(surveyor, keep):
    page = page_of(surveyor, keep(("probe", 60)), face="top", soft_from_mm="20", soft_width_mm="30")
    assert "Drilled in the middle of the top face: 70 % of the section is left" in page
    assert "A drill reads one line" in page
    across = page_of(surveyor, keep(("probe", 60)), face="top", soft_from_mm="20")
    assert "50 % of the section is left" in across
    assert "The sound wood is parted" in across


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"soft_from_mm": "60"}, "has no thickness"),
        ({"soft_width_mm": "0"}, "must be more than 0"),
    ],
)
def test_a_drilling_that_cannot_be_gets_a_sentence_and_no_figure(surveyor, keep, asked, says):
    page = page_of(surveyor, keep(("probe", 60)), face="top", **asked)
    assert says in page
    assert "of the section is left" not in page


def test_a_probe_deeper_than_the_member_is_refused_with_a_sentence_and_nothing_is_kept(keep):
    with pytest.raises(ValidationError) as refused:
        keep(("moisture", 18), ("probe", 95))
    assert "is deeper than FR7P" in refused.value.messages[0]
    assert "(95 mm)" in refused.value.messages[0]
    assert not Finding.objects.exists()
    assert not Reading.objects.exists()


def test_the_form_keeps_what_was_typed_when_a_probe_is_too_deep(surveyor, survey, frame):
    address = reverse("restoration:finding_new", args=[survey.pk, frame.pk])
    sent = {
        "made_id": "6f1c2c86-0f5a-4a7c-9f0e-6a3f3f1b2c11", "condition": "2", "urgency": "1",
        "measure": "2", "seen": "soft at the heel", "readings-TOTAL_FORMS": "1",
        "readings-INITIAL_FORMS": "0", "readings-0-kind": "probe", "readings-0-reading": "95 mm",
        "causes-TOTAL_FORMS": "0", "causes-INITIAL_FORMS": "0",
    }  # fmt: skip
    answer = surveyor.post(address, sent)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "is deeper than FR7P" in page
    assert "soft at the heel" in page
    assert "95 mm" in page
    assert not Finding.objects.exists()


def test_a_probe_through_the_face_but_not_the_member_says_so_instead_of_a_figure(surveyor, keep):
    page = page_of(surveyor, keep(("probe", 70)), face="port")
    assert "A probe of 70 mm is deeper than the timber, which is 50 mm." in page


def test_a_member_without_sizes_gets_a_sentence_and_no_figure(surveyor, keep, vessel):
    bare = Member.objects.create(vessel=vessel, kind="frame", mark="FR8P")
    assert "is not entered" in page_of(surveyor, keep(("probe", 20), member=bare))


def test_a_bolt_takes_its_size_from_the_only_fastening_entered(surveyor, keep, frame, vessel):
    keel = Member.objects.create(vessel=vessel, kind="keel", mark="K")
    one, other = sorted((frame, keel), key=lambda member: member.pk)
    joint = Joint.objects.create(one=one, other=other)
    Fastening.objects.create(joint=joint, kind="bolt", metal="wrought iron", diameter_mm=16)
    finding = keep(("bolt", 12))
    assert "75 % of the diameter is left, and with it 56 %" in page_of(surveyor, finding)
    page = page_of(surveyor, finding, bolt_mm="16", metal="wrought_iron", thread="M12")
    expected = bolt_loss.tension_left(
        bolt_loss.wasted_bolt(16, 12),
        bolt_loss.fastening_metals()["wrought_iron"].tensile_mpa,
        bolt_loss.standard_threads()["M12"],
    )
    assert expected.weakest == "thread"
    assert f"{expected.newtons:,.0f} N" in page or f"{expected.newtons:.0f} N" in page
    assert "defer to class rules and a naval architect" in page


def test_what_is_taken_for_granted_unfolds_where_something_is_wanting(surveyor, keep):
    enough, wanting = keep(("probe", 20)), keep(("probe", 20), ("bolt", 12))
    assert "<details open><summary>Taken for granted" not in page_of(surveyor, enough)
    page = page_of(surveyor, wanting)
    assert "<details open><summary>Taken for granted" in page
    assert "Give the diameter of the bolt when it was new." in page


def test_a_bolt_thicker_than_it_was_is_refused_with_a_sentence(surveyor, keep):
    assert "cannot have wasted to" in page_of(surveyor, keep(("bolt", 18)), bolt_mm="16")


def test_a_moisture_reading_says_what_was_corrected_and_that_salt_raises_it(surveyor, keep):
    finding = keep(("moisture", 18))
    assert "No published correction was applied: it stays 18 %" in page_of(surveyor, finding)
    page = page_of(surveyor, finding, temperature_c="10")
    assert "Corrected: 19.0 %" in page
    assert "Salt raises the reading" in page
    assert "No correction for this wood is known" in page


def test_a_reading_off_the_meter_is_said_to_measure_nothing(surveyor, keep):
    assert "it measures nothing" in page_of(surveyor, keep(("moisture", 64)))


def test_an_alkaline_ph_is_held_against_the_wood_and_its_sound_neighbour(surveyor, keep):
    page = page_of(surveyor, keep(("ph", 9.4)), sound_ph="4.1")
    assert "More alkaline than sea-wet wood becomes by itself" in page
    assert "sound oak, wet 3.3 to 4.5" in page
    assert "5.3" in page


def test_a_temperature_that_is_no_number_is_refused_in_the_form(surveyor, keep):
    finding = keep(("moisture", 18))
    address = reverse("restoration:readings_meaning", args=[finding.pk])
    answer = surveyor.get(address, {"meaning": "1", "temperature_c": "warm"})
    assert answer.status_code == 422
    assert "Write a number" in answer.content.decode()


def test_more_readings_ask_no_more_queries(surveyor, keep):
    def queries(finding):
        with CaptureQueriesContext(connection) as counted:
            page_of(surveyor, finding)
        return len(counted)

    few = keep(("bolt", 12), ("probe", 11), ("ph", 5))
    many = keep(*[("bolt", 12), ("probe", 11), ("ph", 5)] * 7)
    assert queries(few) == queries(many)


def test_the_faces_to_choose_from_are_those_of_the_sums(surveyor, keep):
    page = page_of(surveyor, keep(("probe", 20)))
    assert all(f'<option value="{face}"' in page for face in section_loss.FACES)
