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
CHUNK_STEPS = 10.0
HEAT = 0.02  # share of the best worth that may be given up for a while, cooling to nothing
TRIAL_STEPS = 10.0
TRIAL_SHARE = 0.04  # of the seconds allowed, spent on learning how fast this machine is
FEWEST_STEPS = 20.0
SHARE_OF_TIME = 0.85
AGAIN_SHARE = 0.2  # of the seconds; with less than this left a search is not begun again
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
    """The best layout; the same steps and seed find it again, unless the search was cut short."""

    layout: Layout
    value_mm3: float  # worth less the cost of turns
    steps: float  # allowed in each lane
    seed: int
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
    """The best layout found. `start` fixes the bolts to begin from; a timber pinned in one stays
    where it is, and that bolt keeps its roll. A layout worth `goal_mm3`, an upper bound, cannot be
    bettered and ends the search.

    `stop()` is asked every few hundredths of a second and ends the search with its best so far;
    `progress(share, best_mm3)` is told how far it is. Both are called from the searching threads.
    """
    kernel.library()  # made once on a machine, and not at the cost of this search
    effort = _Effort(request, goal_mm3 * (1 - 1e-9), start, roll_deg, stop, progress)
    if allowance.steps is not None:
        return effort.run(max(FEWEST_STEPS, allowance.steps), seed)
    return _within(effort, 5.0 if allowance.seconds is None else allowance.seconds, seed)


def _within(effort: _Effort, seconds: float, seed: int) -> Found:
    """Search for some seconds: once for as many steps as they seem to hold, and again, from another
    seed, while a good part of the time is left."""
    began = time.monotonic()
    effort.deadline = began + seconds
    with ThreadPoolExecutor(LANES) as pool:
        trials = pool.map(
            lambda n: _rate(effort.request, seed + n, TRIAL_SHARE * seconds), range(LANES)
        )
        rate = min(trials)
    best: Found | None = None
    while True:
        left = effort.deadline - time.monotonic()
        if best is not None and (left < AGAIN_SHARE * seconds or effort.over):
            return best
        clock = time.monotonic()
        found = effort.run(max(FEWEST_STEPS, float(round(rate * left * SHARE_OF_TIME))), seed)
        rate = found.steps / max(1e-3, time.monotonic() - clock)
        if best is None or found.value_mm3 > best.value_mm3:
            best = found
        seed += 1


class _Effort:
    """What every search of one request has in common."""

    def __init__(
        self,
        request: Request,
        goal: float,
        start: Layout | None,
        roll_deg: float | None,
        stop: Stop | None,
        progress: Progress | None,
    ) -> None:
        self.request, self.goal, self.start, self.roll_deg = request, goal, start, roll_deg
        self.stop, self.progress = stop, progress
        self.deadline, self.best, self.over = math.inf, 0.0, False

    def run(self, steps: float, seed: int) -> Found:
        lanes = [_Lane(self, steps, Random(seed * 1000003 + number)) for number in range(LANES)]
        with ThreadPoolExecutor(LANES) as pool:
            list(pool.map(lambda lane: lane.run(lambda: self._ended(lane, lanes)), lanes))
        winner = max(lanes, key=lambda lane: lane.best)
        short = winner.best < self.goal and any(lane.stopped for lane in lanes)
        layout = winner.layout()
        if self.roll_deg is not None:  # held for the search only: these are bolts of a whole log
            layout = tuple(replace(bolt, roll_settled=False) for bolt in layout)
        return Found(layout, winner.best, steps, seed, short)

    def _ended(self, lane: _Lane, lanes: list[_Lane]) -> bool:
        self.best = max(self.best, lane.best)
        if self.progress is not None:
            share = sum(one.done for one in lanes) / (LANES * lane.steps)
            self.progress(min(1.0, share), self.best)
        stopped = self.stop is not None and self.stop()
        # Ties go to the first lane, so only it may end the other: the answer stays the same.
        self.over = self.over or stopped or lanes[0].best >= self.goal
        return self.over or lane.best >= self.goal or time.monotonic() > self.deadline


def _rate(request: Request, seed: int, seconds: float) -> float:
    """Steps a second, by trial, with all lanes at work."""
    chance, ends = Random(seed), time.monotonic() + seconds
    steps, taken = 0.0, 0.0
    while True:
        arm = new_search(request)
        arm.begin(random_bolts(request, chance), chance.getrandbits(63))
        clock = time.monotonic()
        arm.run(TRIAL_STEPS, HEAT)
        taken += time.monotonic() - clock
        steps += TRIAL_STEPS
        if time.monotonic() > ends:
            return steps / max(1e-6, taken)


class _Lane:
    """One lane: arms begun from random bolts, the worse half dropped after each round."""

    def __init__(self, effort: _Effort, steps: float, chance: Random) -> None:
        self.effort, self.steps, self.chance = effort, steps, chance
        self.done, self.best, self.stopped = 0.0, 0.0, False
        self.arms: list[_Arm] = []

    def run(self, ended: Callable[[], bool]) -> None:
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
        effort = self.effort
        bolts = effort.start or random_bolts(effort.request, self.chance, effort.roll_deg)
        arm = _Arm(new_search(effort.request))
        arm.search.begin(bolts, self.chance.getrandbits(63))
        return arm

    def _work(self, arm: _Arm, steps: float, heat: float, ended: Callable[[], bool]) -> None:
        left = steps
        while left > 0 and not self.stopped:
            chunk = min(left, CHUNK_STEPS)
            arm.value = arm.search.run(chunk, heat, self.effort.goal)
            left -= chunk
            self.done += chunk
            self.best = max(self.best, arm.value)
            self.stopped = ended()
