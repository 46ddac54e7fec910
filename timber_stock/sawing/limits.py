"""The limits a search works to: a hair inside every limit asked.

The hair lets a plan be rounded to a thousandth of a millimetre and still be lawful.
"""

from __future__ import annotations

import math

from timber_stock.sawing.log_solid import semi_axes
from timber_stock.sawing.plain_rows import Kind, Stock
from timber_stock.sawing.request import Request, Wanted

HAIR_MM = 0.004
HAIR_DEG = 0.02
KERF_HAIR_MM = 0.002
MOST_PARTS = 8
NO_LIMIT_OF_TURNS = 99


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
    """The knots of the log in a row for the search, four numbers each, grown by the margin."""
    grown = request.settings.margin_mm + HAIR_MM
    return [
        number
        for k in request.log.knots
        for number in (k.from_butt_mm, k.clock_deg, k.half_angle_deg, grown)
    ]


def rot_numbers(request: Request) -> list[float]:
    """The rot of the log in a row for the search, five numbers each, grown by the margin."""
    grown = request.settings.margin_mm + HAIR_MM
    return [
        number
        for r in request.log.rot
        for number in (
            *(r.x_mm, r.y_mm, r.radius_mm + grown),
            *(r.from_mm - grown, r.to_mm + grown),
        )
    ]


def stock(request: Request) -> Stock:
    """All of it gathered for the plain search."""
    n = log_numbers(request)
    knots, rots = knot_numbers(request), rot_numbers(request)
    most = request.settings.most_turns
    return Stock(
        length=n[0],
        a=(n[1], n[3]),
        b=(n[2], n[4]),
        pith=(n[5], n[6], n[7], n[8]),
        sapwood=n[9],
        kerf=n[10],
        crosscut=n[11],
        knots=tuple(tuple(knots[i : i + 4]) for i in range(0, len(knots), 4)),
        rots=tuple(tuple(rots[i : i + 5]) for i in range(0, len(rots), 5)),
        kinds=tuple(_kind(timber, request) for timber in request.wanted),
        turn_cost=request.settings.turn_cost_mm3,
        most_turns=NO_LIMIT_OF_TURNS if most is None else most,
        quartered=request.settings.quartered,
    )


def _kind(timber: Wanted, request: Request) -> Kind:
    numbers, (sapwood, quantity, count), parts = limits_of(timber, request)
    pairs = tuple((parts[2 * i], parts[2 * i + 1]) for i in range(count))
    thick, width, length, worth, clear, mean_min, mean_max, tan_min, tan_max = numbers
    return Kind(
        thick=thick,
        width=width,
        length=length,
        worth=worth,
        clear=clear,
        mean_min=mean_min,
        mean_max=mean_max,
        tan_min=tan_min,
        tan_max=tan_max,
        sapwood=bool(sapwood),
        quantity=quantity,
        parts=pairs,
    )
