from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone

from restoration.actions.paper_jobs import is_long
from restoration.actions.report_links import record_opening
from restoration.actions.reports import draft_content, issue_report, next_number
from restoration.forms.reports import IssueForm
from restoration.models import PaperJob, Report, ReportOpening, Survey, User
from restoration.reports.checklist import checklist
from restoration.reports.frozen import from_json
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.survey_report import draw_report
from restoration.reports.summary import renewed_since, summarise
from restoration.views.paper_jobs import begun
from restoration.views.report_files import file_state, pdf_response, private
from restoration.views.report_lacks import linked
from restoration.views.report_reading import draft_reading, reading_of
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_units

A_PAGE = 100
MOST_SURVEYS = 300  # looked through for those to report on


def reports(request):
    rows = Report.objects.visible_to(request.user).select_related(
        "vessel", "survey", "issued_by", "superseded_by"
    )
    page = Paginator(rows.order_by("-issued_at", "-pk"), A_PAGE).get_page(request.GET.get("page"))
    newest, older = ([], []) if request.user.role == "client" else _surveys()
    context = {"page": page, "newest": newest, "older": older}
    return render(request, "restoration/reports.html", context)


def _surveys() -> tuple[list[Survey], list[Survey]]:
    """The newest survey of each vessel, which is the one to report on as a rule; and the others."""
    newest, older = {}, []
    for survey in Survey.objects.newest_first().select_related("vessel")[:MOST_SURVEYS]:
        if newest.setdefault(survey.vessel_id, survey) is not survey:
            older.append(survey)
    return list(newest.values()), older[:A_PAGE]


def report_draft(request, survey_id):
    survey = _survey(survey_id)
    words = _said_before(request, survey) or _first_words(request, survey)
    if "read" in request.GET:
        return _draft_read(request, survey, words)
    return _draft_page(request, survey, IssueForm(initial=words))


def _draft_read(request, survey: Survey, words: dict):
    """The whole draft as the client would read it on a screen."""
    content = draft_content(
        survey_id=survey.pk, by=request.user, units=words["reader_units"],
        readers=words["readers"], remarks=words["remarks"],
    )  # fmt: skip
    context = {"survey": survey, **draft_reading(survey.vessel_id, content)}
    return private(render(request, "restoration/report_draft_read.html", context), no_store=True)


def report_draft_pdf(request, survey_id):
    """The draft as paper: as the form was filled in, or by its first words when just asked for."""
    survey = _survey(survey_id)
    form = IssueForm(request.POST if request.method == "POST" else _first_words(request, survey))
    if not form.is_valid():
        return _draft_page(request, survey, form)
    if is_long(survey):
        return begun(request, survey, PaperJob.Kind.DRAFT, form.said())
    content = draft_content(survey_id=survey.pk, by=request.user, **form.said())
    response = HttpResponse(
        draw_report(content, Pictures(default_storage.open)), content_type="application/pdf"
    )
    name = f"{content.vessel.code}-draft-report.pdf"
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return private(response, no_store=True)


def report_issue(request, survey_id):
    survey = _survey(survey_id)
    if request.method != "POST":
        return redirect("restoration:report_draft", survey.pk)
    form = IssueForm(request.POST)
    if form.is_valid():
        expecting = row_number(request.POST.get("expecting"))
        said = {**form.said(), "check_at": _check_at(request)}
        try:
            if is_long(survey):
                return begun(request, survey, PaperJob.Kind.ISSUE, said, expecting)
            given = {"survey": survey, "by": request.user, "at": timezone.now(), **said}
            return redirect(issue_report(expecting=expecting, **given))
        except ValidationError as error:
            form.add_error(None, error)
    return _draft_page(request, survey, form)


def _check_at(request) -> str:
    """Where a paper can be checked; {code} stands for the code it will have."""
    path = reverse("restoration:report_check_code", args=["CODE"])
    return request.build_absolute_uri(path).replace("CODE", "{code}")


def report(request, pk):
    report = get_object_or_404(
        Report.objects.select_related(
            "vessel", "survey", "issued_by", "supersedes", "superseded_by"
        ),
        pk=pk,
    )
    _opened(request, report, ReportOpening.What.PAGE)
    content = from_json(report.content)
    context = {"report": report, "file": file_state(report), **reading_of(report, content)}
    return render(request, "restoration/report.html", context)


def report_pdf(request, pk):
    report = get_object_or_404(Report, pk=pk)
    response = pdf_response(report)
    _opened(request, report, ReportOpening.What.PDF)
    return response


def _opened(request, report: Report, what: str) -> None:
    """Each opening by a client is recorded; the yard's own looking is nobody's news."""
    if request.user.role == "client" and request.method == "GET":
        record_opening(report=report, user=request.user, what=what)


def _survey(survey_id: int) -> Survey:
    return get_object_or_404(Survey.objects.select_related("vessel__client"), pk=survey_id)


def _said_before(request, survey: Survey) -> dict | None:
    """What was typed for a paper that came to nothing: it is not to be typed again."""
    job = survey.paper_jobs.filter(pk=row_number(request.GET.get("job"))).first()
    if job is None:
        return None
    words = {name: job.said.get(name, "") for name in ("readers", "remarks", "paper")}
    return words | {"reader_units": job.said.get("units", "")}


def _first_words(request, survey: Survey) -> dict:
    """What the form says before anyone has touched it: the client, and how they read lengths."""
    client = survey.vessel.client
    reader = User.objects.filter(client=client).order_by("pk").first()
    return {
        "reader_units": reader.units if reader else own_units(request),
        "readers": client.name,
        "remarks": "",
        "paper": request.yard.paper,
    }


def _draft_page(request, survey: Survey, form: IssueForm):
    content = draft_content(
        survey_id=survey.pk,
        by=request.user,
        units=own_units(request),
        readers=form["readers"].value() or "",
        remarks=form["remarks"].value() or "",
    )
    context = {
        "survey": survey,
        "form": form,
        "number": next_number(survey.vessel_id),
        "content": content,
        "in_short": summarise(content),
        "renewed": renewed_since(survey.surveyed_on, content.replacements, content.threads),
        "points": linked(checklist(content, _lost_files(content)), survey),
    }
    status = 422 if form.is_bound else 200
    return render(request, "restoration/report_draft.html", context, status=status)


def _lost_files(content) -> list[str]:
    """The marks of members whose photographs' files are not in the store."""
    return [
        member.mark
        for member in content.members
        if member.finding
        for picture in member.finding.pictures
        if not default_storage.exists(picture.file)
    ]
