"""The butts of a side's planking are held against the published rules, on a page of their own."""

import pytest
from django.urls import reverse

from restoration.models import Member

pytestmark = pytest.mark.django_db
FRAMES = {"first_mm": "0 mm", "spacing_mm": "250 mm", "frames": "30", "sided_mm": ""}


@pytest.fixture
def hold(client, people, vessel):
    client.force_login(people["surveyor"])

    def hold(butts, **said):
        page = reverse("restoration:plank_butts", args=[vessel.pk])
        return client.get(page, {**FRAMES, "butts": butts, **said})

    return hold


def kept(answer):
    return [(check.rule.text, check.about, check.kept) for check in answer.context["checks"]]


def test_neighbouring_butts_two_frame_spaces_apart_break_the_rule_and_three_keep_it(hold):
    near = hold("1, 1100 mm\n2, 1600 mm")
    assert [each[2] for each in kept(near)] == [False]
    assert "1 rule not kept" in near.content.decode()
    far = hold("1, 1100 mm\n2, 1900 mm")
    assert [each[2] for each in kept(far)] == [True]
    assert "Every rule that bears on them is kept" in far.content.decode()


def test_what_is_broken_stands_first_and_names_both_butts(hold):
    answer = hold("1, 1100 mm\n2, 1900 mm\n3, 1950 mm\n\n")
    first = kept(answer)[0]
    assert first[1:] == ("strake 2 at 1900 mm and strake 3 at 1950 mm", False)


def test_a_butt_on_a_frame_is_told_where_the_frames_have_a_siding(hold):
    answer = hold("4, 1010 mm", sided_mm="40 mm")
    assert kept(answer) == [
        ("Butt clear of the frames, on a butt block", "strake 4 at 1010 mm", False)
    ]
    assert hold("4, 1100 mm").context["checks"] == []


def test_a_clinker_hull_has_a_yardstick_of_her_own_beside_the_others(hold, vessel):
    vessel.construction = "clinker"
    vessel.save()
    answer = hold("1, 1100 mm\n3, 1600 mm")
    assert [check.rule.text for check in answer.context["others"]] == [
        "Plank joints three planks or three frame spaces apart"
    ]


@pytest.mark.parametrize(
    ("butts", "said"),
    [
        ("1, 1100 mm\nsomewhere aft", "Line 2, “somewhere aft”, is no butt"),
        ("0, 1100 mm", "counted from the garboard as 1"),
        ("1, 9 m", "lies beyond the first or the last frame"),
        ("1, 900 mm\n1, 900 mm", "The same butt is written twice."),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_stays_as_typed(hold, butts, said):
    answer = hold(butts)
    assert answer.status_code == 422
    text = answer.content.decode()
    assert said in text
    assert butts.split("\n")[-1] in text


def test_the_page_of_a_plank_leads_there_and_that_of_a_floor_does_not(client, people, vessel):
    client.force_login(people["yard"])
    there = reverse("restoration:plank_butts", args=[vessel.pk])
    for kind, leads in (("planking", True), ("floor_timber", False)):
        member = Member.objects.create(vessel=vessel, kind=kind, mark=kind[:3].upper())
        assert (there in client.get(member.get_absolute_url()).content.decode()) is leads
