"""A layout under the hand: judged against every rule, and drawn at the station looked at."""

from timber_stock.drawings.log_section import section_svg
from timber_stock.drawings.section_views import bolt_at, section_at
from timber_stock.forms.layout_sheet import LayoutSheet
from timber_stock.models import SawingPlan, figures_of
from timber_stock.sawing.judge_layout import judge_layout
from timber_stock.sawing.layout import worth_mm3
from timber_stock.sawing.request import Request
from timber_stock.web.fields import format_for
from timber_stock.wood.shrinkage import shrinkage_percent

DRIED_TO_PERCENT = 15.0  # assumed, for the shape shown; the wood of a boat lies near it
EXAGGERATION = 3.0


def judged_sheet(plan: SawingPlan, sheet: LayoutSheet, units: str) -> dict:
    """The layout judged and drawn at its station, which is told in the reader's units."""
    layout = sheet.layout()
    judged = judge_layout(sheet.request, layout)
    number = bolt_at(layout, sheet.station_mm)
    rows = [
        {"row": row, "judged": verdict, "line": _line(sheet.request, row.id), "here": n == number}
        for n, (held, verdicts) in enumerate(zip(sheet.rows_by_place(), judged.bolts, strict=True))
        for row, verdict in zip(held, verdicts, strict=True)
    ]
    return {
        "sheet": sheet, "rows": rows, "judged": judged, "bolt_number": number,
        "worth_mm3": worth_mm3(sheet.request, layout),
        "svg": _drawn(plan, sheet, layout, judged, number, units) if layout else "",
        "dried": _shrinkage(plan) is not None, "dried_to": DRIED_TO_PERCENT,
        "exaggeration": EXAGGERATION,
    }  # fmt: skip


def _line(request: Request, name: str):
    return next(timber for timber in request.wanted if timber.id == name)


def _drawn(plan, sheet, layout, judged, number, units) -> str:
    faulty = {n: bool(verdict.faults) for n, verdict in enumerate(judged.bolts[number])}
    title = f"The section {format_for(sheet.station_mm, units)} from the butt, seen from the butt"
    keys = [str(row.key) for row in sheet.rows_by_place()[number]]
    section = section_at(
        sheet.request, layout[number], sheet.station_mm, title, key="hand", faulty=faulty,
        shrinkage=_shrinkage(plan), exaggeration=EXAGGERATION, keys=keys,
    )  # fmt: skip
    return section_svg(section)


def _shrinkage(plan: SawingPlan) -> tuple[float, float] | None:
    """Radial and tangential shrinkage from green to the moisture shown, where both are known."""
    wood = figures_of(plan.log.species)
    total = [wood.number(name) for name in ("radial_percent", "tangential_percent")]
    if None in total:
        return None
    return shrinkage_percent(total[0], DRIED_TO_PERCENT), shrinkage_percent(
        total[1], DRIED_TO_PERCENT
    )
