from urllib.parse import urlencode

from django.shortcuts import get_object_or_404
from django.urls import reverse

from timber_stock import measure
from timber_stock.drawings.bench_end import BenchPicture, bench_end_svg
from timber_stock.drawings.section_pictures import drawn_ends
from timber_stock.forms.bench import BenchForm
from timber_stock.forms.bench_begin import begin_bench
from timber_stock.models import Log
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_ring_limits, own_units, page_or_piece

LOGS_OFFERED = 100
SHARED = ("wood", "width", "thickness", "place", "moisture", "limits", "exaggeration")


def bench(request):
    """The whole state stands in the address: it can be shared, and needs no script."""
    units = own_units(request)
    form = BenchForm(_asked(request, units), units=units)
    form.is_valid()
    context = {
        "form": form,
        "answer": form.answer,
        "said": form.said(),
        "end_svg": _end_svg(form),
        "drawn": _drawn(form, units),
        "compare": f"{reverse('timber_stock:compare')}?{_shared(form)}",
    }
    if not request.htmx:
        logs = list(Log.objects.not_sawn_up().for_list()[:LOGS_OFFERED])
        context |= {"logs": logs, "log": _begun_from(form), "step": _step(units)}
    return page_or_piece(
        request,
        "timber_stock/bench.html",
        "timber_stock/_bench_shown.html",
        context,
        status=422 if request.GET and form.errors else 200,
    )


def _asked(request, units: str) -> dict:
    """What was typed, over what the bench begins with where something was not asked at all."""
    typed = request.GET.dict()
    if BenchForm.base_fields.keys() <= typed.keys():
        return typed
    number, log = row_number(typed.get("log")), None
    if number is not None and "butt" not in typed:
        log = get_object_or_404(Log.objects.for_list(), pk=number)
    return {**begin_bench(units, own_ring_limits(request), log), **typed}


def _begun_from(form: BenchForm) -> Log | None:
    log_id = form.cleaned_data.get("log")
    return log_id and Log.objects.filter(pk=log_id).first()


def _drawn(form: BenchForm, units: str) -> list:
    if not form.answer:
        return []
    return drawn_ends(form.answer.sheet, form.cleaned_data["exaggeration"], units, key="bench")


def _end_svg(form: BenchForm) -> str:
    """The end is drawn as soon as it is known, also where the section does not fit it."""
    ends, laid = form.ends, form.laid
    if not ends or not laid:
        return ""
    return bench_end_svg(
        BenchPicture(
            butt=ends.butt,
            top=ends.top,
            middle_mm=laid.middle_mm,
            width_mm=laid.width_mm,
            thickness_mm=laid.thickness_mm,
            turned_deg=laid.turned_deg,
            fits=ends.butt.holds(laid.outline_mm()),
            description="The log's end with the section laid in it",
        )
    )


def _shared(form: BenchForm) -> str:
    """What a comparison takes over, as it was typed."""
    return urlencode({name: form[name].value() or "" for name in SHARED})


def _step(units: str) -> dict:
    """The marks a dragged section goes by, and how the script is to write them."""
    if units == "metric":
        return {"mm": 1, "parts": 1, "unit": "mm"}
    parts = 32 if units == "imperial32" else 16
    return {"mm": measure.mm_from_inches(1 / parts), "parts": parts, "unit": "in"}
