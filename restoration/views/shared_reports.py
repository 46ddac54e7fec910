"""One issued report, opened by a link without signing in: that report and nothing else."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone

from restoration.actions.report_links import link_of, record_opening
from restoration.models import ReportLink, ReportOpening
from restoration.reports.frozen import from_json
from restoration.views.report_files import file_state, pdf_response
from restoration.views.report_reading import numbered, served, shared_reading


@login_not_required
def shared_report(request, token):
    link = link_of(token)
    if link is None or not link.stands(timezone.now()):
        return _refused(request, link)
    _record(request, link, ReportOpening.What.PAGE)
    content = from_json(link.report.content)
    context = {
        "link": link,
        "token": token,
        "report": link.report,
        "file": file_state(link.report),
        "superseded": hasattr(link.report, "superseded_by"),
        **shared_reading(token, content),
    }
    return _unlisted(render(request, "restoration/shared_report.html", context))


@login_not_required
def shared_report_pdf(request, token):
    link = link_of(token)
    if link is None or not link.stands(timezone.now()):
        return _refused(request, link)
    response = pdf_response(link.report)
    _record(request, link, ReportOpening.What.PDF)
    return _unlisted(response)


@login_not_required
def shared_report_photograph(request, token, number):
    """A photograph of the report that the link shows; 0 is her picture on the cover."""
    link = link_of(token)
    if link is None or not link.stands(timezone.now()):
        return _refused(request, link)
    return _unlisted(served(numbered(from_json(link.report.content), number)))


def _record(request, link: ReportLink, what: str) -> None:
    if request.method == "GET":
        record_opening(report=link.report, link=link, what=what)


def _refused(request, link: ReportLink | None) -> HttpResponse:
    """A guessed link learns only that it is none; one that was good learns why it no longer is."""
    context = {"state": link.state() if link else "unknown"}
    status = 410 if link else 404
    return _unlisted(
        render(request, "restoration/shared_report_refused.html", context, status=status)
    )


def _unlisted(response: HttpResponse) -> HttpResponse:
    response.headers["X-Robots-Tag"] = "noindex, nofollow"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["Cache-Control"] = "private, no-store"
    return response
