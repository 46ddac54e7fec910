"""An issued report read on screen: its pictures, each only for those who may read the report."""

from django.core.files.storage import default_storage
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404

from restoration.models import Report
from restoration.reports.content import PictureTaken
from restoration.reports.frozen import from_json
from restoration.reports.pdf.figures import DOTS_PER_INCH, Pictures
from restoration.reports.summary import pictures_of

LONGEST_PX = 1200


def report_photograph(request, pk, number):
    """The photograph of that number in the report as it was frozen, counted from 1."""
    pictures = pictures_of(from_json(get_object_or_404(Report, pk=pk).content).members)
    if not 1 <= number <= len(pictures):
        raise Http404
    return served(pictures[number - 1])


def report_cover(request, pk):
    cover = from_json(get_object_or_404(Report, pk=pk).content).cover
    if cover is None:
        raise Http404
    return served(cover)


def served(picture: PictureTaken) -> HttpResponse:
    """Small enough for a phone; a file that is lost or spoilt is said not to be there."""
    side = LONGEST_PX / DOTS_PER_INCH * 72
    jpeg = Pictures(default_storage.open).jpeg(picture.file, side, side)
    if jpeg is None:
        raise Http404
    response = HttpResponse(jpeg, content_type="image/jpeg")
    response["Cache-Control"] = "private, max-age=3600"
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Disposition"] = "inline"
    return response
