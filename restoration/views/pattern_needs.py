"""What a pattern needs from the wood: page, and the sizes it gives to a specification."""

import math

from django.shortcuts import get_object_or_404
from django.utils.safestring import mark_safe

from restoration.calc.pattern_needs import needs_of
from restoration.calc.pattern_needs_bolts import SOURCE as HOLE_SOURCE
from restoration.calc.pattern_needs_crook import Crook
from restoration.calc.pattern_needs_runout import (
    CAUTION,
    LIMITS,
    WOOD_HANDBOOK,
    RunOut,
    slope_words,
)
from restoration.calc.pattern_needs_sizes import Blank
from restoration.drawings.pattern_needs import crook_svg, way_svg
from restoration.forms.pattern_needs import NeedsForm
from restoration.models import Pattern
from restoration.reports.pattern_needs import gather_needs
from timber_stock import measure
from timber_stock.web.addresses import row_number
from timber_stock.web.fields import format_for
from timber_stock.web.pages import own_units, page_or_piece
from timber_stock.wood.weights import LIFTING_CAUTION


def pattern_needs(request, pk):
    pattern = get_object_or_404(
        Pattern.objects.select_related("member__vessel", "member__wood"), pk=pk
    )
    form = NeedsForm(request.GET or None, units=own_units(request))
    wood = form.cleaned_data.get("wood") if form.is_valid() else None
    try:
        found = gather_needs(pattern, wood, form.heart())
    except ValueError as error:
        form.add_error(None, str(error))
        found = gather_needs(pattern, wood, None)
    context = {
        "pattern": pattern,
        "member": pattern.member,
        "form": form,
        "found": found,
        "caution": CAUTION,
        "lifting_caution": LIFTING_CAUTION,
        "strength_source": WOOD_HANDBOOK,
        "hole_source": HOLE_SOURCE,
        "limits": LIMITS,
        **_drawn(pattern, found, own_units(request)),
    }
    page, piece = "restoration/pattern_needs.html", "restoration/_pattern_needs.html"
    return page_or_piece(request, page, piece, context, status=422 if form.errors else 200)


def _drawn(pattern, found, units) -> dict:
    shape, needs = pattern.shape(), found.needs
    ways = [
        {
            "way": way,
            "svg": mark_safe(way_svg(shape, way, needs.line, found.heart)),
            "size": _size(way.blank, units),
            "yield": 100 * needs.yield_of(way.blank),
            "runs": _run_words(way.runs),
        }
        for way in needs.ways
    ]
    if not needs.crook:
        return {"ways": ways}
    return {
        "ways": ways,
        "crook_words": _asked_for(needs.crook, units),
        "crook_svg": mark_safe(crook_svg(shape, needs.crook)),
        "crook_runs": _run_words(needs.crook.left),
    }


def needs_brief(pattern: Pattern, units: str) -> dict:
    """For the pattern's own page: its pieces and run-outs, and how it lies with grain as drawn."""
    shape = pattern.shape()
    needs = needs_of(shape)
    rows = [
        (
            way,
            _size(way.blank, units),
            slope_words(way.runs.worst_deg) if way.runs else "not to be told",
        )
        for way in needs.ways
    ]
    return {
        "svg": mark_safe(way_svg(shape, needs.ways[0], needs.line)),
        "rows": rows,
        "crook": _asked_for(needs.crook, units),
        "caution": CAUTION,
    }


def _size(blank: Blank, units: str) -> str:
    return f"{_no_less(blank.width_mm, units)} × {_no_less(blank.length_mm, units)}"


def _asked_for(crook: Crook | None, units: str) -> str:
    return crook.words(lambda mm: _no_less(mm, units)) if crook else ""


def _no_less(mm: float, units: str) -> str:
    """Up to the next whole millimetre or sixteenth: a piece that much smaller would not do.

    No line ends within it: “8” with “7/16 in” on the next line is read as 8.
    """
    if units == "metric":
        text = format_for(math.ceil(mm - 0.01), units)
    else:
        sixteenths = math.ceil(16 * measure.inches_from_mm(mm) - 0.01)
        text = format_for(measure.mm_from_inches(sixteenths / 16), units)
    return text.replace(" ", "\N{NO-BREAK SPACE}")


def _run_words(runs: RunOut | None) -> dict | None:
    if runs is None:
        return None
    return {
        "worst": slope_words(runs.worst_deg),
        "degrees": runs.worst_deg,
        "kept": 100 * runs.kept,
        "beyond": [(limit, 100 * share) for limit, share in zip(LIMITS, runs.beyond, strict=True)],
    }


def pattern_sizes(request, member) -> dict:
    """Sided, moulded and length of the squared piece that a pattern named in the address needs.

    `?pattern=7&way=flitch`; nothing for any other address.
    """
    asked = row_number(request.GET.get("pattern"))
    pattern = Pattern.objects.filter(pk=asked, member=member).first()
    if pattern is None:
        return {}
    ways = needs_of(pattern.shape()).ways
    # Ways that come to the same are told once, under the first one's key.
    way = next((way for way in ways if request.GET.get("way") in way.keys), ways[0])
    return {
        "sided_mm": pattern.sided_mm,
        "moulded_mm": round(way.blank.width_mm, 1),
        "length_mm": round(way.blank.length_mm, 1),
    }
