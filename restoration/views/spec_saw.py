"""What to ask of the saw for a replacement, and what its section will do: page and piece."""

from urllib.parse import urlencode

from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone

from restoration.calc.green_fitting import CAUTION
from restoration.calc.sawn_green import Allowances
from restoration.forms.spec_sums import SpecSumsForm
from restoration.models import ReplacementSpec
from restoration.reports.spec_sums import Assumed, SpecSums, reckon_spec
from timber_stock.web.fields import format_for
from timber_stock.web.pages import own_units, page_or_piece


def spec_saw(request, pk):
    spec = get_object_or_404(ReplacementSpec.objects.for_list(), pk=pk)
    member = spec.finding.member
    context = {
        "spec": spec,
        "finding": spec.finding,
        "member": member,
        "vessel": member.vessel,
        **saw_context(request, spec),
    }
    refused = context["saw_said"] and request.GET
    page, piece = "restoration/spec_saw.html", "restoration/_spec_saw.html"
    return page_or_piece(request, page, piece, context, status=422 if refused else 200)


def saw_context(request, spec: ReplacementSpec) -> dict:
    """The sums of one specification with what the address asks for, or why there are none."""
    units = own_units(request)
    form = SpecSumsForm(request.GET.dict(), spec=spec, yard=request.yard, units=units)
    context = {"saw_form": form, "caution": CAUTION}
    if not form.is_valid():
        return context | {"saw_said": form.said()}
    try:
        sums = reckon_spec(spec, _assumed(form.cleaned_data, units), timezone.localdate())
    except ValueError as error:
        return context | {"saw_said": [("", str(error))]}
    return context | {"sums": sums, "saw_said": [], "compare": _compare(spec, sums, units)}


def _compare(spec: ReplacementSpec, sums: SpecSums, units: str) -> str:
    """The four ways of cutting this timber, at the size asked for."""
    small, large = sorted(side.ask_mm for side in sums.sides)
    asked = {
        "wood": spec.wood_id,
        "width": format_for(large, units),
        "thickness": format_for(small, units),
        "place": "",
        "moisture": f"{sums.service_percent:g}",
    }
    return f"{reverse('timber_stock:compare')}?{urlencode(asked)}"


def _assumed(asked: dict, units: str) -> Assumed:
    allowances = Allowances(asked["planing"], asked["variation"], asked["undersize"])
    return Assumed(asked["place"], allowances, asked["limits"], asked["exaggeration"], units)
