"""The layout on paper, to take to the bench."""

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.text import slugify

from restoration.calc import keel_bolts
from restoration.calc.fastening_sources import CAUTION
from restoration.models import FasteningPlan
from restoration.reports.pdf.fastening_sheet import FasteningSheet, draw_fastening_sheet
from restoration.views.fastening_facts import has_ballast, woods_of
from restoration.views.fastening_plans import drawing_of
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

    head, point = plan.head(), plan.point()
    return FasteningSheet(
        vessel=plan.joint.one.vessel.name,
        title=f"{plan.name}: {head} on {point}",
        yard=yard.name,
        facts=[
            ("Face", f"{say(plan.length_mm)} × {say(plan.width_mm)}"),
            (f"Heads in {head}", say(plan.head_thickness_mm)),
            (f"Behind it {point}", say(plan.point_thickness_mm)),
        ],
        drawing=drawing_of(plan, woods_of(plan), units),
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
        cautions=[CAUTION, *([keel_bolts.CAUTION] if has_ballast(plan) else [])],
        paper=yard.paper,
    )
