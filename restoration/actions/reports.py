"""Issuing a report: numbered, drawn, hashed and frozen, all at once or not at all."""

import hashlib
from datetime import datetime

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils import timezone

from restoration.models import Report, Survey, User, Vessel
from restoration.models.yard import Paper
from restoration.reports.content import ReportContent, Standing
from restoration.reports.frozen import to_json
from restoration.reports.gather import report_content
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.survey_report import draw_report, shrink_photographs


def next_number(vessel_id: int) -> int:
    last = _last(vessel_id)
    return last.number + 1 if last else 1


def draft_content(
    *,
    survey_id: int,
    by: User,
    units: str,
    readers: str = "",
    remarks: str = "",
    paper: str = Paper.A4,
) -> ReportContent:
    """What the report would say were it issued now, marked as a draft."""
    standing = Standing(number=None, on=timezone.localdate(), by=by.full_name())
    said = {"units": units, "readers": readers, "remarks": remarks, "paper": paper}
    return report_content(survey_id=survey_id, standing=standing, **said)


def issue_report(
    *,
    survey: Survey,
    by: User,
    at: datetime,
    units: str,
    readers: str = "",
    remarks: str = "",
    paper: str = Paper.A4,
    expecting: int | None = None,
) -> Report:
    """Issue the report of a survey; it takes the place of the vessel's last one.

    `expecting` is the number the issuer was shown: should another have been issued meanwhile,
    or the button been pressed twice, the issuer is told instead.
    """
    said = {"survey_id": survey.pk, "units": units, "readers": readers, "remarks": remarks}
    said |= {"paper": paper}
    pictures = Pictures(default_storage.open)
    # Shrinking photographs takes longest, so it is done before anyone is kept waiting.
    shrink_photographs(draft_content(by=by, **said), pictures)
    report = Report(survey=survey, issued_by=by, issued_at=at)
    try:
        with transaction.atomic():
            _number(report, expecting)
            content = report_content(standing=_standing(report), **said)
            _freeze(report, content, draw_report(content, pictures))
            report.full_clean()
            report.save()
    except BaseException:
        # The database forgets what failed; the file it wrote must go too.
        if report.pdf.name:
            report.pdf.storage.delete(report.pdf.name)
        raise
    return report


def _number(report: Report, expecting: int | None) -> None:
    """The next number of the vessel, which is held still until the report is kept."""
    report.vessel = Vessel.objects.select_for_update().get(pk=report.survey.vessel_id)
    report.supersedes = _last(report.vessel.pk)
    report.number = report.supersedes.number + 1 if report.supersedes else 1
    if expecting not in (None, report.number):
        raise ValidationError(
            f"Report {report.number - 1} of {report.vessel} has been issued meanwhile. Look at "
            "the draft again before you issue another."
        )


def _last(vessel_id: int) -> Report | None:
    return Report.objects.filter(vessel_id=vessel_id).order_by("-number").first()


def _standing(report: Report) -> Standing:
    return Standing(
        number=report.number,
        on=timezone.localdate(report.issued_at),
        by=report.issued_by.full_name(),
        supersedes=report.supersedes and report.supersedes.number,
    )


def _freeze(report: Report, content: ReportContent, pdf: bytes) -> None:
    report.content = to_json(content)
    report.sha256 = hashlib.sha256(pdf).hexdigest()
    report.pdf.save(
        f"{content.vessel.code}-report-{report.number}.pdf", ContentFile(pdf), save=False
    )
