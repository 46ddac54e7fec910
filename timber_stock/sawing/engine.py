"""One search for a good layout from given bolts: the limits it works to, and its two makers.

The search works a hair inside every limit, so that a plan rounded to a thousandth of a millimetre
is still lawful. Its unit of work, a step, is a thousand rows looked at for room.
"""

from __future__ import annotations

import ctypes
import math
from typing import Any, Protocol

import numpy as np

from timber_stock.sawing import kernel
from timber_stock.sawing.layout import Bolt, Layout, Placed
from timber_stock.sawing.log_solid import semi_axes
from timber_stock.sawing.request import Request, Wanted

HAIR_MM = 0.004
HAIR_DEG = 0.02
KERF_HAIR_MM = 0.002
MOST_PLACED = 512
MOST_BOLTS = 64
MOST_PARTS = 8
NO_LIMIT_OF_TURNS = 99


class Search(Protocol):
    """A search under way: begun from bolts, run for some steps, asked for its best."""

    def begin(self, bolts: Layout, seed: int) -> None: ...

    def run(self, steps: float, heat: float, goal: float = math.inf) -> float:
        """Work on, or until the goal; the worth of the best so far, less the cost of its turns."""
        ...

    def best(self) -> Layout: ...


def new_search(request: Request) -> Search:
    return Compiled(request)


def limits_of(timber: Wanted, request: Request) -> tuple[list[float], list[int], list[float]]:
    """A timber's limits as the search takes them; -1 where there is none."""
    mm = request.settings.margin_mm + HAIR_MM
    deg = request.settings.margin_deg + HAIR_DEG
    rings = timber.rings

    def bounded(limit: float | None, shift: float) -> float:
        return -1.0 if limit is None else math.radians(min(max(limit + shift, 0.0), 90.0))

    def slope(limit: float | None, shift: float) -> float:
        return -1.0 if limit is None else math.tan(min(bounded(limit, shift), math.pi / 2 - 1e-9))

    clear = timber.heart_clearance_mm
    numbers = [
        *(timber.thickness_mm, timber.width_mm, timber.length_mm, timber.worth_mm3),
        -1.0 if clear is None else clear + mm,
        bounded(rings.mean_min_deg, deg),
        bounded(rings.mean_max_deg, -deg),
        slope(rings.worst_min_deg, deg),
        slope(rings.worst_max_deg, -deg),
    ]
    parts = [fraction for part in timber.knot_free[:MOST_PARTS] for fraction in part]
    flags = [int(timber.sapwood_allowed), timber.quantity, len(parts) // 2]
    return numbers, flags, parts + [0.0] * (2 * MOST_PARTS - len(parts))


def log_numbers(request: Request) -> list[float]:
    """The log and saw as the search takes them: half diameters, pith, sapwood, kerfs."""
    log, mm = request.log, request.settings.margin_mm + HAIR_MM
    halves = [float(axis) - mm for z in (0.0, log.length_mm) for axis in semi_axes(log, z)]
    kerfs = (request.saw.kerf_mm + KERF_HAIR_MM, request.saw.crosscut_kerf_mm + KERF_HAIR_MM)
    return [log.length_mm, *halves, *log.butt_pith_mm, *log.top_pith_mm, log.sapwood_mm, *kerfs]


def knot_numbers(request: Request) -> list[float]:
    return [n for k in request.log.knots for n in (k.from_butt_mm, k.clock_deg, k.half_angle_deg)]


def rot_numbers(request: Request) -> list[float]:
    grown = request.settings.margin_mm + HAIR_MM
    return [
        number
        for r in request.log.rot
        for number in (r.x_mm, r.y_mm, r.radius_mm + grown, r.from_mm, r.to_mm)
    ]


class Compiled:
    """The search in the compiled kernel."""

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
            raise ValueError("The log has more knots or places of rot than can be planned round.")

    def __del__(self) -> None:
        if getattr(self, "_job", None):
            self._kernel.job_free(self._job)
            self._job = None

    def begin(self, bolts: Layout, seed: int) -> None:
        self._bolts = bolts
        settled = [int(bolt.roll_settled) for bolt in bolts]
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
        rolls = np.zeros(MOST_BOLTS)
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
