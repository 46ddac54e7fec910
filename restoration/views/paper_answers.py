"""How a paper is answered: as a page to read, or as a PDF of the size asked for."""

from collections.abc import Sequence

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_cache_control
from django.utils.text import slugify

from restoration.models import Yard
from restoration.reports.paper import Paper
from restoration.reports.pdf.page import SIZES
from restoration.reports.pdf.paper import draw_paper

Crumbs = Sequence[tuple[str, str]]


def size_asked(request) -> str:
    """The paper the yard prints on, unless another is asked for by its name."""
    asked = request.GET.get("paper", "")
    return asked if asked in SIZES else Yard.current().paper


def as_page(
    request,
    paper: Paper,
    *,
    pdf: str,
    crumbs: Crumbs,
    sheets: Sequence[str] = (),
    more: Crumbs = (),
):
    """`more`: other addresses that go with the paper, each with its name."""
    context = {"paper": paper, "pdf": pdf, "crumbs": crumbs, "sheets": sheets, "more": more}
    return render(request, "restoration/paper.html", context)


def as_pdf(request, paper: Paper, *, lying: bool = False) -> HttpResponse:
    return pdf_answer(draw_paper(paper, size_asked(request), lying=lying), paper.file_name)


def pdf_answer(drawn: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(drawn, content_type="application/pdf")
    plain = slugify(name) or "paper"
    answer["Content-Disposition"] = f'inline; filename="{plain}.pdf"'
    answer["X-Content-Type-Options"] = "nosniff"
    patch_cache_control(answer, private=True, no_store=True)
    return answer
