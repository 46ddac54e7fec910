"""Which free length each replacement should come out of, so that most are met with least waste.

One free length may give several pieces end to end, with the saw's kerf between them. It is a
generalised assignment problem and solved as such by a general solver (HiGHS, through scipy's
`milp`): exact where the solver ends in its time, and then said to be proven; else the better of
what it found and of a greedy choice, said not to be proven.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array, csr_array
from scipy.sparse.csgraph import connected_components

from restoration.calc.checks import above_zero, not_below_zero
from restoration.calc.free_length import HAIR_MM, Stretch

Floats = npt.NDArray[np.float64]
Numbers = npt.NDArray[np.int64]
NOBODY = -1
LEAST_SECONDS = 0.02  # for whoever comes after the time is gone


@dataclass(frozen=True)
class Task:
    """Pairs of a free length (`row`) and a replacement (`column`) that would serve, with a cost.

    free_mm: each free length; wanted_mm: what each replacement takes of one; kerf_mm: lost between
    two pieces out of one free length. Costs are nothing or more, in any unit.
    """

    free_mm: Floats
    wanted_mm: Floats
    row: Numbers
    column: Numbers
    cost: Floats
    kerf_mm: float

    @classmethod
    def of(
        cls,
        free_mm: Sequence[float],
        wanted_mm: Sequence[float],
        pairs: Sequence[tuple[int, int, float]],
        kerf_mm: float = 0.0,
    ) -> Task:
        """Checked, and without the pairs whose length is too short."""
        not_below_zero(kerf_mm, "kerf in mm")
        for mm in (*free_mm, *wanted_mm):
            above_zero(mm, "length in mm")
        for _, _, cost in pairs:
            not_below_zero(cost, "cost of a pair")
        holds = [p for p in pairs if wanted_mm[p[1]] <= free_mm[p[0]] + HAIR_MM]
        return cls(
            np.array(free_mm, dtype=float),
            np.array(wanted_mm, dtype=float),
            np.array([row for row, _, _ in holds], dtype=np.int64),
            np.array([column for _, column, _ in holds], dtype=np.int64),
            np.array([cost for _, _, cost in holds], dtype=float),
            float(kerf_mm),
        )

    def only(self, kept: npt.NDArray[np.bool_] | Numbers) -> Task:
        return Task(
            self.free_mm, self.wanted_mm, self.row[kept], self.column[kept], self.cost[kept],
            self.kerf_mm,
        )  # fmt: skip


@dataclass(frozen=True)
class Assigned:
    """`row_of` says of each replacement the free length it comes out of, or `NOBODY`.

    `proven` is that no other choice meets more, nor as many at less cost; `at_most` is how many no
    choice could exceed.
    """

    row_of: tuple[int, ...]
    cost: float
    proven: bool
    at_most: int

    @property
    def met(self) -> int:
        return sum(row != NOBODY for row in self.row_of)


def assign(task: Task, seconds: float = 1.0) -> Assigned:
    """Meet as many as can be met, and of all such choices one that costs least.

    Groups that share no free length are settled one by one. Where each takes the cheapest there
    is without getting in another's way that is the answer; only the rest goes to the solver.
    """
    above_zero(seconds, "time allowed, in seconds,")
    row_of, proven, at_most = np.full(len(task.wanted_mm), NOBODY), True, 0
    parts, until = sorted(_apart(task), key=lambda part: len(part.row)), time.monotonic() + seconds
    for number, part in enumerate(parts):
        left = max(until - time.monotonic(), LEAST_SECONDS)
        found, sure, most = _settle(part, left / (len(parts) - number))
        row_of[found >= 0] = found[found >= 0]
        proven, at_most = proven and sure, at_most + most
    cost = _cost(task, row_of)
    return Assigned(tuple(int(row) for row in row_of), cost, proven, at_most)


def laid_out(
    free: Sequence[Stretch], wanted_mm: Sequence[float], row_of: Sequence[int], kerf_mm: float
) -> list[Stretch | None]:
    """Where along its board each piece lies: from the start of its free length, a kerf between.

    The last may be a hair (0.4 mm) shorter than wanted, as `free_length` allows; ValueError where
    the pieces do not fit.
    """
    at = [stretch.from_mm for stretch in free]
    lying: list[Stretch | None] = []
    for wanted, row in zip(wanted_mm, row_of, strict=True):
        if row == NOBODY:
            lying.append(None)
            continue
        end = min(at[row] + wanted, free[row].to_mm)
        if end - at[row] < wanted - HAIR_MM - 1e-6:
            raise ValueError("More is laid in a free length than it holds.")
        lying.append(Stretch(at[row], end))
        at[row] = end + kerf_mm
    return lying


def greedy(task: Task) -> Numbers:
    """Those with least choice first, the longer before the shorter; each the cheapest left."""
    choices = np.bincount(task.column, minlength=len(task.wanted_mm))
    room = task.free_mm + task.kerf_mm + HAIR_MM
    row_of = np.full(len(task.wanted_mm), NOBODY)
    by_cost = np.lexsort((task.row, task.cost, task.column))
    starts = np.searchsorted(task.column[by_cost], np.arange(len(task.wanted_mm) + 1))
    for column in np.lexsort((-task.wanted_mm, choices)):
        takes = task.wanted_mm[column] + task.kerf_mm
        mine = task.row[by_cost[starts[column] : starts[column + 1]]]
        fits = mine[room[mine] >= takes]
        if len(fits):
            row_of[column] = fits[0]
            room[fits[0]] -= takes
    return row_of


def _apart(task: Task) -> list[Task]:
    """Pieces of the task that share neither a replacement nor a free length."""
    rows, columns = len(task.free_mm), len(task.wanted_mm)
    links = csr_array(
        (np.ones(len(task.row)), (task.row, rows + task.column)), shape=(rows + columns,) * 2
    )
    group = connected_components(links, directed=False)[1][task.row]
    return [task.only(group == each) for each in np.unique(group)]


def _settle(task: Task, seconds: float) -> tuple[Numbers, bool, int]:
    """Costs at least the sum of everyone's cheapest, so a choice that costs that is the best."""
    first, all_of_them = greedy(task), len(np.unique(task.column))
    if _met(first) == all_of_them and _is_cheapest(task, first):
        return first, True, all_of_them
    kept = _near_enough(task, first) if _met(first) == all_of_them else task
    solved, sure, most = _solve(_enough(kept), seconds)
    if solved is None or _better(task, first, solved):
        return first, False, max(most, _met(first))
    return solved, sure, _met(solved) if sure else most


def _near_enough(task: Task, first: Numbers) -> Task:
    """Without the pairs that no choice cheaper than `first`, which meets all, could hold.

    With such a pair the rest costs at least everyone's cheapest, and that is too much already.
    """
    cheapest = _cheapest(task)
    spare = _cost(task, first) - float(cheapest[np.isfinite(cheapest)].sum())
    return task.only(task.cost <= cheapest[task.column] + spare * (1 + 1e-9) + 1e-9)


def _enough(task: Task) -> Task:
    """For each replacement as many of its cheapest free lengths as there are replacements.

    The others can hold no more than one fewer of these, so one of them is always whole and free:
    a dearer one is never needed, and leaving it out loses nothing.
    """
    most = len(np.unique(task.column))
    order = np.lexsort((task.row, task.cost, task.column))
    columns = task.column[order]
    rank = np.arange(len(order)) - np.searchsorted(columns, columns)
    return task.only(order[rank < most])


def _solve(task: Task, seconds: float) -> tuple[Numbers | None, bool, int]:
    """What the solver found, whether it is proven, and how many no choice could exceed."""
    pairs = np.arange(len(task.row))
    ones = np.ones(len(pairs))
    columns, column = np.unique(task.column, return_inverse=True)
    rows, row = np.unique(task.row, return_inverse=True)
    once = coo_array((ones, (column, pairs)), shape=(len(columns), len(pairs)))
    takes = task.wanted_mm[task.column] + task.kerf_mm
    within = coo_array((takes, (row, pairs)), shape=(len(rows), len(pairs)))
    room = task.free_mm[rows] + task.kerf_mm + HAIR_MM
    n = len(columns)
    scale = max(float(task.cost.max()), 1e-9) * (n + 1)
    answer = milp(
        task.cost / scale - 1.0,  # one met is worth more than all that any choice could cost
        integrality=np.ones(len(pairs), dtype=np.int64),
        bounds=Bounds(0, 1),
        constraints=[
            LinearConstraint(once.tocsr(), -np.inf, 1.0),
            LinearConstraint(within.tocsr(), -np.inf, room),
        ],
        options={"time_limit": seconds, "mip_rel_gap": 0.0},
    )
    bound = answer.mip_dual_bound  # the costs of any choice come to less than one that is met
    most = n if bound is None else min(n, math.floor(n / (n + 1) - bound + 1e-6))
    if answer.x is None:
        return None, False, most
    taken = answer.x > 0.5
    row_of = np.full(len(task.wanted_mm), NOBODY)
    row_of[task.column[taken]] = task.row[taken]
    return (row_of, answer.status == 0, most) if _holds(task, row_of) else (None, False, most)


def _holds(task: Task, row_of: Numbers) -> bool:
    """The solver counts in floating point: what it says is added up again."""
    mine = np.nonzero(row_of >= 0)[0]
    takes = np.zeros(len(task.free_mm))
    np.add.at(takes, row_of[mine], task.wanted_mm[mine] + task.kerf_mm)
    return bool(np.all(takes <= task.free_mm + task.kerf_mm + HAIR_MM + 1e-6))


def _met(row_of: Numbers) -> int:
    return int(np.count_nonzero(row_of >= 0))


def _cost(task: Task, row_of: Numbers) -> float:
    return float(task.cost[row_of[task.column] == task.row].sum())


def _is_cheapest(task: Task, row_of: Numbers) -> bool:
    cheapest = _cheapest(task)
    least = cheapest[np.isfinite(cheapest)].sum()
    return _cost(task, row_of) <= float(least) * (1 + 1e-12)


def _cheapest(task: Task) -> Floats:
    """What each would cost at least; infinite for those that nothing serves."""
    cheapest = np.full(len(task.wanted_mm), np.inf)
    np.minimum.at(cheapest, task.column, task.cost)
    return cheapest


def _better(task: Task, one: Numbers, other: Numbers) -> bool:
    """Whether one meets more, or as many for less."""
    return (-_met(one), _cost(task, one)) < (-_met(other), _cost(task, other))
