"""A long paper being drawn: how far it is, the button that cancels it, and what came of it."""

from datetime import timedelta

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from restoration.actions.paper_jobs import begin_job, cancel_job, look_at
from restoration.models import PaperJob, Survey
from restoration.views.report_files import private
from timber_stock.web.pages import page_or_piece

LONG_WAIT = timedelta(seconds=15)


def paper_job(request, pk):
    job = look_at(_job(pk))
    if job.report_id and request.htmx:
        return HttpResponse(status=204, headers={"HX-Redirect": job.report.get_absolute_url()})
    if job.report_id:
        return redirect(job.report)
    context = {
        "job": job,
        "survey": job.survey,
        "share": job.share_percent(),
        "waits_long": job.state == PaperJob.State.WAITING
        and timezone.now() - job.asked_at > LONG_WAIT,
    }
    page, piece = "restoration/paper_job.html", "restoration/_paper_job.html"
    return page_or_piece(request, page, piece, context)


def paper_job_pdf(request, pk):
    job = _job(pk)
    try:
        file = job.draft.open("rb")
    except (FileNotFoundError, ValueError) as error:
        raise Http404("This draft is no longer kept: ask for it again.") from error
    name = f"{job.survey.vessel.code}-draft-report.pdf"
    response = FileResponse(file, filename=name, content_type="application/pdf")
    return private(response, no_store=True)


@require_POST
def paper_job_cancel(request, pk):
    job = cancel_job(job=_job(pk))
    return redirect(job)


def begun(request, survey: Survey, kind: str, said: dict, expecting: int | None = None):
    """To the page of the job just begun, or of the one in hand already."""
    try:
        job = begin_job(survey=survey, kind=kind, said=said, by=request.user, expecting=expecting)
    except ValidationError:
        job = survey.paper_jobs.in_hand().filter(kind=kind).first()
        if job is None:
            raise
        if job.said != said:
            messages.warning(request, _not_yours(job))
    return redirect(job)


def _not_yours(job: PaperJob) -> str:
    """Said to the second of two who ask at once: the paper that comes is not what they typed."""
    asked = timezone.localtime(job.asked_at)
    return (
        f"This one was begun at {asked:%H:%M}, as {job.asked_by.full_name()} filled the form in. "
        "What you typed is not in it: cancel it, or wait and begin another after it."
    )


def _job(pk) -> PaperJob:
    return get_object_or_404(PaperJob.objects.select_related("survey__vessel", "report"), pk=pk)
