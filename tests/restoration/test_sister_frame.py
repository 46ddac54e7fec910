"""A sister frame is held against the published rules, with what surveys found beside it."""

import pytest

from restoration.models import Finding, Member

pytestmark = pytest.mark.django_db


@pytest.fixture
def frames(client, people, vessel):
    """Frames 4 to 9 to port, and one of the same number to starboard."""
    client.force_login(people["surveyor"])
    return {
        f"FR{n}{side}": Member.objects.create(
            vessel=vessel, kind="frame_steamed", mark=f"FR{n}{side}", number=n, side=side,
            sided_mm=30, moulded_mm=38,
        )
        for n, side in [*((n, "P") for n in range(4, 10)), (6, "S")]
    }  # fmt: skip


@pytest.fixture
def find(survey, people):
    def make(member, condition, cause=""):
        finding = Finding.objects.create(
            survey=survey, member=member, recorded_by=people["surveyor"], condition=condition,
            urgency=1, measure=2,
        )  # fmt: skip
        if cause:
            finding.causes.create(rank=1, cause=cause, certainty="probable")

    return make


def asked(client, member, **said):
    sent = {"sister_sided_mm": "30 mm", "sister_moulded_mm": "38 mm", "reach_mm": "500 mm"}
    return client.get(member.get_absolute_url(), {**sent, "plank_mm": "", **said})


def kept(answer):
    return {check.rule.text: check.kept for check in answer.context["sister_checks"]}


def test_a_sister_beside_one_cracked_frame_keeps_every_rule(client, frames, find):
    find(frames["FR6P"], "2", "MECH_OVERLOAD")
    find(frames["FR6S"], "3", "BROWN_ROT")  # the other side is another matter
    answer = asked(client, frames["FR6P"])
    assert set(kept(answer).values()) == {True}
    assert "class 2 or 3 of 6; rot is named for none" in answer.content.decode()


def test_three_damaged_side_by_side_and_a_rotten_one_are_told_by_the_newest_findings(
    client, frames, find
):
    for mark in ("FR5P", "FR7P"):
        find(frames[mark], "2")
    find(frames["FR6P"], "3", "BROWN_ROT")
    found = kept(asked(client, frames["FR6P"]))
    assert found["Damaged frames side by side that may be sistered"] is False
    assert found["Sister beside a decayed frame"] is False
    find(frames["FR7P"], "0")
    found = kept(asked(client, frames["FR6P"]))
    assert found["Damaged frames side by side that may be sistered"] is True


def test_a_reach_that_is_too_short_is_not_kept_and_a_larger_section_is_disputed(client, frames):
    answer = asked(client, frames["FR4P"], reach_mm="17 in", sister_sided_mm="34 mm")
    text = answer.content.decode()
    assert kept(answer)["Reach past the damage, each way"] is False
    assert "<b>disputed</b>" in text


def test_what_cannot_be_read_is_refused_and_stays_as_typed(client, frames):
    answer = asked(client, frames["FR4P"], reach_mm="a good way")
    assert answer.status_code == 422
    assert 'value="a good way"' in answer.content.decode()


def test_a_floor_and_a_frame_without_sizes_are_not_asked_about(client, people, vessel):
    client.force_login(people["yard"])
    for kind, mark in (("floor_timber", "F3"), ("frame_steamed", "FR3P")):
        member = Member.objects.create(vessel=vessel, kind=kind, mark=mark, number=3)
        text = client.get(member.get_absolute_url()).content.decode()
        assert "against the published rules</summary>" not in text
