"""Timbers that can never lie in a log, proved by lengths alone, whatever the roll and place.

Take the greatest half diameter R at the stations a timber must span, and the furthest the pith lies
from the middle there, e. No point of the wood is further than R + e from the pith. A section w by t
kept c clear of the pith has its furthest corner at least sqrt((c + t)^2 + (w/2)^2) from it; one
whose rings must stand at T or more to the wide face reaches further, because it lies beyond the
pith along that face. When even the least of these is more than R + e the timber is impossible.
"""

from __future__ import annotations

import math

from timber_stock.sawing.request import Log, Wanted

STRIPS = 200


def impossible(log: Log, timber: Wanted) -> bool:
    """Whether it is proved that the timber cannot be got from this log at any roll."""
    if timber.length_mm > log.length_mm:
        return True
    return least_reach_mm(timber) > greatest_reach_mm(log, timber) + 1e-6


def greatest_reach_mm(log: Log, timber: Wanted) -> float:
    """R + e: no wood the timber may use lies further from the pith, at one of its ends at least."""
    butt, top = (max(d) / 2 for d in (log.butt_diameter_mm, log.top_diameter_mm))
    share = timber.length_mm / log.length_mm
    # The lesser of the radii at the two ends is greatest with the timber against the big end.
    small, large = sorted((butt, top))
    radius = large + (small - large) * share
    inset = 0.0 if timber.sapwood_allowed else log.sapwood_mm
    drift = max(math.hypot(*log.butt_pith_mm), math.hypot(*log.top_pith_mm))
    return radius - inset + drift


def least_reach_mm(timber: Wanted) -> float:
    """The least distance of the furthest corner from the pith that the limits allow."""
    w, t = timber.width_mm, timber.thickness_mm
    clear = timber.heart_clearance_mm
    rings = timber.rings.worst_min_deg
    if rings is None or rings <= 0:
        if clear is None:
            return math.hypot(w / 2, t / 2)
        return math.hypot(clear + t, w / 2)
    slope = math.tan(math.radians(min(rings, 89.9)))
    clear = clear or 0.0
    astride = math.hypot(max(clear, slope * t / 2) + w, t / 2)
    return min(astride, _beside(w, t, clear, slope))


def _beside(w: float, t: float, clear: float, slope: float) -> float:
    """Least reach with the pith q below the section: p >= slope (q + t), p^2 + q^2 >= clear^2.

    q is taken in strips, each bounded by its better edge, so the least of them is a true bound;
    beyond the last strip the reach only grows.
    """
    least = math.hypot(slope * (clear + t) + w, clear + t)
    for strip in range(STRIPS):
        low, high = clear * strip / STRIPS, clear * (strip + 1) / STRIPS
        off = math.sqrt(max(0.0, clear * clear - high * high))
        least = min(least, math.hypot(max(off, slope * (low + t)) + w, low + t))
    return least
