"""Small sums: each form asks by itself and is answered in its own part of the page."""

from timber_stock.forms.lift import LiftSheet
from timber_stock.forms.moisture_tools import AirForm, MeterForm, SampleForm
from timber_stock.forms.shrinkage_tools import PlanksForm, SizeForm
from timber_stock.web.pages import own_units, page_or_piece
from timber_stock.wood.meter import SALT_CAUTION
from timber_stock.wood.weights import LEANING_SLINGS, LIFTING_CAUTION

MOISTURE = {"air": AirForm, "meter": MeterForm, "sample": SampleForm}
SHRINKAGE = {"size": SizeForm, "planks": PlanksForm}


def moisture_tools(request):
    return _answer(request, "moisture_tools", MOISTURE, salt_caution=SALT_CAUTION)


def shrinkage_tools(request):
    return _answer(request, "shrinkage_tools", SHRINKAGE)


def lift_tools(request):
    sheet = LiftSheet(request.GET if "state" in request.GET else None, own_units(request))
    context = {"sheet": sheet, "caution": LIFTING_CAUTION, "slings": LEANING_SLINGS}
    return page_or_piece(
        request,
        "timber_stock/lift_tools.html",
        "timber_stock/_lift.html",
        context,
        status=422 if sheet.is_bound() and not sheet.pieces else 200,
    )


def _answer(request, page, kinds, **more):
    """The form that was asked (`ask` names it) with its answer; the others as they begin."""
    asked = request.GET.get("ask")
    units = own_units(request)
    forms = {
        name: kind(
            request.GET if name == asked else None,
            prefix=name,
            units=units,
            initial={"wood": request.GET.get("wood")},
        )
        for name, kind in kinds.items()
    }
    refused = asked in forms and not forms[asked].is_valid()
    piece = asked if asked in forms else next(iter(forms))
    return page_or_piece(
        request,
        f"timber_stock/{page}.html",
        f"timber_stock/_tool_{piece}.html",
        {**{f"{name}_form": form for name, form in forms.items()}, **more},
        status=422 if refused else 200,
    )
