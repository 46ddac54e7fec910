"""One issued report read by a link: signed, good for a while, withdrawn at will, openings kept."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone

from restoration.actions.report_links import link_of, make_link, token_of, withdraw_link
from restoration.actions.reports import issue_report
from restoration.models import ReportLink, ReportOpening

NOON = datetime(2026, 4, 9, 12, 0, tzinfo=UTC)


@pytest.fixture
def report(survey, people):
    return issue_report(survey=survey, by=people["surveyor"], at=NOON, units="metric")


@pytest.fixture
def link(report, people):
    return make_link(
        report=report,
        meant_for="Wendeline Osk, insurer",
        expires_at=timezone.now() + timedelta(days=9),
        by=people["surveyor"],
    )


def page(link):
    return reverse("restoration:shared_report", args=[token_of(link)])


def pdf(link):
    return reverse("restoration:shared_report_pdf", args=[token_of(link)])


@pytest.mark.django_db
def test_a_link_opens_its_report_without_a_sign_in_and_each_opening_is_kept(client, link, report):
    shown = client.get(page(link))
    assert shown.status_code == 200
    assert f"Report {report.number} on" in shown.content.decode()
    paper = client.get(pdf(link))
    assert b"".join(paper.streaming_content).startswith(b"%PDF")
    kept = ReportOpening.objects.filter(report=report, link=link)
    assert [opening.what for opening in kept] == ["pdf", "page"]


def test_a_shared_page_is_kept_out_of_caches_and_search(client, link):
    response = client.get(page(link))
    assert "no-store" in response["Cache-Control"]
    assert "noindex" in response["X-Robots-Tag"]
    assert response["Referrer-Policy"] == "no-referrer"


def test_a_shared_page_leads_nowhere_that_needs_a_sign_in(client, link):
    shown = client.get(page(link)).content.decode()
    body = shown[shown.index("<main") : shown.index("</main>")]
    assert {address.split("/")[1] for address in re.findall(r'href="(/[^"]*)"', body)} == {"shared"}


def test_a_link_of_one_report_does_not_open_another(client, link, report, survey, people):
    later = issue_report(survey=survey, by=people["surveyor"], at=NOON, units="metric")
    assert link_of(token_of(link)).report == report != later
    said = client.get(page(link)).content.decode()
    assert "This report is superseded" in said
    assert later.sha256 not in said


def test_a_withdrawn_link_opens_nothing_and_says_so(client, link, people):
    withdraw_link(link=link, by=people["yard"])
    for address in (page(link), pdf(link)):
        response = client.get(address)
        assert response.status_code == 410
        assert "withdrawn" in response.content.decode()
    assert not ReportOpening.objects.exists()


def test_an_expired_link_opens_nothing_and_says_so(client, link):
    past = timezone.now() - timedelta(seconds=1)
    ReportLink.objects.update(made_at=past - timedelta(days=1), expires_at=past)
    response = client.get(page(link))
    assert response.status_code == 410
    assert "a day that has passed" in response.content.decode()


@pytest.mark.parametrize("change", [lambda t: t[:-1] + "!", lambda t: "x" + t, lambda t: "guess"])
def test_a_guessed_or_altered_link_learns_only_that_it_is_none(client, link, change):
    response = client.get(reverse("restoration:shared_report", args=[change(token_of(link))]))
    assert response.status_code == 404
    said = response.content.decode()
    assert "not one that was made here" in said
    assert "Wendeline" not in said
    assert link.report.vessel.name not in said


def test_a_guess_never_reaches_the_database(client, link, django_assert_num_queries):
    with django_assert_num_queries(0):
        assert link_of("AAAA:BBBB") is None


def test_a_link_withdrawn_twice_keeps_the_first_withdrawal(link, people):
    first = withdraw_link(link=link, by=people["yard"])
    again = withdraw_link(link=link, by=people["surveyor"])
    assert (again.withdrawn_at, again.withdrawn_by) == (first.withdrawn_at, people["yard"])


@pytest.mark.parametrize(("days", "says"), [(-1, "still to come"), (400, "a year at most")])
def test_a_link_is_good_for_a_while_and_a_year_at_most(report, people, days, says):
    until = timezone.now() + timedelta(days=days)
    with pytest.raises(ValidationError, match=says):
        make_link(report=report, meant_for="M", expires_at=until, by=people["yard"])


def test_a_refused_link_keeps_what_was_typed(client, report, people):
    client.force_login(people["yard"])
    address = reverse("restoration:report_links", args=[report.pk])
    response = client.post(address, {"meant_for": "Old Sorrel", "expires_at": "2020-02-03"})
    assert response.status_code == 422
    said = response.content.decode()
    assert "Choose a day still to come." in said
    assert 'value="Old Sorrel"' in said
    assert 'value="2020-02-03"' in said


def test_the_page_of_links_shows_each_with_its_state_and_who_opened_it(
    client, link, report, people
):
    client.get(page(link))
    client.force_login(people["client"])
    client.get(report.get_absolute_url())
    client.force_login(people["yard"])
    client.get(report.get_absolute_url())
    address = reverse("restoration:report_links", args=[report.pk])
    said = client.get(address).content.decode()
    assert f"http://testserver{page(link)}" in said
    assert "Opened 1 time," in said
    assert "the link for Wendeline Osk, insurer" in said
    assert ReportOpening.objects.count() == 2  # the yard's own looking is not counted
    client.post(reverse("restoration:report_link_withdraw", args=[link.pk]))
    said = client.get(address).content.decode()
    assert page(link) not in said
    assert "withdrawn" in said


def test_the_queries_of_the_page_of_links_do_not_grow(
    client, link, report, people, django_assert_max_num_queries
):
    client.force_login(people["yard"])
    address = reverse("restoration:report_links", args=[report.pk])
    for number in range(7):
        until = timezone.now() + timedelta(days=3 + number)
        other = make_link(report=report, meant_for=f"R{number}", expires_at=until, by=link.made_by)
        client.get(page(other))
    client.get(address)
    with django_assert_max_num_queries(7):
        client.get(address)
