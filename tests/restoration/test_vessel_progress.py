"""How far a vessel has come, counted in members and in one query."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from restoration.models import Allotment, Finding, Member, ReplacementSpec, Survey, Vessel

EARLY, LATE = date(2025, 5, 6), date(2026, 3, 4)


@pytest.fixture
def survey_of(people):
    def survey_of(vessel, day):
        return Survey.objects.create(
            vessel=vessel, surveyed_on=day, place="Sallow Creek", lying="ashore",
            surveyor_name="P. Prober", methods="spike", not_reached="none",
            recorded_by=people["surveyor"],
        )  # fmt: skip

    return survey_of


@pytest.fixture
def find(people):
    def find(survey, member, condition, measure=0):
        graded = {"urgency": 1, "measure": measure}
        if condition == "NE":
            graded = {"not_examined_reason": "behind the tank"}
        return Finding.objects.create(
            survey=survey, member=member, condition=condition, recorded_by=people["surveyor"],
            **graded,
        )  # fmt: skip

    return find


@pytest.fixture
def specify(people, woods):
    def specify(finding, **more):
        return ReplacementSpec.objects.create(
            finding=finding, wood=woods["oak_white"], sided_mm=64, moulded_mm=127, length_mm=1100,
            specified_by=people["yard"], **more,
        )  # fmt: skip

    return specify


@pytest.fixture
def allot(people, woods):
    from timber_stock.models import Board, Supplier

    mill = Supplier.objects.create(name="Aldermoor Sawing")

    def allot(spec, tag, **more):
        board = Board.objects.create(
            tag=tag, species=woods["oak_white"], supplier=mill, thickness_mm=76, width_mm=254,
            length_mm=3100,
        )  # fmt: skip
        return Allotment.objects.create(
            spec=spec, board=board, from_mm=0, to_mm=1200, allotted_on=LATE,
            allotted_by=people["yard"], **more,
        )  # fmt: skip

    return allot


FITTED = {"cut_on": LATE, "cut_by": "A. Wright", "fitted_on": LATE, "fitted_by": "A. Wright"}


def floors(vessel, many):
    return [
        Member.objects.create(vessel=vessel, kind="floor_timber", mark=f"F{n}", number=n)
        for n in range(1, many + 1)
    ]


def progress(vessel):
    vessel = Vessel.objects.with_progress().get(pk=vessel.pk)
    names = ("member_count", "examined", "to_replace", "specified", "timber_found", "fitted")
    return tuple(getattr(vessel, name) for name in names)


def test_a_vessel_without_members_has_come_nowhere(vessel):
    assert progress(vessel) == (0, 0, 0, 0, 0, 0)


def test_each_step_counts_the_members_that_have_reached_it(vessel, survey_of, find, specify, allot):
    one, two, three, four, five, *_ = floors(vessel, 7)
    survey = survey_of(vessel, LATE)
    find(survey, one, "0")
    find(survey, two, "3", 3)
    specify(find(survey, three, "3", 3))
    allot(specify(find(survey, four, "3", 3)), "B4")
    allot(specify(find(survey, five, "2", 3)), "B5", **FITTED)
    assert progress(vessel) == (7, 5, 4, 3, 2, 1)


def test_a_member_specified_though_a_repair_was_recommended_is_counted_as_to_be_replaced(
    vessel, survey_of, find, specify, allot
):
    one, two, three, four = floors(vessel, 4)
    survey = survey_of(vessel, LATE)
    find(survey, one, "3", 3)
    specify(find(survey, two, "2", 2))
    allot(specify(find(survey, three, "2", 2)), "B4", **FITTED)
    find(survey, four, "2", 2)
    assert progress(vessel) == (4, 4, 3, 2, 1, 1)


def test_what_was_not_examined_is_not_counted_as_examined(vessel, survey_of, find):
    one, two, _ = floors(vessel, 3)
    survey = survey_of(vessel, LATE)
    find(survey, one, "NE")
    find(survey, two, "1")
    assert progress(vessel)[:3] == (3, 1, 0)


def test_the_later_survey_outranks_the_earlier_though_entered_first(vessel, survey_of, find):
    (one,) = floors(vessel, 1)
    late, early = survey_of(vessel, LATE), survey_of(vessel, EARLY)
    newest = find(late, one, "1", 1)
    find(early, one, "3", 3)
    assert progress(vessel)[2] == 0
    assert Member.objects.with_condition().get().latest_finding_id == newest.pk


def test_in_one_survey_the_finding_written_last_stands(vessel, survey_of, find):
    (one,) = floors(vessel, 1)
    survey = survey_of(vessel, LATE)
    find(survey, one, "0")
    corrected = find(survey, one, "3", 3)
    tomorrow = timezone.now() + timedelta(days=1)
    Finding.objects.filter(pk=corrected.pk).update(recorded_at=tomorrow)
    assert progress(vessel)[2] == 1


def test_a_member_in_two_lengths_is_fitted_when_both_are(vessel, survey_of, find, specify, allot):
    (one,) = floors(vessel, 1)
    spec = specify(find(survey_of(vessel, LATE), one, "3", 3))
    allot(spec, "B1", **FITTED)
    second = allot(spec, "B2")
    assert progress(vessel)[4:] == (1, 0)
    Allotment.objects.filter(pk=second.pk).update(**FITTED)
    assert progress(vessel)[4:] == (1, 1)


def test_what_was_withdrawn_counts_for_nothing(vessel, survey_of, find, specify, allot):
    one, two = floors(vessel, 2)
    survey = survey_of(vessel, LATE)
    gone = {"withdrawn_on": LATE, "withdrawn_reason": "shake found"}
    allot(specify(find(survey, one, "3", 3), **gone), "B1", cut_on=LATE, cut_by="A. Wright")
    allot(specify(find(survey, two, "3", 3)), "B2", **gone)
    assert progress(vessel) == (2, 2, 2, 1, 0, 0)


def test_every_vessel_is_counted_apart_and_in_one_query(
    vessel, owner, survey_of, find, django_assert_num_queries
):
    other = Vessel.objects.create(code="OTH", name="Other", client=owner)
    floors(vessel, 3)
    members = floors(other, 5)
    survey = survey_of(other, LATE)
    find(survey, members[0], "3", 3)
    find(survey, members[1], "1")
    with django_assert_num_queries(1):
        counts = {v.code: (v.member_count, v.examined) for v in Vessel.objects.with_progress()}
    assert counts == {"TEN": (3, 0), "OTH": (5, 2)}
