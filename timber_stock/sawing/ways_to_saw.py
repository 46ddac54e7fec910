"""A log's plan beside the named ways of sawing it, and plans begun from a layout given.

*Through and through*: every cut one way, and each flitch edged with one turn. *Quartered*: split
through the heart both ways before anything else. They are searched as the plan itself is, each with
a share of the time, so that the gain is seen; should one of them turn out better, it is the plan.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from timber_stock.sawing.bound import bound_mm3
from timber_stock.sawing.by_products import with_by_products
from timber_stock.sawing.cut_order import turns
from timber_stock.sawing.layout import Bolt, Layout, counts, worth_mm3
from timber_stock.sawing.log_solid import log_volume_mm3
from timber_stock.sawing.plan import describe, tidy
from timber_stock.sawing.read_layout import layout_data
from timber_stock.sawing.request import Request, Wanted
from timber_stock.sawing.rest import rest_refused
from timber_stock.sawing.search import Allowance, Found, Stop, search

MAIN_SHARE, SIDE_SHARE, REASONS_SHARE = 0.6, 0.15, 0.1
REASONS_LEAST_S, EXTRA_LEAST_S = 0.3, 0.5
EXTRA_SHARE = 0.1

Told = Callable[[float, float], None]


@dataclass(frozen=True)
class _Way:
    name: str
    settings: dict[str, Any]


WAYS = (
    _Way("through and through", {"most_turns": 1, "quartered": False}),
    _Way("quartered", {"quartered": True, "most_turns": None}),
)


def plan_beside_ways(
    request: Request,
    seconds: float,
    stop: Stop,
    told: Told,
    seed: int = 1,
    stock_sizes: Sequence[Wanted] = (),
) -> dict[str, Any]:
    """The best plan found with the named ways beside it under `ways`; JSON-ready.

    Of `stock_sizes` what fits round it is added, each under `extra` with how many: the lines that
    the request must have for the plan to be read. `wanted_worth_mm3` is the worth without them.
    """
    main = _searched(request, seconds * MAIN_SHARE, stop, _part_of(told, 0.0, MAIN_SHARE), seed)
    best, ways, at = main, [], MAIN_SHARE
    for way in WAYS:
        asked = request.with_settings(**way.settings)
        found = _searched(asked, seconds * SIDE_SHARE, stop, _part_of(told, at, SIDE_SHARE), seed)
        at += SIDE_SHARE
        layout = tidy(request, found.layout)
        ways.append(_summary(way.name, request, layout))
        if _value(request, layout) > _value(request, best.layout) + 1e-6:
            best = found
    layout = tidy(request, best.layout)
    worth = worth_mm3(request, layout)
    fuller, layout, extra = _with_extra(request, layout, stock_sizes, seconds * EXTRA_SHARE, seed)
    plan = _written(fuller, layout, seconds)
    plan |= {"ways": ways, "extra": extra, "wanted_worth_mm3": worth}
    return plan | {"search": _notes(main, seed)}


def _with_extra(
    request: Request, layout: Layout, sizes: Sequence[Wanted], seconds: float, seed: int
) -> tuple[Request, Layout, dict[str, int]]:
    """The layout with the stock sizes that fit round it; the request with just those."""
    if not sizes or not layout:
        return request, layout, {}
    allowance = Allowance(seconds=max(EXTRA_LEAST_S, seconds))
    fuller, full = with_by_products(request, layout, sizes, allowance, seed)
    full = tidy(fuller, full)
    placed = counts(fuller, full)[len(request.wanted) :]
    extra = {size.id: count for size, count in zip(sizes, placed, strict=True) if count}
    lines = [replace(size, quantity=extra[size.id]) for size in sizes if size.id in extra]
    final = replace(request, wanted=(*request.wanted, *lines))
    index = {timber.id: n for n, timber in enumerate(final.wanted)}
    return final, tuple(_renumbered(fuller, bolt, index) for bolt in full), extra


def _renumbered(request: Request, bolt: Bolt, index: Mapping[str, int]) -> Bolt:
    timbers = [replace(t, line=index[request.wanted[t.line].id]) for t in bolt.timbers]
    return replace(bolt, timbers=tuple(timbers))


def plan_from(
    request: Request, start: Layout, seconds: float, stop: Stop, told: Told, seed: int = 1
) -> dict[str, Any]:
    """The best plan that keeps the bolts of `start` and every pinned timber in it; JSON-ready.

    A bolt with something pinned in it keeps its roll too: the pin was set for the rings as they
    ran there. ValueError should a pinned timber be lost all the same.
    """
    found = search(request, Allowance(seconds=seconds), seed, start=start, stop=stop, progress=told)
    layout = tidy(request, found.layout)
    if sum(map(_pins, layout)) < sum(map(_pins, start)):
        raise ValueError("A pinned timber stands at the very edge of a limit: draw it in a little.")
    return kept_as(request, layout, seconds) | {"search": _notes(found, seed)}


def _pins(bolt: Bolt) -> int:
    return sum(timber.pinned for timber in bolt.timbers)


def kept_as(request: Request, layout: Layout, seconds: float = 1.0) -> dict[str, Any]:
    """A lawful layout written down as a plan, as it stands."""
    plan = _written(request, layout, seconds)
    if any(bolt.roll_settled for bolt in layout):
        plan["refused"] = rest_refused(request, layout)
    return plan


def placed_ids(request: Request, layout: Layout) -> list[str]:
    """The id of every timber placed."""
    numbers = zip(request.wanted, counts(request, layout), strict=True)
    return [timber.id for timber, count in numbers for _ in range(count)]


def _written(request: Request, layout: Layout, seconds: float) -> dict[str, Any]:
    until = time.monotonic() + max(REASONS_LEAST_S, REASONS_SHARE * seconds)
    plan = describe(request, layout, until)
    for bolt, more in zip(plan["bolts"], layout_data(request, layout), strict=True):
        bolt |= {"faces": more["faces"], "roll_settled": more["roll_settled"]}
        for timber, held in zip(bolt["timbers"], more["timbers"], strict=True):
            timber["pinned"] = held["pinned"]
    return plan


def _searched(request: Request, seconds: float, stop: Stop, told: Told, seed: int) -> Found:
    goal = bound_mm3(request)
    allowance = Allowance(seconds=seconds)
    return search(request, allowance, seed, goal_mm3=goal, stop=stop, progress=told)


def _part_of(told: Told, begin: float, size: float) -> Told:
    best = [0.0]

    def passed_on(share: float, value: float) -> None:
        best[0] = max(best[0], value)
        told(begin + size * share, best[0])

    return passed_on


def _value(request: Request, layout: Layout) -> float:
    """Worth less the cost of turns: what the search itself weighs."""
    cost = request.settings.turn_cost_mm3
    return worth_mm3(request, layout) - cost * sum(turns(request, bolt) for bolt in layout)


def _summary(name: str, request: Request, layout: Layout) -> dict[str, Any]:
    volume = sum(request.wanted[t.line].volume_mm3 for b in layout for t in b.timbers)
    return {
        "name": name,
        "worth_mm3": worth_mm3(request, layout),
        "recovery": volume / log_volume_mm3(request.log),
        "turns": sum(turns(request, bolt) for bolt in layout),
        "timbers": sum(counts(request, layout)),
        "bolts": layout_data(request, layout),
    }


def _notes(found: Found, seed: int) -> dict[str, Any]:
    return {"steps": found.steps, "seed": seed, "cut_short": found.cut_short}
