"""An issued report read on screen: its pictures, each only for those who may read the report."""

from django.core.files.storage import default_storage
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse

from restoration.models import Photograph, Report
from restoration.reports.content import PictureTaken, ReportContent
from restoration.reports.frozen import from_json
from restoration.reports.pdf.figures import DOTS_PER_INCH, Pictures
from restoration.reports.reading import reading
from restoration.reports.summary import pictures_of
from timber_stock.web.kept_pictures import for_this_reader

LONGEST_PX = 1200
COVER = 0


def reading_of(report: Report, content: ReportContent) -> dict:
    """What the page of an issued report shows to whoever is signed in and may read it."""

    def address(number: int) -> str:
        return reverse("restoration:report_photograph", args=[report.pk, number])

    return reading(content, address, address(COVER))


def shared_reading(token: str, content: ReportContent) -> dict:
    """The same for whoever holds a link."""

    def address(number: int) -> str:
        return reverse("restoration:shared_report_photograph", args=[token, number])

    return reading(content, address, address(COVER))


def draft_reading(vessel_id: int, content: ReportContent) -> dict:
    """The same of a draft: its photographs are still served as those of the findings."""
    keys = dict(
        Photograph.objects.filter(finding__member__vessel=vessel_id).values_list("image", "pk")
    )
    pictures = pictures_of(content.members)

    def address(number: int) -> str:
        return reverse("restoration:photograph", args=[keys[pictures[number - 1].file], "full"])

    return reading(
        content, address, reverse("restoration:vessel_picture", args=[vessel_id, "full"])
    )


def report_photograph(request, pk, number):
    """The photograph of that number in the report as it was frozen; 0 is her picture."""
    return served(numbered(from_json(get_object_or_404(Report, pk=pk).content), number))


def numbered(content: ReportContent, number: int) -> PictureTaken:
    pictures = [content.cover, *pictures_of(content.members)]
    if number >= len(pictures) or pictures[number] is None:
        raise Http404
    return pictures[number]


def served(picture: PictureTaken) -> HttpResponse:
    """Small enough for a phone; a file that is lost or spoilt is said not to be there."""
    side = LONGEST_PX / DOTS_PER_INCH * 72
    jpeg = Pictures(default_storage.open).jpeg(picture.file, side, side)
    if jpeg is None:
        raise Http404
    return for_this_reader(HttpResponse(jpeg, content_type="image/jpeg"))
