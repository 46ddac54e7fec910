"""Whoever holds a paper can tell whether it is one that was issued, and learns nothing else."""

import hashlib
import io
from datetime import UTC, datetime

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from restoration.actions.report_check import as_typed
from restoration.actions.reports import issue_report
from restoration.models.report import CHECK_LETTERS, new_check_code
from restoration.reports.pdf.check_mark import in_fours

NOON = datetime(2026, 4, 9, 12, 0, tzinfo=UTC)


@pytest.fixture
def report(survey, people):
    return issue_report(survey=survey, by=people["surveyor"], at=NOON, units="metric")


def check(client, **said):
    return client.post("/check/", said)


def stored(report):
    with report.pdf.open("rb") as file:
        return file.read()


def test_the_code_on_a_paper_tells_number_date_and_standing(client, report):
    response = client.get(f"/check/{report.check_code}/")
    said = response.content.decode()
    assert response.status_code == 200
    assert f"This is report {report.number}, issued 9 April 2026" in said
    assert "It is not superseded." in said


def test_nothing_is_told_beyond_number_date_and_standing(client, report):
    said = client.get(f"/check/{report.check_code}/").content.decode()
    told = (report.vessel.name, report.vessel.code, report.vessel.client.name, report.sha256)
    assert not [secret for secret in told if secret in said]
    assert "/reports/" not in said


def test_a_superseded_report_is_told_as_one(client, report, survey, people):
    issue_report(survey=survey, by=people["surveyor"], at=NOON, units="metric")
    said = client.get(f"/check/{report.check_code}/").content.decode()
    assert "It is superseded" in said


@pytest.mark.parametrize("written", [str.lower, in_fours, lambda code: f" {code} "])
def test_a_code_is_read_however_it_was_copied(client, report, written):
    said = check(client, words=written(report.check_code)).content.decode()
    assert f"This is report {report.number}," in said


def test_a_hash_is_read_in_capitals_and_in_groups(client, report):
    groups = " ".join(report.sha256[n : n + 8].upper() for n in range(0, 64, 8))
    said = check(client, words=groups).content.decode()
    assert f"This is report {report.number}," in said
    assert "no letter of that file has changed" in said


def test_the_file_itself_is_known_by_its_bytes_and_one_byte_more_is_not(client, report):
    good = stored(report)
    assert hashlib.sha256(good).hexdigest() == report.sha256
    for data, status in ((good, 200), (good + b" ", 404)):
        file = SimpleUploadedFile("report.pdf", data, "application/pdf")
        assert client.post("/check/", {"file": file, "words": ""}).status_code == status


@pytest.mark.parametrize("guess", ["ABCD2345WXYZ", "f" * 64])
def test_a_guess_is_told_that_no_report_answers(client, report, guess):
    response = check(client, words=guess)
    assert response.status_code == 404
    assert "No report here answers to that" in response.content.decode()


@pytest.mark.parametrize(
    ("words", "says"), [("ABC-234", "That is 6 letters and figures"), ("", "Type the code or")]
)
def test_what_cannot_be_a_code_is_refused_and_kept(client, db, words, says):
    response = check(client, words=words)
    assert response.status_code == 422
    assert says in response.content.decode()
    assert f'value="{words}"' in response.content.decode() or not words


def test_a_file_larger_than_any_report_is_refused_with_the_limit(client, db, monkeypatch):
    monkeypatch.setattr("restoration.forms.report_links.LARGEST_FILE_MB", 0)
    response = client.post("/check/", {"file": io.BytesIO(b"%PDF-1.4"), "words": ""})
    assert response.status_code == 422
    assert "0 MB at most" in response.content.decode()


def test_codes_have_no_letter_that_is_taken_for_a_figure():
    codes = {new_check_code() for _ in range(200)}
    assert len(codes) == 200
    assert not set("01OILU") & set(CHECK_LETTERS)
    assert {as_typed(code)[0] for code in codes} == {"code"}
