"""The search in the compiled kernel."""

from __future__ import annotations

import ctypes
import math
from typing import Any

import numpy as np

from timber_stock.sawing import kernel
from timber_stock.sawing.layout import Bolt, Layout, Placed
from timber_stock.sawing.limits import (
    NO_LIMIT_OF_TURNS,
    knot_numbers,
    limits_of,
    log_numbers,
    rot_numbers,
)
from timber_stock.sawing.request import Request

MOST_PLACED = 4096
MOST_BOLTS = 64
MOST_IN_A_BOLT = 250


class Compiled:
    """A search under way in the kernel."""

    def __init__(self, request: Request) -> None:
        found = kernel.library()
        if found is None:
            raise RuntimeError("There is no compiled kernel on this machine.")
        self._kernel, self._request = found, request
        rows = [limits_of(timber, request) for timber in request.wanted]
        settings = request.settings
        self._job = found.job_new(
            _doubles(log_numbers(request)),
            _doubles(knot_numbers(request)),
            len(request.log.knots),
            _doubles(rot_numbers(request)),
            len(request.log.rot),
            _doubles([n for row in rows for n in row[0]]),
            _ints([n for row in rows for n in row[1]]),
            _doubles([n for row in rows for n in row[2]]),
            len(rows),
            settings.turn_cost_mm3,
            NO_LIMIT_OF_TURNS if settings.most_turns is None else settings.most_turns,
            int(settings.quartered),
        )
        if not self._job:
            raise MemoryError("The kernel found no room for the search.")

    def __del__(self) -> None:
        if getattr(self, "_job", None):
            self._kernel.job_free(self._job)
            self._job = None

    def begin(self, bolts: Layout, seed: int) -> None:
        if len(bolts) > MOST_BOLTS or max(len(b.timbers) for b in bolts) > MOST_IN_A_BOLT:
            raise ValueError(
                f"A log is planned in at most {MOST_BOLTS} pieces, each with at most "
                f"{MOST_IN_A_BOLT} timbers."
            )
        self._bolts = bolts
        settled = [int(bolt.keeps_roll) for bolt in bolts]
        ints: list[float] = []
        places: list[float] = []
        for number, bolt in enumerate(bolts):
            for t in bolt.timbers:
                ints += [number, t.line, 0 if t.wide_x else 1, int(t.flipped), int(t.pinned)]
                places += [t.x_mm, t.y_mm, t.from_mm]
        numbers = [n for b in bolts for n in (b.from_mm, b.to_mm, b.roll_deg, *b.faces)]
        self._kernel.job_begin(
            self._job,
            seed,
            len(bolts),
            _doubles(numbers),
            _ints(settled),
            len(ints) // 5,
            _ints(ints),
            _doubles(places),
        )

    def run(self, steps: float, heat: float, goal: float = math.inf) -> float:
        return float(self._kernel.job_run(self._job, steps, heat, goal))

    def best(self) -> Layout:
        rolls = np.zeros(len(self._bolts))
        ints = np.zeros((MOST_PLACED, 5), dtype=np.int32)
        places = np.zeros((MOST_PLACED, 3))
        count = self._kernel.job_best(
            self._job,
            rolls.ctypes.data_as(kernel.DOUBLES),
            ints.ctypes.data_as(kernel.INTS),
            places.ctypes.data_as(kernel.DOUBLES),
            MOST_PLACED,
        )
        held: list[list[Placed]] = [[] for _ in self._bolts]
        for (bolt, line, wide, flip, pin), (x, y, z) in zip(
            ints[:count].tolist(), places[:count].tolist(), strict=True
        ):
            spot = (round(x, 3), round(y, 3), round(z, 3))
            held[bolt].append(Placed(line, *spot, wide == 0, bool(flip), bool(pin)))
        return tuple(
            Bolt(b.from_mm, b.to_mm, round(float(roll), 2), tuple(timbers), b.faces, b.roll_settled)
            for b, roll, timbers in zip(self._bolts, rolls, held, strict=False)
        )


def _doubles(values: list[float]) -> Any:
    return (ctypes.c_double * max(1, len(values)))(*values)


def _ints(values: list[Any]) -> Any:
    return (ctypes.c_int * max(1, len(values)))(*values)
