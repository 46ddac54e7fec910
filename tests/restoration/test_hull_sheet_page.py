"""The hull sheet and the lines it is drawn from, in the pages."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.models import Finding, HullLines, Member, Survey

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


def sheet(vessel, **asked):
    query = "&".join(f"{name}={value}" for name, value in asked.items())
    return reverse("restoration:hull_sheet", args=[vessel.pk]) + (f"?{query}" if query else "")


def her_lines(vessel):
    return reverse("restoration:hull_lines", args=[vessel.pk])


def text(page):
    return page.content.decode()


def member(vessel, mark, kind="floor_timber", number=None, at=5.0, **more):
    return Member.objects.create(
        vessel=vessel, mark=mark, kind=kind, number=number, station_from=at, station_to=at, **more
    )


def survey_of(vessel, by, day=date(2026, 3, 4)):
    return Survey.objects.create(
        vessel=vessel, surveyed_on=day, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none", recorded_by=by,
    )  # fmt: skip


def find(survey, member, condition, cause=""):
    graded = {} if condition == "NE" else {"urgency": 1, "measure": 3}
    reason = "behind the tank" if condition == "NE" else ""
    finding = Finding.objects.create(
        survey=survey, member=member, recorded_by=survey.recorded_by, condition=condition,
        not_examined_reason=reason, **graded,
    )  # fmt: skip
    if cause:
        finding.causes.create(rank=1, cause=cause, certainty="probable")
    return finding


@pytest.fixture
def surveyed(vessel, people):
    survey = survey_of(vessel, people["surveyor"])
    floors = [member(vessel, f"F{n}", number=n, at=4.0 + n) for n in (1, 2, 3)]
    find(survey, floors[0], "3", "FASTENER_IRON")
    find(survey, floors[1], "1", "CHECK_DRY")
    find(survey, floors[2], "NE")
    member(vessel, "FR4P", "frame", 4, 8.0, side="P")
    return survey


def test_every_member_is_a_link_with_its_name_and_class_in_words(yard, vessel, surveyed):
    page = text(yard.get(sheet(vessel)))
    floor = vessel.members.get(mark="F1")
    assert f'href="{floor.get_absolute_url()}"><title>F1, floor timber: class 3, major' in page
    assert "<title>F3, floor timber: not examined</title>" in page
    assert "<title>FR4P, frame, port: no finding</title>" in page


@pytest.mark.parametrize(
    ("asked", "marks"),
    [
        ({"condition": "3"}, ["F1"]),
        ({"condition": "1%2B"}, ["F1", "F2"]),
        ({"condition": "NE"}, ["F3"]),
        ({"condition": "none"}, ["FR4P"]),
        ({"cause": "CHECK_DRY"}, ["F2"]),
        ({"part": "transverse", "condition": "2%2B"}, ["F1"]),
        ({"replacement": "to_replace", "cause": "FASTENER_IRON"}, ["F1"]),
        ({"replacement": "fitted"}, []),
    ],
)
def test_a_filter_leaves_the_others_faint_and_says_how_many(yard, vessel, surveyed, asked, marks):
    answer = yard.get(sheet(vessel, **asked))
    assert [each.member.mark for each in answer.context["kept"]] == marks
    assert f"{len(marks)} of 4" in text(answer)
    assert text(answer).count(" faint") >= 4 - len(marks)


def test_an_older_survey_is_drawn_by_its_own_findings(yard, vessel, surveyed, people):
    later = survey_of(vessel, people["surveyor"], date(2026, 9, 1))
    find(later, vessel.members.get(mark="F2"), "2")
    assert "F2, floor timber: class 2" in text(yard.get(sheet(vessel)))
    page = text(yard.get(sheet(vessel, survey=surveyed.pk)))
    assert "F2, floor timber: class 1" in page
    assert "survey of 4 March 2026" in page


def test_what_was_replaced_since_is_drawn_as_new_and_not_as_failed(client, demo_yard):
    from restoration.models import User, Vessel

    client.force_login(User.objects.get(username="yard"))
    page = text(client.get(sheet(Vessel.objects.get(code="WHR"))))
    assert "F12, floor timber: class 3, major; replaced 11 March 2026" in page
    assert 'class="m s-right"' in page


def test_an_address_that_says_nonsense_shows_the_whole_sheet(yard, vessel, surveyed):
    answer = yard.get(sheet(vessel, condition="9", cause="x", survey="77", zoom="huge", side="Q"))
    assert answer.status_code == 200
    assert len(answer.context["kept"]) == 4


def test_looking_closer_needs_no_script_and_keeps_the_filter(yard, vessel, surveyed):
    page = text(yard.get(sheet(vessel, condition="3", zoom="3")))
    assert 'class="hull-sheet zoom-3"' in page
    floor = vessel.members.get(mark="F1")
    assert f'href="?condition=3&amp;zoom=4#m{floor.pk}"' in page


def test_a_vessel_without_a_length_says_what_is_needed(yard, vessel):
    vessel.loa_mm = vessel.lwl_mm = None
    vessel.save()
    page = text(yard.get(sheet(vessel)))
    assert "no length overall yet" in page
    assert reverse("restoration:vessel_edit", args=[vessel.pk]) in page


def test_what_is_assumed_is_named_until_it_is_entered(yard, vessel):
    assert "freeboard at the bow" in text(yard.get(sheet(vessel)))
    sent = {"hull": "long_keel", "freeboard_bow_mm": "3' 9", "station_spaces": "20"}
    assert yard.post(her_lines(vessel), sent).status_code == 302
    page = text(yard.get(sheet(vessel)))
    assert "freeboard at the bow" not in page
    assert "least freeboard" in page
    assert "kind of hull" not in page


def queries(client, address):
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address).status_code == 200
    return len(asked)


def test_three_hundred_members_take_no_more_queries_than_four(yard, vessel, surveyed):
    few = queries(yard, sheet(vessel))
    for n in range(10, 306):
        each = member(vessel, f"F{n}", number=n, at=n / 32)
        find(surveyed, each, "2", "BROWN_ROT")
    assert queries(yard, sheet(vessel)) == few
    assert len(yard.get(sheet(vessel)).context["kept"]) == 300


BAD = [
    ({"freeboard_bow_mm": "-1"}, "is negative"),
    ({"freeboard_least_mm": "9'"}, "least freeboard is more than that of the bow or the stern"),
    ({"overhang_bow_mm": "20'"}, "longer together than the vessel"),
    ({"station_spaces": "5000"}, "Give 100 or less."),
    ({"station_spaces": "0"}, "Give 1 or more."),
    ({"station_spaces": "20", "station_spacing_mm": "1'"}, "not both"),
    ({"station_spacing_mm": "1/4"}, "at most 100 are drawn"),
    ({"offset_table": "0; 4'; 4' 1; 0\n3'; -1'; 3'; 2'\n2'; -2'; 3'; 3'"}, "doubles back"),
    ({"offset_table": "0; x; 4'; 0"}, "Row 1 of the offset table"),
    ({"offset_table": "0, 1, 2, 3, 4, 5, 6, 7"}, "there are at most 6"),
    ({"offset_table": "; 1; 2; 3"}, "does not say where it lies"),
    ({"offset_table": "0; 1; 2; 0"}, "three rows or more"),
    ({"profile_5_to": "-5'"}, "Give both figures of the point"),
    ({"profile_5_along": "1 in", "profile_5_to": "-5'"}, "doubles back"),
    ({"hull": "submarine"}, "Choose one of those listed"),
]


@pytest.mark.parametrize(("wrong", "says"), BAD)
def test_lines_that_cannot_be_are_refused_in_a_sentence_and_kept_as_typed(
    yard, vessel, wrong, says
):
    answer = yard.post(her_lines(vessel), {"hull": "long_keel", **wrong})
    assert answer.status_code == 422
    assert says in text(answer).replace("&#x27;", "'")
    for name, typed in wrong.items():
        if name != "hull":
            assert answer.context["form"][name].value() == typed
    assert not HullLines.objects.exists()


def test_lines_are_read_back_as_they_were_typed(yard, vessel):
    sent = {
        "hull": "long_keel", "freeboard_bow_mm": "3-9-0", "station_spaces": "20",
        "profile_6_along": "21' 3", "profile_6_to": "-4' 11 1/2", "profile_0_to": "3' 8",
    }  # fmt: skip
    assert yard.post(her_lines(vessel), sent).status_code == 302
    form = yard.get(her_lines(vessel)).context["form"]
    for name, typed in sent.items():
        assert str(form[name].value()) == typed
    kept = HullLines.objects.get()
    assert kept.moves["profile"]["6"] == pytest.approx([6477, -1511.3])


OFFSETS = """0; 3' 8; 3' 10; 0
8'; -3'; 2' 10; 3' 6; -2'; 2' 9
20'; -5' 1; 2' 6; 4' 6; -3' 6; 4'
32'; 1'; 3'; 2'"""


def test_offsets_that_were_measured_are_what_the_sheet_is_drawn_from(yard, vessel):
    sent = {"hull": "long_keel", "station_spaces": "16", "offset_table": OFFSETS}
    assert yard.post(her_lines(vessel), sent).status_code == 302
    lines = HullLines.objects.get().lines()
    assert lines.profile.points[2] == (pytest.approx(6096), pytest.approx(-1549.4))
    assert lines.length_mm == pytest.approx(9753.6)
    assert yard.get(her_lines(vessel)).context["form"]["offset_table"].value() == OFFSETS


def test_lines_can_be_looked_at_without_being_kept(yard, vessel, surveyed):
    sent = {"hull": "fin_keel", "station_spaces": "20", "look": "1"}
    page = text(yard.post(her_lines(vessel), sent))
    assert "<svg" in page
    assert "Not kept yet" in page
    assert not HullLines.objects.exists()


def test_two_who_enter_her_lines_at_once_leave_one_row(vessel):
    from restoration.actions.hull_lines import keep_hull_lines

    one, other = (HullLines(vessel=vessel, hull=hull) for hull in ("workboat", "open_boat"))
    keep_hull_lines(lines=one)
    keep_hull_lines(lines=other)
    assert HullLines.objects.get().hull == "open_boat"


def test_a_client_sees_no_hull_sheet(client, people, vessel):
    client.force_login(people["client"])
    assert client.get(sheet(vessel)).status_code == 403
