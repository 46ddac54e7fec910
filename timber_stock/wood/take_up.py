"""A timber bolted up green: how much it shrinks along each bolt, and when to come back to the nuts.

Bolts that have gone slack carry nothing. The figures say where to look and by when; the spanner
and the person who holds it decide. Keel bolts are for class rules and a surveyor.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from timber_stock.wood.air_drying import DayRange
from timber_stock.wood.checked import between, finite, positive
from timber_stock.wood.moisture import FIBRE_SATURATION_PERCENT
from timber_stock.wood.outline import Outline, Point, as_complex, corners_of, place_of
from timber_stock.wood.polar import path_round

VISIT_DAYS = (30, 90, 180, 365)
"""First visits after fitting; from then once a year. Common practice, not a published rule."""

LAST_VISIT_YEARS = 15


def bolt_take_up_mm(
    outline_mm: Outline,
    pith_mm: Point,
    head_mm: Point,
    nut_mm: Point,
    radial_percent: float,
    tangential_percent: float,
) -> float:
    """How much nearer two points of a section come as it dries, mm; negative when they part.

    The points are where the bolt enters and leaves the wood, (x, y) in mm on or in the section.
    Both move by the polar map of `distortion`: r' = r (1 - e_r), the angle between them seen from
    the pith, taken through the wood, times (1 - e_t)/(1 - e_r). Shrinkages in percent to the
    moisture in question, 0 to 50. Past a check the wood parts: a bolt over it is loosened less.
    Derived. Raises ValueError for a bolt end outside the section and as `dry_section` does.
    """
    e_r = between(radial_percent, 0, 50, "Radial shrinkage", " %") / 100.0
    e_t = between(tangential_percent, 0, 50, "Tangential shrinkage", " %") / 100.0
    corners, pith = corners_of(outline_mm), as_complex(pith_mm, "The pith")
    path = path_round(corners, pith)
    middle = float(path.angles.max() + path.angles.min()) / 2
    ends = []
    for name, point in (("head", head_mm), ("nut", nut_mm)):
        end = as_complex(point, f"The {name} of the bolt")
        place = place_of(corners, end)
        if not place.inside and place.distance_mm > 1e-6:
            raise ValueError(
                f"The {name} of the bolt lies {place.distance_mm:.1f} mm outside the section."
            )
        ends.append(end - pith)
    start, finish = (_bearing(end, middle) for end in ends)
    squeeze = (
        (1.0 - e_t) / (1.0 - e_r) if not path.place.inside else min(1.0, (1 - e_t) / (1 - e_r))
    )
    apart = abs(ends[0]) - abs(ends[1]) * np.exp(1j * squeeze * (finish - start))
    return float(abs(ends[0] - ends[1]) - (1.0 - e_r) * abs(apart))


def _bearing(point: complex, middle: float) -> float:
    """Bearing of a point from the pith, within half a turn of the middle of the section."""
    if point == 0:
        return middle
    return middle + float(np.angle(point * np.exp(-1j * middle)))


def stack_take_up_mm(pieces_mm: Iterable[float]) -> float:
    """Take-up of a bolt through several timbers: the sum of what each gives up along it, mm."""
    return math.fsum(pieces_mm)


def nut_turns(take_up_mm: float, thread_pitch_mm: float) -> float:
    """Turns of the nut that take up so many mm on a thread of this pitch (mm per turn).

    Nothing to take up, or less, is no turn. ValueError for a pitch not above 0.
    """
    take_up = max(0.0, finite(take_up_mm, "The take-up in mm"))
    return take_up / positive(thread_pitch_mm, "The pitch of the thread in mm")


@dataclass(frozen=True)
class Visit:
    """One visit to the nuts: by then the wood has given up between these two, mm in all."""

    on: date
    least_mm: float
    greatest_mm: float


def retightening(
    fitted_on: date,
    take_up_mm: float,
    fitted_percent: float,
    service_percent: float,
    time_constant: DayRange,
) -> tuple[Visit, ...]:
    """Dates to come back to the nuts of a timber fitted green, with the take-up to expect.

    take_up_mm: along the bolt, from fitting to service moisture. fitted_percent, service_percent:
    average moistures, service the lower and below 30. time_constant: of drying, days, a range from
    `air_drying.time_constant_days`. Visits as `VISIT_DAYS`, then yearly until even the slow
    estimate has nine tenths, 15 years at most. Nothing to take up gives no visits.

    The outside of a timber shrinks while its heart is still wet, so the take-up is the mean of what
    each depth would shrink by itself, the moisture spreading by diffusion from both faces. Derived;
    the time constants rest on a table from memory.
    """
    start = between(fitted_percent, 0, 300, "Moisture at fitting", " %")
    settled = between(service_percent, 0, start, "Service moisture", " %")
    whole_mm = finite(take_up_mm, "The take-up in mm")
    if whole_mm <= 0 or settled >= min(start, FIBRE_SATURATION_PERCENT):
        return ()
    visits = []
    for days in (*VISIT_DAYS, *(365 * year for year in range(2, LAST_VISIT_YEARS + 1))):
        slow, quick = (
            take_up_mm * share_come(days / tau, start, settled)
            for tau in (time_constant.greatest_days, time_constant.least_days)
        )
        visits.append(Visit(fitted_on + timedelta(days), slow, quick))
        if slow >= 0.9 * take_up_mm:
            break
    return tuple(visits)


def share_come(elapsed: float, start_percent: float, settled_percent: float) -> float:
    """Share (0 to 1) of its whole shrinkage that a timber has made after `elapsed` time constants.

    Diffusion into a plate wet through at first: at depth x of thickness L the excess moisture is
    (M0 - Ms) times the sum over odd n of 4/(n pi) sin(n pi x/L) exp(-n^2 t/tau). Each depth shrinks
    by how far it lies below fibre saturation, and the plate by the mean of them. start_percent and
    settled_percent: M0 and Ms, ValueError unless Ms is below both M0 and fibre saturation.
    """
    begin = min(finite(start_percent, "Moisture at fitting"), FIBRE_SATURATION_PERCENT)
    if finite(settled_percent, "Service moisture") >= begin:
        raise ValueError("The timber dries no further: it has no shrinkage to make.")
    if finite(elapsed, "The time in time constants") <= 0:
        return 0.0
    terms = (4.0 / (ODD * math.pi)) * np.exp(-(ODD**2) * elapsed)
    excess = np.clip(np.sin(np.outer(DEPTHS, ODD) * math.pi) @ terms, 0.0, 1.0)
    local = settled_percent + (start_percent - settled_percent) * excess
    fallen = begin - np.minimum(local, begin)
    return float(fallen.mean() / (begin - settled_percent))


ODD = np.arange(1, 200, 2, dtype=float)
DEPTHS = (np.arange(60) + 0.5) / 120.0
"""Depths from one face to the middle, as shares of the thickness; the other half is alike."""
