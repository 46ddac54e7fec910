"""Sharing an issued report: its links, and everyone who has opened it."""

from dataclasses import dataclass

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from restoration.actions.report_links import make_link, token_of, withdraw_link
from restoration.forms.report_links import LinkForm
from restoration.models import Report, ReportLink

MOST_OPENINGS = 100


@dataclass(frozen=True)
class LinkShown:
    link: ReportLink
    address: str


def report_links(request, pk):
    report = get_object_or_404(Report.objects.select_related("vessel"), pk=pk)
    form = LinkForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            link = make_link(report=report, by=request.user, **form.cleaned_data)
        except ValidationError as error:
            form.add_error(None, error)  # it names the field itself
        else:
            messages.success(request, f"The link for {link.meant_for} is made. Copy it below.")
            return redirect("restoration:report_links", report.pk)
    status = 422 if form.is_bound else 200
    return render(
        request, "restoration/report_links.html", _context(request, report, form), status=status
    )


@require_POST
def report_link_withdraw(request, pk):
    link = get_object_or_404(ReportLink, pk=pk)
    withdraw_link(link=link, by=request.user)
    messages.success(request, f"The link for {link.meant_for} is withdrawn: it opens nothing now.")
    return redirect("restoration:report_links", link.report_id)


def _context(request, report: Report, form: LinkForm) -> dict:
    links = report.links.with_openings().select_related("made_by", "withdrawn_by")
    openings = report.openings.select_related("link", "user")
    return {
        "report": report,
        "form": form,
        "links": [LinkShown(link, _address(request, link)) for link in links],
        "openings": openings[:MOST_OPENINGS],
        "opened": openings.count(),
    }


def _address(request, link: ReportLink) -> str:
    path = reverse("restoration:shared_report", args=[token_of(link)])
    return request.build_absolute_uri(path)
