"""What goes out of a pattern: a DXF drawing, a drawing to plot, the full-size paper pattern, and
the drawing it was taken from."""

from django.contrib import messages
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.text import slugify

from restoration.calc.pattern_dxf.writing import pattern_as_dxf
from restoration.calc.tiles import tiling
from restoration.drawings.pattern.sheets import full_size, is_drawn, with_sheets
from restoration.drawings.pattern.svg import svg, svg_file
from restoration.models import Pattern
from restoration.reports.pdf.pattern_tiles import PaperPattern, draw_paper_pattern, how_to_join
from restoration.reports.pdf.words import day
from restoration.views.pattern_drawing import named
from timber_stock.web.fields import size_for
from timber_stock.web.pages import own_units

TURNED = ", turned over"
DXF = "image/vnd.dxf"


def pattern_dxf_file(request, pk):
    pattern = _pattern(pk)
    data = pattern_as_dxf(pattern.shape(), _title(pattern))
    return _file(pattern, data, DXF, "dxf", attachment=True)


def pattern_drawing(request, pk):
    """The file as it was sent, to those whom the access table lets in; nothing else serves it."""
    pattern = get_object_or_404(Pattern.objects.select_related("drawing"), pk=pk)
    if pattern.drawing is None:
        raise Http404
    name = pattern.as_entered.get("file") or pattern.drawing.name
    try:
        file = pattern.drawing.file.open("rb")
    except (FileNotFoundError, ValueError) as error:  # lost from the disk, or never there
        raise Http404 from error
    answer = FileResponse(file, content_type=DXF, as_attachment=True, filename=name)
    answer["Cache-Control"] = "private, max-age=3600"
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


def pattern_svg(request, pk):
    pattern = _pattern(pk)
    names = named(pattern.name, pattern.member, own_units(request))
    turned = "turned" in request.GET
    drawing = full_size(pattern.shape(), names, mirrored=turned)
    return _file(pattern, svg_file(drawing), "image/svg+xml", "svg", attachment=True, turned=turned)


def pattern_tiles(request, pk):
    """The paper pattern; back to the page with a sentence where it would take too many sheets."""
    pattern = _pattern(pk)
    paper, turned = request.GET.get("paper", request.yard.paper), "turned" in request.GET
    try:
        made = draw_paper_pattern(_paper_pattern(request, pattern, paper, turned=turned))
    except ValueError as error:
        messages.error(request, str(error))
        return redirect(pattern)
    return _file(pattern, made, "application/pdf", "pdf", attachment=False, turned=turned)


def _paper_pattern(request, pattern: Pattern, paper: str, *, turned: bool) -> PaperPattern:
    units, shape = own_units(request), pattern.shape()
    names = named(pattern.name, pattern.member, units)
    drawing = full_size(shape, names, mirrored=turned)
    laid = tiling(drawing.width, drawing.height, paper, is_drawn(shape, mirrored=turned))
    facts = [
        ("Sided", size_for(pattern.sided_mm, units)),
        ("Taken of", f"{pattern.get_side_display()}{', turned over here' if turned else ''}"),
        ("Taken", f"{day(pattern.taken_on)}, version {pattern.version}"),
        ("Sheets", f"{len(laid.tiles)} of {paper}"),
    ]
    return PaperPattern(
        title=f"{_title(pattern)}{TURNED if turned else ''}",
        author=request.yard.name,
        svg=svg(drawing),
        wide_mm=drawing.width,
        tall_mm=drawing.height,
        index_svg=svg(with_sheets(shape, names, laid, mirrored=turned)),
        laid=laid,
        facts=facts,
        advice=how_to_join(laid),
    )


def _title(pattern: Pattern) -> str:
    member = pattern.member
    return f"{pattern.name}, {member.vessel.code}-{member.mark}, {member.vessel.name}"


def _file(
    pattern: Pattern, data, kind: str, ending: str, *, attachment: bool, turned: bool = False
) -> HttpResponse:
    member = pattern.member
    what = f"{member.vessel.code}-{member.mark} {pattern.name} v{pattern.version}"
    name = slugify(f"{what}{TURNED if turned else ''}")
    answer = HttpResponse(data, content_type=kind)
    how = "attachment" if attachment else "inline"
    answer["Content-Disposition"] = f'{how}; filename="{name}.{ending}"'
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


def _pattern(pk) -> Pattern:
    return get_object_or_404(Pattern.objects.select_related("member__vessel"), pk=pk)
