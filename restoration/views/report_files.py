"""The file of an issued report, sent out and told to be still the one that was issued."""

import hashlib

from django.http import FileResponse, Http404, HttpResponseBase
from django.utils.cache import patch_cache_control

from restoration.models import Report


def file_state(report: Report) -> str:
    """Whether the stored file is still the one that was issued, told from its bytes."""
    try:
        with report.pdf.open("rb") as file:
            held = hashlib.file_digest(file, "sha256").hexdigest()
    except FileNotFoundError:
        return "missing"
    return "as issued" if held == report.sha256 else "changed"


def pdf_response(report: Report) -> FileResponse:
    name = f"{report.content['vessel']['code']}-report-{report.number}.pdf"
    try:
        file = report.pdf.open("rb")
    except FileNotFoundError as error:
        raise Http404("The file of this report is not in the store.") from error
    return private(FileResponse(file, filename=name, content_type="application/pdf"), max_age=3600)


def private(response: HttpResponseBase, **control) -> HttpResponseBase:
    """For whoever asked, and no cache between."""
    patch_cache_control(response, private=True, **control)
    response.headers["X-Content-Type-Options"] = "nosniff"
    return response
