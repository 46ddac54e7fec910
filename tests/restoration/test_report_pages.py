"""The pages of reports: the list, the draft with what it lacks, the issued one and its file."""

import io
import re

import pytest
from django.core.files.storage import default_storage
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from restoration.models import Client, Finding, Member, Photograph, Report, User, Vessel


@pytest.fixture
def told(survey, make_spec, deep_log, promise):
    promise(make_spec(survey, "F12"), "L7-2b1", 100, 1300)
    Member.objects.create(vessel=survey.vessel, kind="keel", mark="K1")
    return survey


@pytest.fixture
def as_(client, people):
    def sign_in(role):
        client.force_login(people[role])
        return client

    return sign_in


@pytest.fixture
def stranger(client):
    """A client who owns another boat."""
    owner = Client.objects.create(name="Ida Ferrow")
    Vessel.objects.create(code="KIT", name="Kittiwake of Sallow", client=owner)
    return User.objects.create_user("other", password="x-and-y-9", role="client", client=owner)


def url(name, key):
    return reverse(f"restoration:{name}", args=[key])


def said(**given):
    return {"reader_units": "metric", "readers": "Ottoline Verhaag", "expecting": "1"} | given


def issue(client, survey, **given):
    return client.post(url("report_issue", survey.pk), said(**given))


def pdf_text(response):
    body = b"".join(response.streaming_content) if response.streaming else response.content
    pages = PdfReader(io.BytesIO(body)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_the_draft_page_sums_up_and_names_what_is_missing(told, as_):
    page = as_("surveyor").get(url("report_draft", told.pk)).content.decode()
    read = re.sub(r"<[^>]+>", "", page)
    assert "no finding recorded of K1" in read
    assert "a photograph of F12" in read
    assert "Issue report 1" in page
    assert url("report_draft_pdf", told.pk) in page
    assert "Ottoline Verhaag" in page


def test_what_the_report_lacks_leads_to_where_it_is_put_right(told, as_):
    floor, keel = (told.vessel.members.get(mark=mark) for mark in ("F12", "K1"))
    finding = floor.findings.get()
    Finding.objects.filter(pk=finding.pk).update(urgency=3, measure=3)
    finding.specs.all().update(withdrawn_on=told.surveyed_on)
    page = as_("surveyor").get(url("report_draft", told.pk)).content.decode()
    add_floor, add_keel = (
        reverse("restoration:finding_new", args=[told.pk, member.pk]) for member in (floor, keel)
    )
    assert f'a photograph of <a href="{add_floor}">F12</a>' in page
    assert f'no finding recorded of <a href="{add_keel}">K1</a>' in page
    assert f'material of <a href="{url("member_edit", keel.pk)}">K1</a>' in page
    assert f'why none, for <a href="{url("spec_new", finding.pk)}">F12</a>' in page
    assert f'<a href="{url("vessel_edit", told.vessel_id)}">a general view' in page
    assert f'<a href="{url("survey_edit", told.pk)}">the weather</a>' in page
    assert f'<a href="{url("client_edit", told.vessel.client_id)}">the client' in page
    assert '<a href="#issue">remarks: when to look again</a>' in page


def test_the_draft_as_pdf_is_marked_and_never_kept_by_a_cache(told, as_):
    response = as_("surveyor").get(url("report_draft_pdf", told.pk))
    assert response.headers["Content-Type"] == "application/pdf"
    assert response.headers["Content-Disposition"] == 'inline; filename="TEN-draft-report.pdf"'
    assert "no-store" in response.headers["Cache-Control"]
    assert "DRAFT, not issued" in pdf_text(response)


def test_the_draft_as_pdf_shows_the_form_as_it_is_filled_in(told, as_):
    response = as_("yard").post(
        url("report_draft_pdf", told.pk), said(readers="The bank", remarks="Seen in rain.")
    )
    text = pdf_text(response)
    assert "Meant for The bank" in text
    assert "Seen in rain." in text
    assert "64 × 127 mm" in text
    assert Report.objects.count() == 0


def test_lengths_are_offered_as_the_client_reads_them(told, as_, people):
    people["client"].units = "metric"
    people["client"].save()
    page = as_("surveyor").get(url("report_draft", told.pk)).content.decode()
    assert '<option value="metric" selected>' in page


def test_issuing_leads_to_the_report_with_its_number_date_hash_and_file(told, as_):
    client = as_("surveyor")
    response = issue(client, told)
    report = Report.objects.get()
    assert response.url == report.get_absolute_url()
    page = client.get(response.url).content.decode()
    assert report.sha256 in page
    assert "TEN report 1" in page
    assert "the same today" in page
    file = client.get(url("report_pdf", report.pk))
    assert file.headers["Content-Disposition"] == 'inline; filename="TEN-report-1.pdf"'
    assert file.headers["X-Content-Type-Options"] == "nosniff"
    assert "private" in file.headers["Cache-Control"]
    assert "Report 1, issued" in pdf_text(file)


def test_a_refused_form_keeps_what_was_typed_and_issues_nothing(told, as_):
    response = issue(as_("surveyor"), told, readers="", remarks="Kept, I hope.")
    assert response.status_code == 422
    assert "Kept, I hope." in response.content.decode()
    assert Report.objects.count() == 0


def test_pressing_the_button_twice_issues_once_and_offers_the_next_number(told, as_):
    client = as_("surveyor")
    issue(client, told)
    response = issue(client, told)
    assert response.status_code == 422
    page = response.content.decode()
    assert "Report 1 of Tenacious Wren has been issued meanwhile" in page
    assert 'name="expecting" value="2"' in page
    assert Report.objects.count() == 1


def test_the_address_of_issuing_only_leads_to_the_draft_when_it_is_opened(told, as_):
    response = as_("surveyor").get(url("report_issue", told.pk))
    assert response.url == url("report_draft", told.pk)


def test_a_superseded_report_says_by_which_and_the_list_says_which_is_in_force(told, as_):
    client = as_("surveyor")
    issue(client, told)
    issue(client, told, expecting="2")
    first, second = Report.objects.order_by("number")
    page = client.get(first.get_absolute_url()).content.decode()
    assert "This report is superseded" in page
    assert second.get_absolute_url() in page
    listed = client.get(reverse("restoration:reports")).content.decode()
    assert listed.count("superseded by report 2") == 1
    assert listed.count("<b>in force</b>") == 1


def test_a_file_that_was_tampered_with_or_lost_is_said_on_the_page(told, as_):
    client = as_("surveyor")
    issue(client, told)
    report = Report.objects.get()
    with default_storage.open(report.pdf.name, "wb") as file:
        file.write(b"%PDF-1.4 another paper")
    assert "its hash differs" in client.get(report.get_absolute_url()).content.decode()
    default_storage.delete(report.pdf.name)
    assert "not in the store" in client.get(report.get_absolute_url()).content.decode()
    assert client.get(url("report_pdf", report.pk)).status_code == 404


def test_a_photograph_whose_file_is_lost_is_named_before_issue(told, as_):
    finding = Finding.objects.get()
    finding.photographs.create(
        image="photographs/lost.jpg", thumbnail="t", width_px=8, height_px=6, sha256="0" * 64
    )
    page = as_("surveyor").get(url("report_draft", told.pk)).content.decode()
    pictures = url("member_photographs", finding.member_id)
    assert f'the file of a photograph of <a href="{pictures}">F12</a>' in page


def test_the_client_reads_their_own_issued_reports_and_makes_none(told, as_):
    issue(as_("surveyor"), told)
    report, client = Report.objects.get(), as_("client")
    listed = client.get(reverse("restoration:reports")).content.decode()
    assert report.get_absolute_url() in listed
    assert "Make a report" not in listed
    assert client.get(report.get_absolute_url()).status_code == 200
    assert client.get(url("report_pdf", report.pk)).status_code == 200
    for name in ("report_draft", "report_draft_pdf", "report_issue"):
        assert client.get(url(name, told.pk)).status_code == 403
    assert issue(client, told).status_code == 403


def test_another_client_finds_no_trace_of_it(told, as_, client, stranger):
    issue(as_("surveyor"), told)
    report = Report.objects.get()
    client.force_login(stranger)
    assert "Tenacious" not in client.get(reverse("restoration:reports")).content.decode()
    assert client.get(report.get_absolute_url()).status_code == 404
    assert client.get(url("report_pdf", report.pk)).status_code == 404


def test_no_page_asks_more_of_the_database_when_there_is_more_to_show(
    told, as_, make_spec, promise
):
    client = as_("surveyor")
    issue(client, told)
    pages = [
        reverse("restoration:reports"),
        url("report_draft", told.pk),
        url("report_draft_pdf", told.pk),
        Report.objects.get().get_absolute_url(),
    ]
    few = [queries(client, page) for page in pages]
    for n in range(20, 26):
        promise(make_spec(told, f"F{n}"), "L7-2a", 100 * n, 100 * n + 90)
    for n in range(2, 5):
        issue(client, told, expecting=str(n))
    assert [queries(client, page) for page in pages] == few


def queries(client, page):
    with CaptureQueriesContext(connection) as asked:
        assert client.get(page).status_code == 200
    return len(asked)


def test_with_no_survey_the_list_says_where_to_start(as_, vessel):
    page = as_("surveyor").get(reverse("restoration:reports")).content.decode()
    assert "There is no survey to report on yet." in page
    assert "No report has been issued yet." in page


def test_the_whole_draft_can_be_read_on_screen_with_its_photographs(told, as_, people):
    keel = Member.objects.get(mark="K1")
    found = Finding.objects.create(
        survey=told, member=keel, recorded_by=people["surveyor"], condition="2", urgency=2,
        measure=2, seen="A check along the garboard seam.",
    )  # fmt: skip
    taken = Photograph.objects.create(
        finding=found, image="photographs/k.jpg", thumbnail="t", width_px=800, height_px=600,
        sha256="0" * 64, caption="the check",
    )  # fmt: skip
    draft = as_("surveyor").get(url("report_draft", told.pk))
    assert 'href="?read=1"' in draft.content.decode()
    answer = as_("surveyor").get(url("report_draft", told.pk), {"read": 1})
    page = answer.content.decode()
    assert "A check along the garboard seam." in page
    assert reverse("restoration:photograph", args=[taken.pk, "full"]) in page
    assert "It is not issued" in page
    assert 'id="sign_off"' in page
    assert "no-store" in answer["Cache-Control"]
    assert as_("client").get(url("report_draft", told.pk), {"read": 1}).status_code in (403, 404)
