"""Other ways to plan a log, to measure the planner against: by chance, and by a general solver.

The general solver is OR-Tools CP-SAT, a tool for developers only; where it is not installed it is
left out. It is given the bolts and rolls of a plan found already, the places of its timbers and a
grid of lawful places besides, and is not asked that the saw can free what it chooses, which makes
its task easier.
"""

from __future__ import annotations

import time
from collections import defaultdict
from dataclasses import dataclass, replace
from importlib import import_module
from importlib.util import find_spec
from random import Random
from typing import Any

import numpy as np

from timber_stock.sawing import lawful
from timber_stock.sawing.bolts import random_bolts
from timber_stock.sawing.engine import new_search
from timber_stock.sawing.layout import Bolt, Layout, Placed
from timber_stock.sawing.log_solid import RolledLog, semi_axes
from timber_stock.sawing.request import Request

GRID_MM = 20.0
WORKERS = 2


def by_chance_mm3(request: Request, seconds: float, seed: int = 1) -> float:
    """The best worth of many layouts filled once each, from random bolts, rolls and orders."""
    chance, best = Random(seed), 0.0
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        search = new_search(request)
        search.begin(random_bolts(request, chance), chance.getrandbits(63))
        best = max(best, search.run(0.0, 0.0))
    return best


def through_and_through(request: Request) -> Request:
    """The same request with every cut one way but the edging of each flitch."""
    return replace(request, settings=replace(request.settings, most_turns=1))


@dataclass(frozen=True)
class Choice:
    """One place a timber may take: its line, its bolt, and its box grown by the kerfs."""

    line: int
    bolt: int
    low: tuple[float, float, float]
    high: tuple[float, float, float]


def solver_is_there() -> bool:
    return find_spec("ortools") is not None


def by_solver_mm3(request: Request, layout: Layout, seconds: float) -> float:
    """The worth CP-SAT finds among the places of a layout and a grid of others in its bolts."""
    cp_model: Any = import_module("ortools.sat.python.cp_model")
    choices = _choices(request, layout)
    model = cp_model.CpModel()
    taken = [model.new_bool_var("") for _ in choices]
    for line, timber in enumerate(request.wanted):
        model.add(
            sum(v for v, c in zip(taken, choices, strict=True) if c.line == line) <= timber.quantity
        )
    for rivals in _meeting(choices):
        model.add_at_most_one(taken[i] for i in rivals)
    worths = [round(request.wanted[c.line].worth_mm3) for c in choices]
    model.maximize(sum(w * v for w, v in zip(worths, taken, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = WORKERS
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return float(solver.objective_value) if found else 0.0


def _choices(request: Request, layout: Layout) -> list[Choice]:
    found: list[Choice] = []
    for number, bolt in enumerate(layout):
        found += [_choice(request, number, placed) for placed in bolt.timbers]
        for line, timber in enumerate(request.wanted):
            last = bolt.to_mm - timber.length_mm
            for z in {bolt.from_mm, last} if last >= bolt.from_mm else ():
                for wide_x in (True, False):
                    found += _on_grid(request, bolt, number, line, z, wide_x)
    return found


def _choice(request: Request, bolt: int, placed: Placed) -> Choice:
    sizes = placed.sizes(request.wanted[placed.line])
    saw, low = request.saw, (placed.x_mm, placed.y_mm, placed.from_mm)
    kerfs = (saw.kerf_mm, saw.kerf_mm, saw.crosscut_kerf_mm)
    x, y, z = (p + s + k for p, s, k in zip(low, sizes, kerfs, strict=True))
    return Choice(placed.line, bolt, low, (x, y, z))


def _on_grid(
    request: Request, bolt: Bolt, number: int, line: int, z: float, wide_x: bool
) -> list[Choice]:
    reach = max(float(np.max(axis)) for axis in semi_axes(request.log, np.array([0.0, z])))
    steps = np.arange(-reach, reach, GRID_MM)
    x, y = (grid.ravel() for grid in np.meshgrid(steps, steps))
    rolled, timber = RolledLog(request.log, bolt.roll_deg), request.wanted[line]
    at = lawful.places(x, y, z, wide_x)
    rooms = lawful.rooms(rolled, timber, at, request.settings)
    good = np.minimum.reduce(list(rooms.values())) >= 0
    spots = zip(x[good].tolist(), y[good].tolist(), strict=True)
    return [_choice(request, number, Placed(line, a, b, z, wide_x)) for a, b in spots]


def _meeting(choices: list[Choice]) -> list[list[int]]:
    """Sets of choices that fill one point. Boxes meet exactly when both hold the point made of the
    greater of their low corners, so the points of all low corners are enough."""
    found = []
    for bolt in {c.bolt for c in choices}:
        here = [i for i, c in enumerate(choices) if c.bolt == bolt]
        lows = np.array([choices[i].low for i in here])
        highs = np.array([choices[i].high for i in here])
        values = [np.unique(lows[:, axis]) for axis in range(3)]
        points: dict[tuple[int, int, int], list[int]] = defaultdict(list)
        first = [np.searchsorted(values[a], lows[:, a]) for a in range(3)]
        after = [np.searchsorted(values[a], highs[:, a] - 1e-6) for a in range(3)]
        for k, i in enumerate(here):
            for x in range(first[0][k], after[0][k]):
                for y in range(first[1][k], after[1][k]):
                    for z in range(first[2][k], after[2][k]):
                        points[x, y, z].append(i)
        found += list({tuple(p) for p in points.values() if len(p) > 1})
    return [list(p) for p in found]
