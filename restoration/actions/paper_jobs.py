"""Drawing a long paper beside the site, so that nobody's page waits for it.

A job is a row that says what is asked and how far it has come. A worker (`manage.py work_papers`)
takes it up; where no worker is set up the task runs in place. While it draws it looks every half
second whether it was cancelled. What is only half done leaves nothing behind.
"""

import logging
import time
from datetime import timedelta

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models import Q
from django.utils import timezone
from django_tasks import task

from restoration.actions.reports import draft_content, issue_report
from restoration.models import Member, PaperJob, Photograph, Survey, User
from restoration.models.paper_job import LOST
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.survey_report import draw_report

logger = logging.getLogger(__name__)

MOST_PHOTOGRAPHS, MOST_MEMBERS = 24, 150
"""A report with more than either is drawn beside the site; one with fewer is there in a second."""

BEAT_S = 0.5
DRAFTS_KEPT = timedelta(days=1)
FAULT = "It ended by a fault of the program, which is noted in the site's log. Nothing was issued."


class Cancelled(Exception):
    """Someone asked that the paper be given up."""


def is_long(survey: Survey) -> bool:
    if _photographs(survey.pk).count() > MOST_PHOTOGRAPHS:
        return True
    return Member.objects.filter(vessel_id=survey.vessel_id).count() > MOST_MEMBERS


def begin_job(
    *, survey: Survey, kind: str, said: dict, by: User, expecting: int | None = None
) -> PaperJob:
    """Write the job down and hand it to the worker, or draw in place where there is none."""
    _forget_old_drafts()
    with transaction.atomic():
        Survey.objects.select_for_update().get(pk=survey.pk)
        for job in survey.paper_jobs.in_hand():
            _give_up_if_lost(job)
        if survey.paper_jobs.in_hand().filter(kind=kind).exists():
            raise ValidationError(
                "This paper is being drawn already. Wait for it, or cancel it and begin again."
            )
        job = PaperJob(survey=survey, kind=kind, said=said, asked_by=by, expecting=expecting)
        job.full_clean()
        job.save()
    carry_job.enqueue(job.pk)
    job.refresh_from_db()
    return job


def cancel_job(*, job: PaperJob) -> PaperJob:
    """At once where it has not begun or is lost; else within a second or so."""
    with transaction.atomic():
        job = PaperJob.objects.select_for_update().get(pk=job.pk)
        job.cancel_asked = True
        if job.state == PaperJob.State.WAITING or job.is_lost():
            job.state, job.ended_why = PaperJob.State.CANCELLED, "It was cancelled."
        job.save()
    return job


def look_at(job: PaperJob) -> PaperJob:
    """The job as it stands; one that gives no more signs of life is ended."""
    _give_up_if_lost(job)
    return job


@task()
def carry_job(job_id: int) -> None:
    """Draw the paper of a job to its end; whatever goes wrong is written on the row."""
    taken = PaperJob.objects.filter(pk=job_id, state=PaperJob.State.WAITING, cancel_asked=False)
    if not taken.update(state=PaperJob.State.RUNNING, beat_at=timezone.now()):
        return
    job = PaperJob.objects.select_related("survey__vessel", "asked_by").get(pk=job_id)
    try:
        _draw(job)
    except Cancelled:
        _end(job, PaperJob.State.CANCELLED, ended_why="It was cancelled. Nothing was issued.")
    except ValidationError as error:
        _end(job, PaperJob.State.FAILED, ended_why=" ".join(error.messages))
    except Exception:
        logger.exception("A paper on %s could not be drawn", job.survey)
        _end(job, PaperJob.State.FAILED, ended_why=FAULT)


def _draw(job: PaperJob) -> None:
    watch = _Watch(job)
    pictures = _Watched(watch)
    if job.kind == PaperJob.Kind.ISSUE:
        report = issue_report(
            survey=job.survey, by=job.asked_by, at=timezone.now(), expecting=job.expecting,
            pictures=pictures, told=watch.page, **job.said,
        )  # fmt: skip
        _end(job, PaperJob.State.DONE, report=report)
        return
    said = {name: words for name, words in job.said.items() if name != "check_at"}
    content = draft_content(survey_id=job.survey_id, by=job.asked_by, **said)
    pdf = draw_report(content, pictures, watch.page)
    job.draft.save(f"{content.vessel.code}-draft-report.pdf", ContentFile(pdf), save=False)
    _end(job, PaperJob.State.DONE, draft=job.draft.name)


class _Watch:
    """Writes down how far a job has come, twice a second, and hears whether it is to stop."""

    def __init__(self, job: PaperJob):
        self.job, self.last = job, 0.0
        self.photographs, self.pages = 0, 0
        self.all_photographs = _photographs(job.survey_id).count()
        # Before it is drawn nobody knows how many pages; the bar only has to keep moving.
        self.all_pages = 12 + self.all_photographs

    def photograph(self) -> None:
        self.photographs = min(self.photographs + 1, self.all_photographs)
        self._beat(f"photograph {self.photographs} of {self.all_photographs}")

    def page(self, number: int) -> None:
        self.pages = min(max(self.pages, number), self.all_pages)
        self._beat(f"page {number}")

    def _beat(self, doing: str) -> None:
        now = time.monotonic()
        if now - self.last < BEAT_S:
            return
        self.last = now
        row = PaperJob.objects.filter(pk=self.job.pk)
        row.update(
            beat_at=timezone.now(), doing=doing, steps=self.all_photographs + self.all_pages,
            steps_done=self.photographs + self.pages,
        )  # fmt: skip
        if row.filter(cancel_asked=True).exists():
            raise Cancelled


class _Watched(Pictures):
    """The stored photographs, each told as it is made small."""

    def __init__(self, watch: _Watch):
        super().__init__(default_storage.open)
        self._watch = watch

    def _shrunk(self, file, size):
        self._watch.photograph()
        return super()._shrunk(file, size)


def _photographs(survey_id: int):
    return Photograph.objects.filter(finding__survey_id=survey_id)


def _end(job: PaperJob, state: str, **ended) -> None:
    if state == PaperJob.State.DONE:
        PaperJob.objects.filter(pk=job.pk).update(steps=1, steps_done=1)
    PaperJob.objects.filter(pk=job.pk).update(
        state=state, beat_at=timezone.now(), doing="", **ended
    )


def _give_up_if_lost(job: PaperJob) -> None:
    if job.is_lost():
        _end(job, PaperJob.State.FAILED, ended_why=LOST)
        job.refresh_from_db()


def _forget_old_drafts() -> None:
    """A draft is looked at the day it is drawn; the register keeps none."""
    ended = PaperJob.objects.filter(~Q(draft=""), asked_at__lt=timezone.now() - DRAFTS_KEPT)
    for job in ended:
        job.draft.delete(save=False)
        PaperJob.objects.filter(pk=job.pk).update(draft="")
