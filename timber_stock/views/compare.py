from timber_stock.drawings.section_pictures import drawn_alike
from timber_stock.forms.bench_begin import usual_wood
from timber_stock.forms.compare import CompareForm, begin_compare
from timber_stock.web.pages import own_ring_limits, own_units, page_or_piece


def compare(request):
    """Quarter, rift, flat and boxed heart of one timber; all of it stands in the address."""
    units = own_units(request)
    typed = request.GET.dict()
    begin = begin_compare(units, own_ring_limits(request))
    if "wood" not in typed:
        begin["wood"] = usual_wood()
    form = CompareForm({**begin, **typed}, units=units)
    form.is_valid()
    return page_or_piece(
        request,
        "timber_stock/compare.html",
        "timber_stock/_compare_shown.html",
        {"form": form, "answer": form.answer, "said": form.said(), "ways": _drawn(form, units)},
        status=422 if request.GET and form.errors else 200,
    )


def _drawn(form: CompareForm, units: str) -> list:
    """Each way with its picture; a single-ended sheet has one."""
    if not form.answer:
        return []
    times = form.cleaned_data["exaggeration"]
    ways = form.answer.ways
    drawn = drawn_alike([way.sheet for way in ways], times, units, key="way")
    return list(zip(ways, drawn, strict=True))
