"""Long papers are drawn beside the site: how far they are is shown, and they can be cancelled."""

from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from restoration.actions import paper_jobs
from restoration.actions.paper_jobs import begin_job, cancel_job, is_long, look_at
from restoration.models import Member, PaperJob, Photograph, Report

SAID = {"units": "metric", "readers": "The owner", "remarks": "Look at her garboards."}
PLACE = "http://yard.example/check/{code}/"


@pytest.fixture
def worker(settings):
    """A worker is said to run: what is asked waits until the test lets it work."""
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}


def work():
    call_command("db_worker", batch=True, startup_delay=False, interval=0, verbosity=0)


@pytest.fixture
def long(monkeypatch):
    monkeypatch.setattr(paper_jobs, "MOST_MEMBERS", -1)


@pytest.fixture
def beating(monkeypatch):
    """Looks at every step whether it is cancelled, so that the test need not be slow."""
    monkeypatch.setattr(paper_jobs, "BEAT_S", 0)


def begin(survey, people, kind="issue", **given):
    said = {**SAID, "check_at": PLACE} if kind == "issue" else SAID
    return begin_job(survey=survey, kind=kind, said=said, by=people["surveyor"], **given)


def test_a_report_is_long_by_its_photographs_or_its_members(survey, make_spec, monkeypatch):
    finding = make_spec(survey, "F12").finding
    assert not is_long(survey)
    monkeypatch.setattr(paper_jobs, "MOST_PHOTOGRAPHS", 1)
    for number in (1, 2):
        Photograph.objects.create(
            finding=finding, image=f"p{number}", thumbnail=f"t{number}", width_px=8,
            height_px=6, sha256=f"{number:064}",
        )  # fmt: skip
    assert is_long(survey)
    Photograph.objects.all().delete()
    assert not is_long(survey)
    monkeypatch.setattr(paper_jobs, "MOST_MEMBERS", Member.objects.count() - 1)
    assert is_long(survey)


@pytest.mark.django_db(transaction=True)
def test_without_a_worker_a_long_report_is_issued_in_place(survey, people):
    job = begin(survey, people, expecting=1)
    assert job.state == "done"
    assert job.report == Report.objects.get()
    assert (job.report.number, job.report.content["readers"]) == (1, "The owner")


@pytest.mark.django_db(transaction=True)
def test_with_a_worker_nothing_is_drawn_until_it_takes_the_job_up(survey, people, worker):
    job = begin(survey, people)
    assert (job.state, Report.objects.count()) == ("waiting", 0)
    work()
    job.refresh_from_db()
    assert (job.state, job.report.number, job.share_percent()) == ("done", 1, 100)


@pytest.mark.django_db(transaction=True)
def test_a_job_cancelled_before_it_begins_is_never_drawn(survey, people, worker):
    job = cancel_job(job=begin(survey, people))
    work()
    job.refresh_from_db()
    assert (job.state, Report.objects.count()) == ("cancelled", 0)


@pytest.mark.django_db(transaction=True)
def test_a_job_cancelled_while_it_is_drawn_leaves_nothing_behind(
    survey, people, worker, beating, monkeypatch
):
    job = begin(survey, people)
    told = paper_jobs._Watch.page

    def page(watch, number):
        if number == 3:
            PaperJob.objects.update(cancel_asked=True)
        told(watch, number)

    monkeypatch.setattr(paper_jobs._Watch, "page", page)
    work()
    job.refresh_from_db()
    assert (job.state, Report.objects.count()) == ("cancelled", 0)
    assert not default_storage.exists("reports") or not default_storage.listdir("reports")[1]


@pytest.mark.django_db(transaction=True)
def test_how_far_it_is_can_be_seen_while_it_is_drawn(survey, people, worker, beating, monkeypatch):
    begin(survey, people, kind="draft")
    seen = []
    told = paper_jobs._Watch.page

    def page(watch, number):
        told(watch, number)
        seen.append(PaperJob.objects.values_list("doing", "steps_done", "state").get())

    monkeypatch.setattr(paper_jobs._Watch, "page", page)
    work()
    assert ("page 2", 2, "running") in seen
    assert [done for _, done, _ in seen] == sorted(done for _, done, _ in seen)


@pytest.mark.django_db(transaction=True)
def test_one_paper_of_a_kind_is_drawn_at_a_time(survey, people, worker):
    begin(survey, people)
    with pytest.raises(ValidationError, match="drawn already"):
        begin(survey, people)
    assert begin(survey, people, kind="draft").state == "waiting"


@pytest.mark.django_db(transaction=True)
def test_a_job_without_a_sign_of_life_is_said_to_be_lost_and_makes_way(survey, people, worker):
    job = begin(survey, people)
    PaperJob.objects.update(state="running", beat_at=timezone.now() - timedelta(minutes=2))
    job.refresh_from_db()
    assert "The work was lost" in look_at(job).ended_why
    assert begin(survey, people).pk != job.pk


@pytest.mark.django_db(transaction=True)
def test_a_fault_is_written_on_the_job_and_nothing_is_issued(survey, people, monkeypatch):
    def broken(*args, **options):
        raise RuntimeError("no paper")

    monkeypatch.setattr(paper_jobs, "issue_report", broken)
    job = begin(survey, people)
    assert (job.state, Report.objects.count()) == ("failed", 0)
    assert "a fault of the program" in job.ended_why


@pytest.mark.django_db(transaction=True)
def test_a_number_taken_meanwhile_ends_the_job_and_says_so(survey, people, worker):
    first = begin(survey, people, expecting=1)
    work()
    PaperJob.objects.filter(pk=first.pk).update(report=None, state="failed")
    job = begin(survey, people, expecting=1)
    work()
    job.refresh_from_db()
    assert (job.state, Report.objects.count()) == ("failed", 1)
    assert "has been issued meanwhile" in job.ended_why


@pytest.mark.django_db(transaction=True)
def test_the_page_of_a_job_leads_to_what_came_of_it(client, survey, people, worker, long):
    client.force_login(people["surveyor"])
    draft = reverse("restoration:report_draft", args=[survey.pk])
    sent = {"reader_units": "metric", "readers": "Old Sorrel", "remarks": "", "paper": "A4"}
    response = client.post(f"{draft}issue/", sent | {"expecting": "1"})
    job = PaperJob.objects.get()
    assert response["Location"] == job.get_absolute_url()
    waiting = client.get(job.get_absolute_url())
    assert "Waiting for the worker" in waiting.content.decode()
    work()
    report = Report.objects.get()
    assert client.get(job.get_absolute_url())["Location"] == report.get_absolute_url()
    swapped = client.get(job.get_absolute_url(), headers={"HX-Request": "true"})
    assert swapped["HX-Redirect"] == report.get_absolute_url()
    assert report.content["standing"]["check_address"].endswith(f"/check/{report.check_code}/")


@pytest.mark.django_db(transaction=True)
def test_a_long_draft_is_read_from_its_job_and_asked_for_twice_is_one_job(
    client, survey, people, worker, long
):
    client.force_login(people["surveyor"])
    address = reverse("restoration:report_draft_pdf", args=[survey.pk])
    assert client.get(address)["Location"] == client.get(address)["Location"]
    work()
    job = PaperJob.objects.get()
    assert "Read the draft" in client.get(job.get_absolute_url()).content.decode()
    file = client.get(reverse("restoration:paper_job_pdf", args=[job.pk]))
    assert b"".join(file.streaming_content).startswith(b"%PDF")


@pytest.mark.django_db(transaction=True)
def test_what_was_typed_for_a_cancelled_paper_is_not_typed_again(client, survey, people, worker):
    job = cancel_job(job=begin(survey, people))
    client.force_login(people["surveyor"])
    page = client.get(job.get_absolute_url()).content.decode()
    back = f"{reverse('restoration:report_draft', args=[survey.pk])}?job={job.pk}"
    assert back in page
    assert "Look at her garboards." in client.get(back).content.decode()


@pytest.mark.django_db(transaction=True)
def test_a_job_that_waits_long_says_how_a_worker_is_started(client, survey, people, worker):
    job = begin(survey, people)
    PaperJob.objects.update(asked_at=timezone.now() - timedelta(minutes=1))
    client.force_login(people["yard"])
    assert "manage.py work_papers" in client.get(job.get_absolute_url()).content.decode()


@pytest.mark.django_db(transaction=True)
def test_drafts_of_yesterday_are_forgotten_with_their_files(survey, people):
    old = begin(survey, people, kind="draft")
    assert default_storage.exists(old.draft.name)
    PaperJob.objects.update(asked_at=timezone.now() - timedelta(days=2))
    begin(survey, people, kind="draft")
    assert len(default_storage.listdir("drafts")[1]) == 1
    assert PaperJob.objects.get(pk=old.pk).draft == ""


@pytest.mark.django_db(transaction=True)
def test_the_second_of_two_who_ask_at_once_is_told_that_the_paper_is_not_as_they_typed(
    survey, people, worker, long, client
):
    form = {"reader_units": "metric", "readers": "The owner", "paper": "A4", "expecting": "1"}
    issue = reverse("restoration:report_issue", args=[survey.pk])
    client.force_login(people["surveyor"])
    client.post(issue, {**form, "remarks": "Look at her garboards."})
    again = client.post(issue, {**form, "remarks": "Look at her garboards."}, follow=True)
    assert "What you typed is not in it" not in again.content.decode()
    client.force_login(people["yard"])
    other = client.post(issue, {**form, "remarks": "Look at her keel."}, follow=True)
    assert PaperJob.objects.count() == 1
    assert "as prober filled the form in. What you typed is not in it" in other.content.decode()
