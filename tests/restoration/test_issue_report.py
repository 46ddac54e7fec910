"""Issuing a report: numbered without gaps, frozen for good, whoever is quicker."""

import hashlib
import threading
from datetime import UTC, datetime

import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.db import connection

from restoration.actions.reports import issue_report, next_number
from restoration.models import Finding, ReplacementSpec, Report, Survey
from restoration.reports.frozen import from_json
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.survey_report import draw_report

NOON = datetime(2026, 4, 9, 12, 0, tzinfo=UTC)


@pytest.fixture
def told(survey, make_spec, deep_log, promise):
    promise(make_spec(survey, "F12"), "L7-2b1", 100, 1300)
    return survey


def issue(survey, people, **given):
    facts = {"survey": survey, "by": people["surveyor"], "at": NOON, "units": "imperial"}
    return issue_report(**(facts | given))


def stored(report):
    with report.pdf.open("rb") as file:
        return file.read()


def test_reports_are_numbered_by_vessel_and_each_supersedes_the_last(
    told, people, make_spec, other_vessel
):
    other = Survey.objects.create(
        vessel=other_vessel, surveyed_on=NOON.date(), place="Sallow Creek", lying="afloat",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    reports = [issue(told, people), issue(other, people), issue(told, people)]
    assert [report.number for report in reports] == [1, 1, 2]
    assert [report.supersedes for report in reports] == [None, None, reports[0]]
    assert Report.objects.get(pk=reports[0].pk).superseded_by == reports[2]
    assert next_number(told.vessel_id) == 3


def test_the_file_is_kept_with_its_hash_and_the_content_draws_it_again(told, people):
    report = issue(told, people, readers="The owner", remarks="Look again in spring.")
    assert hashlib.sha256(stored(report)).hexdigest() == report.sha256
    kept = from_json(Report.objects.get(pk=report.pk).content)
    assert (kept.readers, kept.remarks) == ("The owner", "Look again in spring.")
    assert kept.standing.number == 1
    assert draw_report(kept, Pictures(default_storage.open)) == stored(report)


def test_later_edits_do_not_change_an_issued_report(told, people):
    report = issue(told, people)
    first = stored(report)
    told.vessel.name, told.vessel.code = "Renamed", "NEW"
    told.vessel.save()
    ReplacementSpec.objects.update(note="changed")
    Finding.objects.create(
        survey=told, member=Finding.objects.get().member, recorded_by=people["yard"],
        condition="0", urgency=0, measure=0,
    )  # fmt: skip
    issue(told, people)
    report = Report.objects.get(pk=report.pk)
    assert stored(report) == first
    assert hashlib.sha256(first).hexdigest() == report.sha256
    assert draw_report(from_json(report.content), Pictures(default_storage.open)) == first


def test_an_issued_report_cannot_be_saved_again(told, people):
    report = issue(told, people)
    report.number = 9
    with pytest.raises(TypeError, match="never changed"):
        report.save()


def test_whoever_was_shown_another_number_is_told_and_nothing_is_kept(told, people):
    issue(told, people, expecting=1)
    with pytest.raises(ValidationError, match="Report 1 of Tenacious Wren has been issued"):
        issue(told, people, expecting=1)
    assert Report.objects.count() == 1
    assert len(default_storage.listdir("reports")[1]) == 1


def test_when_the_register_refuses_the_file_is_taken_away_again(told, people, monkeypatch):
    def refuse(self, *args, **kwargs):
        assert default_storage.exists(self.pdf.name)
        raise RuntimeError("the disk of the database is full")

    monkeypatch.setattr(Report, "save", refuse)
    with pytest.raises(RuntimeError, match="full"):
        issue(told, people)
    assert default_storage.listdir("reports")[1] == []
    monkeypatch.undo()
    assert issue(told, people).number == 1


def at_once(count, work):
    """Run `work` in so many threads that start together; what each returned or was told."""
    start, outcomes = threading.Barrier(count), []

    def run():
        try:
            start.wait(timeout=30)
            outcomes.append(work().number)
        except ValidationError:
            outcomes.append("told no")
        finally:
            connection.close()

    threads = [threading.Thread(target=run) for _ in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=120)
    return outcomes


@pytest.mark.django_db(transaction=True)
def test_three_people_who_issue_at_once_get_consecutive_numbers(told, people):
    assert sorted(at_once(3, lambda: issue(told, people))) == [1, 2, 3]
    chain = Report.objects.order_by("number").values_list("number", "supersedes__number")
    assert list(chain) == [(1, None), (2, 1), (3, 2)]


@pytest.mark.django_db(transaction=True)
def test_of_two_who_press_issue_report_1_at_once_one_is_told(told, people):
    outcomes = at_once(2, lambda: issue(told, people, expecting=1))
    assert sorted(map(str, outcomes)) == ["1", "told no"]
    assert Report.objects.count() == 1
