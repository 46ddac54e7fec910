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
from restoration.reports.pdf.page import Told, nobody
from restoration.reports.pdf.survey_report import draw_report

MOST_ATTEMPTS = 5
"""How often a report is drawn anew because another of its vessel was issued while it was drawn."""


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
    check_at: str = "",
    expecting: int | None = None,
    pictures: Pictures | None = None,
    told: Told = nobody,
) -> Report:
    """Issue the report of a survey; it takes the place of the vessel's last one.

    `expecting` is the number the issuer was shown: should another have been issued meanwhile,
    or the button been pressed twice, the issuer is told instead. `check_at` is the address, with
    {code} in it, at which whoever holds the paper can check it.
    """
    said = {"survey_id": survey.pk, "units": units, "readers": readers, "remarks": remarks}
    said |= {"paper": paper}
    pictures = pictures or Pictures(default_storage.open)
    for _ in range(MOST_ATTEMPTS):
        report = Report(survey=survey, issued_by=by, issued_at=at)
        with transaction.atomic():
            _number(report, expecting)
            content = report_content(standing=_standing(report, check_at), **said)
        # Drawing takes longest, and nobody else is kept waiting while it goes on.
        pdf = draw_report(content, pictures, told)
        if _kept(report, content, pdf):
            return report
        if expecting is not None:
            break
    raise _issued_meanwhile(report.vessel)


def _kept(report: Report, content: ReportContent, pdf: bytes) -> bool:
    """Whether its number was still free; the vessel is held still while it is kept."""
    try:
        with transaction.atomic():
            Vessel.objects.select_for_update().get(pk=report.vessel_id)
            if next_number(report.vessel_id) != report.number:
                return False
            _freeze(report, content, pdf)
            report.full_clean()
            report.save()
    except BaseException:
        # The database forgets what failed; the file it wrote must go too.
        if report.pdf.name:
            report.pdf.storage.delete(report.pdf.name)
        raise
    return True


def _number(report: Report, expecting: int | None) -> None:
    """The next number of the vessel, as it is now."""
    report.vessel = Vessel.objects.select_for_update().get(pk=report.survey.vessel_id)
    report.supersedes = _last(report.vessel.pk)
    report.number = report.supersedes.number + 1 if report.supersedes else 1
    if expecting not in (None, report.number):
        raise _issued_meanwhile(report.vessel)


def _issued_meanwhile(vessel: Vessel) -> ValidationError:
    return ValidationError(
        f"Report {next_number(vessel.pk) - 1} of {vessel} has been issued meanwhile. Look at "
        "the draft again before you issue another."
    )


def _last(vessel_id: int) -> Report | None:
    return Report.objects.filter(vessel_id=vessel_id).order_by("-number").first()


def _standing(report: Report, check_at: str) -> Standing:
    return Standing(
        number=report.number,
        on=timezone.localdate(report.issued_at),
        by=report.issued_by.full_name(),
        supersedes=report.supersedes and report.supersedes.number,
        check_code=report.check_code if check_at else "",
        check_address=check_at.replace("{code}", report.check_code),
    )


def _freeze(report: Report, content: ReportContent, pdf: bytes) -> None:
    report.content = to_json(content)
    report.sha256 = hashlib.sha256(pdf).hexdigest()
    report.pdf.save(
        f"{content.vessel.code}-report-{report.number}.pdf", ContentFile(pdf), save=False
    )
