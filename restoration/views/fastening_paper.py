"""The layout on paper, to take to the bench."""

from collections.abc import Sequence

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.text import capfirst, slugify

from restoration.calc import group_action
from restoration.calc.fastening_layout import Distance
from restoration.models import FasteningPlan
from restoration.reports.pdf.fastening_sheet import FasteningSheet, draw_fastening_sheet
from restoration.views.fastening_facts import Line as FasteningLine
from restoration.views.fastening_facts import (
    cautions_of,
    distances_of,
    lines_of,
    woods_of,
)
from restoration.views.fastening_plans import drawing_of
from timber_stock.templatetags.measures import movement
from timber_stock.web.fields import format_for
from timber_stock.web.pages import own_units


def fastening_plan_pdf(request, plan_id):
    plan = get_object_or_404(FasteningPlan.objects.whole(), pk=plan_id)
    sheet = _sheet(plan, own_units(request), request.yard)
    answer = HttpResponse(draw_fastening_sheet(sheet), content_type="application/pdf")
    name = slugify(f"{plan.joint.one.vessel.code} {plan.head()} {plan.name}") or "fastenings"
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer


def _sheet(plan: FasteningPlan, units: str, yard) -> FasteningSheet:
    def say(mm: float) -> str:
        return format_for(mm, units)

    head, point, woods = plan.head(), plan.point(), woods_of(plan)
    checked = distances_of(plan, woods)
    lines = lines_of(plan, woods, checked)
    return FasteningSheet(
        vessel=plan.joint.one.vessel.name,
        title=f"{capfirst(plan.name)}: {head} on {point}",
        yard=yard.name,
        facts=[
            ("Face", f"{say(plan.length_mm)} × {say(plan.width_mm)}"),
            (f"Heads in {head}", say(plan.head_thickness_mm)),
            (f"Behind it {point}", say(plan.point_thickness_mm)),
        ],
        drawing=drawing_of(plan, woods, units),
        holes=[
            (
                str(hole.number),
                say(hole.x_mm),
                say(hole.y_mm),
                f"{row.fastening}, {say(row.fastening.diameter_mm)} × "
                f"{say(row.fastening.length_mm)}",
            )
            for row, hole in plan.numbered
        ],
        bores=_bores(lines, units),
        rows=_rows(lines),
        short=_short(checked),
        cautions=cautions_of(plan.joint),
        paper=yard.paper,
    )


def _bores(lines: Sequence[FasteningLine], units: str) -> list[str]:
    """What to bore for each line of fastenings, with where the size is from."""
    told = []
    for line in lines:
        what = f"{capfirst(str(line.fastening))}, {format_for(line.fastening.diameter_mm, units)}"
        for bore in line.bores:
            sizes = dict.fromkeys(movement(mm, units) for mm in (bore.least_mm, bore.most_mm))
            note = f"; {bore.note}" if bore.note else ""
            told.append(f"{what}: bore {bore.where} {' to '.join(sizes)}{note}. {bore.source}.")
    return list(dict.fromkeys(told))


def _rows(lines: Sequence[FasteningLine]) -> list[str]:
    """How much each of a row keeps by the NDS, with its source and its caution once."""
    told = [
        f"{capfirst(str(line.fastening))}: {line.group.said}"
        for line in lines
        if line.group.said and line.group.factor
    ]
    if not told:
        return []
    return [*dict.fromkeys(f"{each} {group_action.SOURCE}." for each in told), group_action.CAUTION]


def _short(checked: Sequence[Distance]) -> str:
    short = [each for each in checked if not each.is_full]
    if not short:
        return ""
    holes = ", ".join(str(number) for number in sorted({each.hole for each in short}))
    return (
        f"{len(short)} of {len(checked)} distances are shorter than one or both publications want "
        f"(holes {holes}): see the page of this layout before boring."
    )
