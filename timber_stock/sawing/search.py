"""The search for the best layout: many beginnings, the better half of them kept, again and again.

Two lanes run side by side, each with its own chance; what each does depends on the request, the
steps allowed and the seed alone, so a plan is the same however many processors carry it. Seconds
decide only how many steps to allow, and when to stop short.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from random import Random

from timber_stock.sawing import kernel
from timber_stock.sawing.bolts import random_bolts
from timber_stock.sawing.engine import Search, new_search
from timber_stock.sawing.layout import Layout
from timber_stock.sawing.request import Request

LANES = 2
CHUNK_STEPS = 50.0
HEAT = 0.02  # share of the best worth that may be given up for a while, cooling to nothing
TRIAL_STEPS = 50.0
TRIAL_SHARE = 0.04  # of the seconds allowed, spent on learning how fast this machine is
FEWEST_STEPS = 20.0
SHARE_OF_TIME = 0.85
# Beginnings tried in a lane: about STARTS * steps ** POWER, found by trial on random requests.
STARTS, POWER = 1.0, 0.4

Stop = Callable[[], bool]
Progress = Callable[[float, float], None]


@dataclass(frozen=True)
class Allowance:
    """How long to search: in steps, or in seconds which are turned into steps by a short trial."""

    steps: float | None = None
    seconds: float | None = None


@dataclass(frozen=True)
class Found:
    layout: Layout
    value_mm3: float  # worth less the cost of turns
    steps: float  # allowed in each lane
    cut_short: bool = False


@dataclass
class _Arm:
    search: Search
    value: float = -math.inf
    steps: float = 0.0


def search(
    request: Request,
    allowance: Allowance,
    seed: int = 1,
    *,
    goal_mm3: float = math.inf,
    start: Layout | None = None,
    roll_deg: float | None = None,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> Found:
    """The best layout found. `start` fixes the bolts (and any pinned timbers) to begin from; a
    layout worth `goal_mm3`, an upper bound, cannot be bettered and ends the search.

    `stop()` is asked every few hundredths of a second and ends the search with its best so far;
    `progress(share, best_mm3)` is told how far it is.
    """
    kernel.library()  # made once on a machine, and not at the cost of this search
    began = time.monotonic()
    steps = _steps_for(request, allowance, seed, began)
    deadline = math.inf if allowance.seconds is None else began + allowance.seconds
    goal = goal_mm3 * (1 - 1e-9)
    lanes = [
        _Lane(request, steps, Random(seed * 1000003 + n), goal, start, roll_deg)
        for n in range(LANES)
    ]

    def ended(lane: _Lane) -> bool:
        if progress is not None:
            share = sum(lane.done for lane in lanes) / (LANES * steps)
            progress(min(1.0, share), max(lane.best for lane in lanes))
        # Ties go to the first lane, so only it may end the other: the answer stays the same.
        reached = lane.best >= goal or lanes[0].best >= goal
        return reached or time.monotonic() > deadline or (stop is not None and stop())

    with ThreadPoolExecutor(LANES) as pool:
        list(pool.map(lambda lane: lane.run(ended), lanes))
    winner = max(lanes, key=lambda lane: lane.best)
    short = winner.best < goal and any(lane.stopped for lane in lanes)
    layout = winner.layout()
    if roll_deg is not None:  # held for the search only: these are bolts of a whole log
        layout = tuple(replace(bolt, roll_settled=False) for bolt in layout)
    return Found(layout, winner.best, steps, short)


def _steps_for(request: Request, allowance: Allowance, seed: int, began: float) -> float:
    if allowance.steps is not None:
        return max(FEWEST_STEPS, allowance.steps)
    seconds = 5.0 if allowance.seconds is None else allowance.seconds
    with ThreadPoolExecutor(LANES) as pool:
        rates = pool.map(lambda n: _rate(request, seed + n, TRIAL_SHARE * seconds), range(LANES))
        rate = min(rates)
    left = max(0.0, seconds - (time.monotonic() - began))
    return max(FEWEST_STEPS, float(round(rate * left * SHARE_OF_TIME)))


def _rate(request: Request, seed: int, seconds: float) -> float:
    """Steps a second, by trial, with all lanes at work."""
    trial, steps, began = Random(seed), 0.0, time.monotonic()
    while True:
        arm = new_search(request)
        arm.begin(random_bolts(request, trial), trial.getrandbits(63))
        arm.run(TRIAL_STEPS, HEAT)
        steps += TRIAL_STEPS
        taken = time.monotonic() - began
        if taken > seconds:
            return steps / taken


class _Lane:
    """One lane: arms begun from random bolts, the worse half dropped after each round."""

    def __init__(
        self,
        request: Request,
        steps: float,
        chance: Random,
        goal: float,
        start: Layout | None,
        roll_deg: float | None,
    ) -> None:
        self.request, self.steps, self.chance, self.goal = request, steps, chance, goal
        self.start, self.roll_deg = start, roll_deg
        self.done, self.best, self.stopped = 0.0, 0.0, False
        self.arms: list[_Arm] = []

    def run(self, ended: Callable[[_Lane], bool]) -> None:
        count = max(2, int(STARTS * self.steps**POWER))
        rounds = math.ceil(math.log2(count)) + 1
        for turn in range(rounds):
            keep = count if turn == 0 else max(1, (len(self.arms) + 1) // 2)
            self.arms = self.arms[:keep]
            heat = HEAT * (1 - turn / rounds)
            share = self.steps / rounds / keep
            for number in range(keep):
                if self.stopped and self.arms:
                    break
                if turn == 0:
                    self.arms.append(self._begin())
                self._work(self.arms[number], share, heat, ended)
            self.arms.sort(key=lambda arm: -arm.value)
            if self.stopped:
                break

    def layout(self) -> Layout:
        return self.arms[0].search.best() if self.arms else ()

    def _begin(self) -> _Arm:
        bolts = self.start or random_bolts(self.request, self.chance, self.roll_deg)
        arm = _Arm(new_search(self.request))
        arm.search.begin(bolts, self.chance.getrandbits(63))
        return arm

    def _work(self, arm: _Arm, steps: float, heat: float, ended: Callable[[_Lane], bool]) -> None:
        left = steps
        while left > 0 and not self.stopped:
            chunk = min(left, CHUNK_STEPS)
            arm.value = arm.search.run(chunk, heat, self.goal)
            left -= chunk
            self.done += chunk
            self.best = max(self.best, arm.value)
            self.stopped = ended(self)
