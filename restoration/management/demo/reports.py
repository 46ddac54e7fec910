"""The reports of the yawl: one issued after her first survey, one in force, and a link to it."""

from datetime import timedelta

from django.utils import timezone

from restoration.actions.report_links import make_link
from restoration.actions.reports import issue_report
from restoration.models import Report, Survey, User

from .read import flat, read


def load_reports(site: str) -> None:
    """The one in force is issued last: it tells what has become of everything loaded before."""
    said = read("reports")
    report = issue(said["present"], site)
    for link in said["link"]:
        make_link(
            report=report,
            meant_for=link["meant_for"],
            expires_at=timezone.now() + timedelta(days=link["days"]),
            by=report.issued_by,
        )


def report_on(survey: Survey, site: str) -> None:
    """Issued before anything later is loaded, so that it says nothing of what was still to come."""
    row = read("reports")["earlier"]
    if (row["vessel"], row["survey"]) == (survey.vessel.code, survey.surveyed_on):
        issue(row, site)


def issue(row: dict, site: str) -> Report:
    return issue_report(
        survey=Survey.objects.get(vessel__code=row["vessel"], surveyed_on=row["survey"]),
        by=User.objects.get(username="surveyor"),
        at=timezone.make_aware(row["issued"]),
        units="imperial",
        readers=row.get("readers", ""),
        remarks=flat(row["remarks"]),
        check_at=site + "/check/{code}/",
    )
