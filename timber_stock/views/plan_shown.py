"""What the page of a plan shows: drawings of its ends, its timbers, what it is worth."""

from dataclasses import dataclass, replace
from typing import Any

from timber_stock.drawings.log_section import section_svg
from timber_stock.drawings.section_views import clipped_to_bark, cut_drawn, section_at
from timber_stock.models import SawingPlan
from timber_stock.models.plan_state import Told, as_it_stands
from timber_stock.sawing.as_cut import Cutting, replay
from timber_stock.sawing.guillotine import Z
from timber_stock.sawing.layout import Bolt
from timber_stock.sawing.read_layout import parse_layout

INSET_MM = 1.0  # a section is drawn just inside the ends of a bolt, where its timbers begin


@dataclass(frozen=True)
class BoltShown:
    number: int
    bolt: dict[str, Any]
    butt_svg: str
    top_svg: str
    clock: float


def bolts_shown(told: Told, plan: SawingPlan) -> list[BoltShown]:
    """Each bolt with timbers, drawn at both its ends with every ripping cut."""
    cuttings = replay(told.request, told.layout, plan.cuts())
    shown = []
    for number, (bolt, data) in enumerate(zip(told.layout, plan.plan["bolts"], strict=True)):
        if bolt.timbers:
            drawn = [_end(told, bolt, number, end, cuttings) for end in ("butt", "top")]
            shown.append(BoltShown(number + 1, data, *drawn, (bolt.roll_deg / 30) % 12 or 12))
    return shown


def _end(told: Told, bolt: Bolt, number: int, end: str, cuttings) -> str:
    z = bolt.from_mm + INSET_MM if end == "butt" else bolt.to_mm - INSET_MM
    title = f"Bolt {number + 1} at its {end} end, seen from the butt"
    section = section_at(told.request, bolt, z, title, key=f"b{number}{end}")
    kerf = told.request.saw.kerf_mm
    here = [c for c in cuttings if c.before.bolt == number and _lies_at(c, z)]
    lines = [cut_drawn(cutting, kerf, section.reach * 1.2) for cutting in here]
    cuts = [clipped_to_bark(section, line) for line in lines if line]
    return section_svg(replace(section, cuts=cuts))


def _lies_at(cutting: Cutting, z: float) -> bool:
    low, high = cutting.before.sawn[Z]
    return low <= z <= high


def timbers_shown(plan: SawingPlan) -> list[dict[str, Any]]:
    """Every timber placed, with for whom it is and its bolt."""
    lines = {line["id"]: line for line in plan.request["wanted"]}
    return [
        timber
        | {"bolt": number, "for": lines[timber["id"]].get("for", ""), "line": lines[timber["id"]]}
        for number, bolt in enumerate(plan.plan["bolts"], start=1)
        for timber in bolt["timbers"]
    ]


def ways_shown(told: Told, plan: SawingPlan) -> list[dict[str, Any]]:
    """The named ways beside the plan, each drawn at the butt, with what the plan gains on it."""
    shown = []
    for number, way in enumerate(plan.plan.get("ways", [])):
        layout = parse_layout(told.request, way["bolts"])
        bolt = max(layout, key=lambda b: len(b.timbers), default=None)
        svg = ""
        if bolt is not None:
            title = f"{way['name'].capitalize()}, at the butt end of its fullest bolt"
            z = bolt.from_mm + INSET_MM
            svg = section_svg(section_at(told.request, bolt, z, title, key=f"w{number}"))
        worth = way["worth_mm3"]
        ours = plan.plan.get("wanted_worth_mm3", plan.plan["worth_mm3"])
        gain = 100 * (ours / worth - 1) if worth > 0 else None
        shown.append(way | {"svg": svg, "gain": gain})
    return shown


def whole_plan(plan: SawingPlan) -> dict[str, Any]:
    told = as_it_stands(plan)
    bound = plan.plan["bound_worth_mm3"]
    return {
        "told": told,
        "bolts": bolts_shown(told, plan),
        "timbers": timbers_shown(plan),
        "ways": ways_shown(told, plan),
        "of_bound": 100 * plan.plan["worth_mm3"] / bound if bound else None,
    }
