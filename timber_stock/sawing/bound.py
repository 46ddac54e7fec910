"""A worth that no lawful plan of a request can pass.

Proof. Grow every timber by half a kerf on each side; grown timbers do not overlap. At any station
the grown sections therefore fit, by area, in the log's ellipse grown likewise, less the disc about
the pith that every timber keeps clear of; and those that refuse sapwood fit in the heartwood's.
Give each stretch of the log a price per unit of area and length, one for all wood and one for
heartwood. Each timber costs at least its grown area times the cheapest window of its length, so

    worth of any plan <= sum of price x room + sum over lines of quantity x max(0, worth - cost)

whatever the prices, by weak duality of linear programming. The prices are then improved step by
step; the answer is true at every step. Timbers proved impossible (`reach`) count for nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from timber_stock.sawing.log_solid import semi_axes
from timber_stock.sawing.reach import impossible
from timber_stock.sawing.request import Log, Request, Wanted

Array = NDArray[np.float64]
STRETCHES = 24
SWEEPS = 12

HOW = (
    "By area: at every station the timbers, grown by half a kerf, must fit in the wood there less "
    "the disc kept clear about the heart, and those refusing sapwood in the heartwood; each "
    "stretch is priced and no timber is worth more than it is paid (weak duality). Timbers too "
    "large for the log are left out. Ring limits, knots, rot and the order of cuts are not "
    "counted, so the bound is true but not always close."
)


@dataclass(frozen=True)
class _Lines:
    """The cutting list as columns; timbers of one length share their windows."""

    worth: Array
    area: Array  # grown by a kerf
    quantity: Array
    heartwood: NDArray[np.bool_]
    length: NDArray[np.intp]  # index into `windows`
    windows: tuple[Array, ...]  # of each length: window x stretch, the length lying in each


def bound_mm3(request: Request) -> float:
    """The upper bound, in worth times cubic millimetres."""
    timbers = [
        t for t in request.wanted if t.quantity and t.worth > 0 and not impossible(request.log, t)
    ]
    if not timbers:
        return 0.0
    lines = _lines(request, timbers)
    rooms = np.stack([_rooms(request, timbers, 0.0), _rooms(request, timbers, 1.0)])
    everything = float(lines.quantity @ lines.worth)
    return min(everything, _best_price(lines, rooms))


def _edges(log: Log) -> Array:
    return np.linspace(0.0, log.length_mm, STRETCHES + 1)


def _lines(request: Request, timbers: list[Wanted]) -> _Lines:
    kerf, sappy = request.saw.kerf_mm, request.log.sapwood_mm > 0
    lengths, which = np.unique([t.length_mm for t in timbers], return_inverse=True)
    return _Lines(
        worth=np.array([t.worth_mm3 for t in timbers]),
        area=np.array([(t.thickness_mm + kerf) * (t.width_mm + kerf) for t in timbers]),
        quantity=np.array([float(t.quantity) for t in timbers]),
        heartwood=np.array([sappy and not t.sapwood_allowed for t in timbers]),
        length=which,
        windows=tuple(_windows(request.log, float(length)) for length in lengths),
    )


def _windows(log: Log, length_mm: float) -> Array:
    """Every window a timber may fill, tried where its ends meet a stretch's; the cost is linear
    between those, so none is cheaper."""
    edges = _edges(log)
    last = log.length_mm - length_mm
    starts = np.concatenate([edges, edges - length_mm, [0.0, last]])
    starts = np.unique(np.clip(starts, 0.0, last))[:, None]
    ends = np.minimum(starts + length_mm, edges[1:])
    return np.asarray(np.clip(ends - np.maximum(starts, edges[:-1]), 0, None))


def _rooms(request: Request, timbers: list[Wanted], sapwood_off: float) -> Array:
    """Area times length of every stretch, rounded up; for all wood, or for heartwood."""
    log, kerf = request.log, request.saw.kerf_mm
    edges = _edges(log)
    inset = log.sapwood_mm * sapwood_off
    kept = [t for t in timbers if not (sapwood_off and t.sapwood_allowed)]
    axes = [np.maximum(axis - inset, 0.0) for axis in semi_axes(log, edges)]
    a, b = (np.maximum(axis[1:], axis[:-1]) for axis in axes)
    # The ellipse grown by a square of side k: A + k (breadth + height) + k^2, at the worst roll.
    area = math.pi * a * b + kerf * 2 * math.sqrt(2) * np.hypot(a, b) + kerf * kerf
    clear = min((t.heart_clearance_mm or 0.0 for t in kept), default=0.0)
    disc = max(0.0, clear - kerf / math.sqrt(2))
    inside = _disc_inside(log, edges, disc + inset)
    area -= math.pi * disc * disc * (inside[1:] & inside[:-1])
    return np.asarray(area * np.diff(edges))


def _disc_inside(log: Log, z: Array, radius: float) -> NDArray[np.bool_]:
    """Whether a disc about the pith certainly lies inside the outline at every station."""
    share = z / log.length_mm
    x, y = (
        log.butt_pith_mm[k] + (log.top_pith_mm[k] - log.butt_pith_mm[k]) * share for k in (0, 1)
    )
    a, b = semi_axes(log, z)
    small = np.minimum(a, b)
    return np.asarray(np.hypot(x, y) + radius < small)


def _worth_at(prices: Array, lines: _Lines, rooms: Array) -> float:
    any_wood, heart = prices[0], prices[0] + prices[1]
    cheapest = np.array([[np.min(w @ any_wood), np.min(w @ heart)] for w in lines.windows])
    cost = lines.area * cheapest[lines.length, lines.heartwood.astype(int)]
    gain = lines.quantity * np.maximum(0.0, lines.worth - cost)
    return float(np.sum(prices * rooms) + np.sum(gain))


def _best_price(lines: _Lines, rooms: Array) -> float:
    """Lower the bound by changing prices over shrinking blocks of stretches."""
    long = np.array([windows[0].sum() for windows in lines.windows])[lines.length]
    rate = float(np.max(lines.worth / (lines.area * long)))
    tries = [rate * share for share in np.linspace(0.02, 1.0, 50)]
    flat = [np.vstack([np.full(STRETCHES, p), np.zeros(STRETCHES)]) for p in tries]
    prices = min(flat, key=lambda p: _worth_at(p, lines, rooms))
    best = _worth_at(prices, lines, rooms)
    step = 0.3 * rate
    for _ in range(SWEEPS):
        before = best
        for kind in (0, 1):
            for low, high in _blocks():
                for change in (step, -step):
                    trial = prices.copy()
                    trial[kind, low:high] = np.maximum(trial[kind, low:high] + change, 0.0)
                    worth = _worth_at(trial, lines, rooms)
                    if worth < best:
                        prices, best = trial, worth
        if best > before * (1 - 1e-4):
            step *= 0.5
    return best


def _blocks() -> list[tuple[int, int]]:
    sizes = [STRETCHES, STRETCHES // 2, STRETCHES // 4, STRETCHES // 8]
    return [(low, low + size) for size in sizes for low in range(0, STRETCHES, size)]
