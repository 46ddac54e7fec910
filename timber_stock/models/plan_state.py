"""A kept plan read back: its request, its layout, and how its cuts came."""

from dataclasses import dataclass, replace
from typing import Any

from timber_stock.sawing.as_cut import Part, replay, uncut
from timber_stock.sawing.layout import Layout, Placed
from timber_stock.sawing.read_layout import parse_layout
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Request

from .board import Board
from .sawing_plan import SawingPlan


@dataclass(frozen=True)
class Told:
    """What a kept plan says, as the pure modules read it."""

    request: Request
    layout: Layout
    rows: list[dict[str, Any]]  # of the cutting list, with what the planner does not ask for

    def placed(self, part: Part) -> Placed:
        return self.layout[part.bolt].timbers[part.timbers[0]]

    def wanted_row(self, line: int) -> dict[str, Any]:
        return self.rows[line]

    def id_of(self, part: Part) -> str:
        return self.request.wanted[self.placed(part).line].id


def as_it_stands(plan: SawingPlan) -> Told:
    request = parse_request(plan.request)
    return Told(request, parse_layout(request, plan.plan["bolts"]), plan.request["wanted"])


def over_mm_of(plan: SawingPlan) -> dict[int, float]:
    """By how much each cut made came high of the plan, by its step."""
    return dict(plan.cuts_made.values_list("step", "over_mm"))


def tags_sawn_again(plan: SawingPlan) -> dict[int, str]:
    """The tags of the boards that the plan saws again, by the bolts they stand as."""
    ids = {n: bolt["board"] for n, bolt in enumerate(plan.plan["bolts"]) if bolt.get("board")}
    tags = dict(Board.objects.filter(pk__in=ids.values()).values_list("pk", "tag"))
    return {number: tags[pk] for number, pk in ids.items() if pk in tags}


def parts_now(plan: SawingPlan, told: Told) -> tuple[Part, ...]:
    """Every piece that lies there after the cuts made so far, offcuts too."""
    over = over_mm_of(plan)
    made = [cut for cut in plan.cuts() if cut["step"] in over]
    if not made:
        return uncut(told.request, told.layout, plan.cuts())
    buckings = [cut for cut in plan.cuts() if cut["piece"] == "log" and cut["step"] not in over]
    parts = replay(told.request, told.layout, [*made], over)[-1].after
    if buckings:  # the log is not yet wholly crosscut, so nothing is ripped either
        joined = {cut["bolt"] for cut in buckings}
        parts = tuple(replace(p, bucked=p.bolt not in joined and p.bucked) for p in parts)
    return parts
