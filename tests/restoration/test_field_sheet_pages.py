"""The round on paper: a blank sheet in the round's order, and all of it typed in at once."""

import io
import uuid
from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from restoration.models import Finding, Member, Survey


@pytest.fixture
def members(vessel, woods):
    """In no order of the hull: the sheet must find it."""
    made = [("keel", "K", "C", None), ("frame", "FR9P", "P", 9), ("frame", "FR2P", "P", 2),
            ("floor_timber", "F5", "C", 5)]  # fmt: skip
    return {
        mark: Member.objects.create(
            vessel=vessel, kind=kind, mark=mark, side=side, station_from=station,
            sided_mm=63.5, moulded_mm=127, wood=woods["oak_white"],
        )
        for kind, mark, side, station in made
    }  # fmt: skip


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def sheet(surveyor, survey):
    address = reverse("restoration:field_sheet", args=[survey.pk])

    def get(**asked):
        answer = surveyor.get(address, asked)
        assert answer["Content-Type"] == "application/pdf"
        return "\n".join(
            page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages
        )

    return get


@pytest.fixture
def grid(surveyor, survey, members):
    address = reverse("restoration:field_sheet_entry", args=[survey.pk])

    def send(**rows):
        said = {"member": [str(member.pk) for member in members.values()]}
        for mark, (condition, urgency, measure, note) in rows.items():
            start = f"m{members[mark].pk}"
            said |= {
                f"{start}-made_id": str(uuid.uuid5(uuid.NAMESPACE_OID, mark)),
                f"{start}-condition": condition, f"{start}-urgency": urgency,
                f"{start}-measure": measure, f"{start}-note": note,
            }  # fmt: skip
        return surveyor.post(address, said)

    return send


def test_the_sheet_holds_every_member_in_the_order_of_the_round(sheet, members, surveyor, survey):
    from restoration.views.rounds import round_of

    for order in ("area", "stations"):
        said = sheet(order=order)
        marks = [stop.member.mark for stop in round_of(survey, order).stops]
        places = [said.index(f"{mark} ") for mark in marks]
        assert places == sorted(places), order
    assert "Field sheet: Tenacious Wren" in said
    assert "2 1/2 × 5 in" in said
    assert said.count("moisture %") == len(members)
    assert "NE needs a reason" in said


def test_what_was_found_before_stands_on_the_sheet(sheet, members, survey, people):
    Finding.objects.create(
        survey=survey, member=members["F5"], recorded_by=people["surveyor"], condition="2",
        urgency=1, measure=2,
    )  # fmt: skip
    assert "class 2" in sheet()


def test_what_this_survey_found_is_not_passed_off_as_an_earlier_finding(
    sheet, members, survey, people
):
    earlier = Survey.objects.create(
        vessel=survey.vessel, surveyed_on=date(2019, 5, 6), place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", recorded_by=people["surveyor"],
    )  # fmt: skip
    for of, mark, condition in ((survey, "F5", "2"), (earlier, "FR9P", "1"), (earlier, "F5", "0")):
        Finding.objects.create(
            survey=of, member=members[mark], recorded_by=people["surveyor"], condition=condition,
            urgency=1, measure=2,
        )  # fmt: skip
    said = " ".join(sheet().split())
    assert "Last finding" in said
    assert "Before" not in said
    assert "this survey: class 2" in said
    assert "2019: class 1" in said
    assert "2019: class 0" not in said


def test_a_vessel_without_members_gives_a_sheet_that_says_so(sheet):
    assert "has no members yet" in sheet()


def test_the_rows_typed_in_are_kept_and_empty_ones_passed_over(grid, members, survey):
    answer = grid(
        K=("0", "0", "0", ""), F5=("3", "2", "3", "gone at the heel"),
        FR9P=("NE", "", "", "behind the tank"), FR2P=("", "", "", ""),
    )  # fmt: skip
    assert answer.status_code == 302
    said = {f.member.mark: f for f in Finding.objects.select_related("member")}
    assert set(said) == {"K", "F5", "FR9P"}
    assert (said["F5"].condition, said["F5"].urgency, said["F5"].measure) == ("3", 2, 3)
    assert said["F5"].seen == "gone at the heel"
    assert said["FR9P"].not_examined_reason == "behind the tank"
    assert said["FR9P"].seen == ""


def test_one_refused_row_keeps_all_of_them_back_and_all_that_was_typed(grid):
    answer = grid(K=("0", "0", "0", "dry as a bone"), F5=("3", "", "3", "gone at the heel"))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Nothing is kept yet: 1 of 2 rows must be mended" in page
    assert "Set the urgency too: it is a class of its own." in page
    assert "dry as a bone" in page
    assert "gone at the heel" in page
    assert '<option value="3" selected' in page
    assert not Finding.objects.exists()


def test_a_row_that_only_the_register_can_refuse_takes_the_others_back_too(grid, members, survey):
    mark = uuid.uuid5(uuid.NAMESPACE_OID, "F5")
    elsewhere = Finding(
        survey=survey, member=members["FR2P"], recorded_by=survey.recorded_by, condition="0",
        urgency=0, measure=0, made_id=mark,
    )  # fmt: skip
    elsewhere.save()
    answer = grid(K=("1", "0", "1", "a check"), F5=("3", "2", "3", "gone"))
    assert answer.status_code == 422
    assert "This form was used already, for FR2P" in answer.content.decode()
    assert Finding.objects.get() == elsewhere


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (("", "2", "3", "soft"), "Set the condition class, or empty the row."),
        (("NE", "", "", ""), "Say why the member was not examined."),
        (("NE", "", "", "x" * 201), "up to 200 letters"),
        (("7", "1", "1", ""), "Choose one of those listed"),
    ],
)
def test_a_row_that_says_too_little_is_told_so(grid, row, said):
    answer = grid(F5=row)
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not Finding.objects.exists()


def test_a_sheet_sent_twice_is_kept_once(grid):
    for _ in range(2):
        assert grid(K=("0", "0", "0", "")).status_code == 302
    assert Finding.objects.count() == 1


def test_a_sheet_with_nothing_in_it_says_so(grid):
    answer = grid()
    assert answer.status_code == 422
    assert "No row holds anything yet." in answer.content.decode()


def test_the_grid_asks_for_those_left_and_for_all_on_demand(surveyor, survey, members, grid):
    address = reverse("restoration:field_sheet_entry", args=[survey.pk])
    grid(K=("0", "0", "0", ""))
    left = surveyor.get(address).content.decode()
    assert f'name="member" value="{members["K"].pk}"' not in left
    assert left.count('name="member"') == 3
    assert surveyor.get(address, {"all": "1"}).content.decode().count('name="member"') == 4


def test_a_long_round_comes_a_hundred_rows_at_a_time(surveyor, survey, vessel):
    Member.objects.bulk_create(
        Member(vessel=vessel, kind="frame", mark=f"FR{n}P", number=n) for n in range(130)
    )
    address = reverse("restoration:field_sheet_entry", args=[survey.pk])
    first = surveyor.get(address).content.decode()
    assert first.count('name="member"') == 100
    assert "Rows 1 to 100 of 130" in first
    assert surveyor.get(address, {"page": 2}).content.decode().count('name="member"') == 30


def test_more_members_ask_no_more_queries(surveyor, survey, vessel, members):
    addresses = [
        reverse(f"restoration:{name}", args=[survey.pk])
        for name in ("field_sheet", "field_sheet_entry")
    ]

    def queries():
        with CaptureQueriesContext(connection) as counted:
            for address in addresses:
                assert surveyor.get(address).status_code == 200
        return len(counted)

    few = queries()
    for n in range(9):
        Member.objects.create(vessel=vessel, kind="frame", mark=f"FR{n}S", side="S")
    assert queries() == few
