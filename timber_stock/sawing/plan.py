"""The plan of a log as plain data: bolts, timbers and their figures, cuts, worth, refusals."""

from __future__ import annotations

import time
from typing import Any

from timber_stock.sawing import lawful
from timber_stock.sawing.bark_rings import bark_ring_mean_deg
from timber_stock.sawing.bound import HOW, bound_mm3
from timber_stock.sawing.cut_order import cut_list, turns
from timber_stock.sawing.judge_layout import TimberJudged, judge_timber, only_lawful
from timber_stock.sawing.layout import Bolt, Layout, Placed, worth_mm3
from timber_stock.sawing.log_solid import RolledLog, log_volume_mm3
from timber_stock.sawing.refusals import refusals
from timber_stock.sawing.request import Request, Wanted
from timber_stock.sawing.search import Allowance, Found, Progress, Stop, search
from timber_stock.sawing.settle import settled

REASONS_SHARE = 0.1  # of the seconds allowed, kept for saying why things were refused
REASONS_LEAST_S = 0.3


def make_plan(
    request: Request,
    allowance: Allowance,
    seed: int = 1,
    *,
    roll_deg: float | None = None,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> dict[str, Any]:
    """Search, and write the plan down; the same for the same request, steps and seed."""
    began = time.monotonic()
    bound = bound_mm3(request)
    found = search(
        request,
        allowance,
        seed,
        goal_mm3=bound,
        roll_deg=roll_deg,
        stop=stop,
        progress=progress,
    )
    until = None
    if allowance.seconds is not None:
        until = began + allowance.seconds
        until += max(REASONS_LEAST_S, REASONS_SHARE * allowance.seconds)
    plan = describe(request, tidy(request, found.layout), until, bound)
    return plan | {"search": _search_notes(found)}


def tidy(request: Request, layout: Layout) -> Layout:
    """Bolts in order along the log, with only what is lawful, drawn to the bolts' ends."""
    in_order = sorted(only_lawful(request, layout), key=lambda bolt: bolt.from_mm)
    return settled(request, tuple(in_order))


def describe(
    request: Request,
    layout: Layout,
    until: float | None = None,
    bound: float | None = None,
) -> dict[str, Any]:
    """A layout written down as a plan, without any search for a better one."""
    worth = worth_mm3(request, layout)
    volume = sum(request.wanted[t.line].volume_mm3 for b in layout for t in b.timbers)
    return {
        "bolts": [_bolt(request, bolt) for bolt in layout],
        "cuts": cut_list(request, layout),
        "worth_mm3": worth,
        "recovery": volume / log_volume_mm3(request.log),
        "bound_worth_mm3": bound_mm3(request) if bound is None else bound,
        "bound_how": HOW,
        "turns": sum(turns(request, bolt) for bolt in layout),
        "refused": [
            {"id": r.id, "count": r.count, "why": r.why} for r in refusals(request, layout, until)
        ],
    }


def _bolt(request: Request, bolt: Bolt) -> dict[str, Any]:
    return {
        "from_mm": bolt.from_mm,
        "to_mm": bolt.to_mm,
        "roll_deg": bolt.roll_deg,
        "turns": turns(request, bolt),
        "timbers": [_timber(request, bolt, placed) for placed in bolt.timbers],
    }


def _timber(request: Request, bolt: Bolt, placed: Placed) -> dict[str, Any]:
    timber = request.wanted[placed.line]
    judged = judge_timber(request, bolt, placed)
    size_x, size_y, length = placed.sizes(timber)
    at = lawful.places(placed.x_mm, placed.y_mm, placed.from_mm, placed.wide_x, placed.flipped)
    bark = bark_ring_mean_deg(RolledLog(request.log, bolt.roll_deg), timber, at)
    return {
        "id": timber.id,
        "x_mm": placed.x_mm,
        "y_mm": placed.y_mm,
        "size_x_mm": size_x,
        "size_y_mm": size_y,
        "from_mm": placed.from_mm,
        "length_mm": length,
        "wide_face": "x" if placed.wide_x else "y",
        "flipped": placed.flipped,
        "heart_clearance_mm": round(judged.heart_clearance_mm, 3),
        "ring_mean_deg": round(judged.ring_mean_deg, 3),
        "ring_worst_deg": round(_worst(timber, judged), 3),
        "ring_least_deg": round(judged.ring_least_deg, 3),
        "ring_greatest_deg": round(judged.ring_greatest_deg, 3),
        "bark_ring_mean_deg": round(bark, 3),
    }


def _worst(timber: Wanted, judged: TimberJudged) -> float:
    """The greatest angle where flat-sawn is asked for, the least everywhere else."""
    rings = timber.rings
    flat = rings.worst_max_deg is not None or rings.mean_max_deg is not None
    quarter = rings.worst_min_deg is not None or rings.mean_min_deg is not None
    return judged.ring_greatest_deg if flat and not quarter else judged.ring_least_deg


def _search_notes(found: Found) -> dict[str, Any]:
    return {"steps": found.steps, "seed": found.seed, "cut_short": found.cut_short}
