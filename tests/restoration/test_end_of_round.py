"""A round that ends before every member was seen says so of each of them, and why."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from restoration.actions.end_of_round import end_round
from restoration.actions.findings import record_finding
from restoration.models import Finding, Member
from restoration.reports.in_hand import open_surveys
from restoration.views.rounds import round_of

pytestmark = pytest.mark.django_db
WHY = "tide made before the keel was reached"


@pytest.fixture
def members(vessel):
    return [
        Member.objects.create(vessel=vessel, kind="floor_timber", mark=f"F{n}", station_from=n)
        for n in (1, 2, 5)
    ]


@pytest.fixture
def begun(survey, members, people):
    """One of three is seen, on its fifth station."""
    record_finding(
        finding=Finding(
            survey=survey, member=members[2], recorded_by=people["surveyor"], condition="2",
            urgency=1, measure=2,
        )
    )  # fmt: skip
    return survey


def states(survey):
    return {
        stop.member.mark: (stop.finding.condition, stop.finding.not_examined_reason)
        for stop in round_of(survey).stops
    }


def test_those_not_seen_are_not_examined_for_that_reason_and_what_was_seen_stands(begun, people):
    made = end_round(survey=begun, reason=f" {WHY} ", by=people["surveyor"])
    assert len(made) == 2
    assert states(begun) == {"F1": ("NE", WHY), "F2": ("NE", WHY), "F5": ("2", "")}
    assert not open_surveys().exists()


def test_without_a_reason_nothing_is_written_down(begun, people):
    with pytest.raises(ValidationError, match="Say why"):
        end_round(survey=begun, reason="  ", by=people["surveyor"])
    assert Finding.objects.count() == 1


def test_a_member_seen_after_all_counts_as_seen(begun, members, people):
    end_round(survey=begun, reason=WHY, by=people["surveyor"])
    record_finding(
        finding=Finding(
            survey=begun, member=members[0], recorded_by=people["yard"], condition="0", urgency=0,
            measure=0,
        )
    )  # fmt: skip
    assert states(begun)["F1"] == ("0", "")


def test_the_last_day_is_kept_where_none_is_and_is_never_before_the_first(begun, people):
    with pytest.raises(ValidationError, match="last day cannot be before the first"):
        end_round(survey=begun, reason=WHY, by=people["yard"], ended_on=date(2025, 3, 1))
    assert Finding.objects.count() == 1
    end_round(survey=begun, reason=WHY, by=people["yard"], ended_on=date(2025, 3, 4))
    begun.refresh_from_db()
    assert begun.ended_on == date(2025, 3, 4)


def test_a_round_that_is_whole_has_nothing_to_end(begun, people):
    end_round(survey=begun, reason=WHY, by=people["surveyor"])
    with pytest.raises(ValidationError, match="nothing is left to say"):
        end_round(survey=begun, reason="twice", by=people["surveyor"])


def test_the_page_names_who_is_left_and_the_round_no_longer_offers_to_end(client, people, begun):
    client.force_login(people["surveyor"])
    end = reverse("restoration:survey_end", args=[begun.pk])
    assert end in client.get(begun.get_absolute_url()).content.decode()
    page = client.get(end).content.decode()
    assert "End the round with 2 members not seen" in page
    assert "not thereby sound" in page
    refused = client.post(end, {"reason": "", "ended_on": "2025-03-04"})
    assert refused.status_code == 422
    assert "2025-03-04" in refused.content.decode()
    after = client.post(end, {"reason": WHY}, follow=True).content.decode()
    assert "Written down as not examined: 2 of her members." in after
    assert end not in after
