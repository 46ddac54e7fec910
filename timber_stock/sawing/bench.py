"""Measure the planner: its worth and time against other ways, as ratios, in one run."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from timber_stock.sawing.bound import bound_mm3
from timber_stock.sawing.layout import worth_mm3
from timber_stock.sawing.plan import tidy
from timber_stock.sawing.request import Request
from timber_stock.sawing.rivals import (
    by_chance_mm3,
    by_solver_mm3,
    solver_is_there,
    through_and_through,
)
from timber_stock.sawing.search import Allowance, search


@dataclass(frozen=True)
class Measured:
    """Worth over the planner's worth, by each other way; None where it was not measured."""

    name: str
    worth_mm3: float
    seconds: float
    of_bound: float
    of_best_known: float | None
    through_and_through: float
    by_chance: float
    by_solver: float | None


def measure(
    name: str,
    request: Request,
    seconds: float,
    solver_seconds: float,
    best_known_mm3: float | None = None,
) -> Measured:
    bound = bound_mm3(request)
    began = time.monotonic()
    found = search(request, Allowance(seconds=seconds), goal_mm3=bound)
    taken = time.monotonic() - began
    layout = tidy(request, found.layout)
    ours = worth_mm3(request, layout)
    live = search(through_and_through(request), Allowance(seconds=seconds)).value_mm3
    solved = None
    if solver_seconds > 0 and solver_is_there():
        solved = by_solver_mm3(request, layout, solver_seconds)
    scale = max(ours, 1e-9)
    return Measured(
        name=name,
        worth_mm3=ours,
        seconds=taken,
        of_bound=ours / max(bound, 1e-9),
        of_best_known=None if best_known_mm3 is None else ours / best_known_mm3,
        through_and_through=live / scale,
        by_chance=by_chance_mm3(request, seconds) / scale,
        by_solver=None if solved is None else solved / scale,
    )


COLUMNS: tuple[tuple[str, Callable[[Measured], float | None]], ...] = (
    ("of bound", lambda m: m.of_bound),
    ("of best known", lambda m: m.of_best_known),
    ("through and through", lambda m: m.through_and_through),
    ("by chance", lambda m: m.by_chance),
    ("by solver", lambda m: m.by_solver),
)


def heading() -> str:
    names = "".join(f"{name:>21}" for name, _ in COLUMNS)
    return f"{'request':<10}{'worth, dm3':>12}{'seconds':>9}{names}"


def row(measured: Measured) -> str:
    ratios = "".join(f"{_ratio(of(measured)):>21}" for _, of in COLUMNS)
    return f"{measured.name:<10}{measured.worth_mm3 / 1e6:>12.2f}{measured.seconds:>9.2f}{ratios}"


def means(rows: list[Measured]) -> Iterator[str]:
    """The geometric mean of each ratio over the requests where it was measured."""
    for name, of in COLUMNS:
        values = [value for m in rows if (value := of(m)) is not None and value > 0]
        if values:
            mean = math.exp(sum(math.log(v) for v in values) / len(values))
            yield f"{name}: geometric mean {mean:.4f}, least {min(values):.4f}"


def _ratio(value: float | None) -> str:
    return "-" if value is None else f"{value:.4f}"
