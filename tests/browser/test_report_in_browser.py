"""A report read on a phone: folded to its chapters, and no figure broken over a line."""

import pytest
from django.utils import timezone

from restoration.actions.reports import issue_report
from restoration.models import Finding, Member, Survey


@pytest.fixture
def issued(vessel, people):
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on="2026-03-04", place="Sallow Creek", surveyor_name="P. Prober",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    floor = Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F12", sided_mm=63.5, moulded_mm=127.0
    )
    Finding.objects.create(
        survey=survey, member=floor, recorded_by=people["surveyor"], condition="2", urgency=2,
        measure=2, seen="Soft 1 5/8 in deep.",
    )  # fmt: skip
    at = timezone.now()
    return issue_report(survey=survey, by=people["yard"], at=at, units="imperial")


@pytest.fixture
def read(page, issued, people, client, live_server):
    client.force_login(people["client"])
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    page.goto(issued.get_absolute_url())
    return page


def test_a_chapter_that_is_led_to_opens_and_the_way_back_leads_to_the_contents(read):
    finding = read.locator("#finding_F12")
    assert not finding.is_visible()
    read.locator(".report-contents").get_by_role("link", name="Findings").click()
    finding.wait_for(state="visible")
    read.locator(".to-contents a").click()
    read.wait_for_url("**#contents")
    read.goto(read.url.split("#")[0] + "#finding_F12")
    finding.wait_for(state="visible")
    assert read.mistakes == []


def test_no_figure_of_it_breaks_over_a_line(read):
    told = read.locator("#finding_F12")
    whole = "Soft 1 5/8 in deep.".replace("1 5/8 in", "1\u00a05/8\u00a0in")
    read.wait_for_function("text => document.body.textContent.includes(text)", arg=whole)
    assert "2\u00a01/2\u00a0in × 5\u00a0in" in told.text_content()
