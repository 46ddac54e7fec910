"""Ring angle over a rectangular timber: the acute angle between the rings and the wide face.

Rings are circles about the pith of each station. With u along the wide face and v across it, both
measured from the pith, the angle at a point is atan(|u| / |v|): 90 is quarter-sawn, 0 flat-sawn.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

NODES, WEIGHTS = np.polynomial.legendre.leggauss(12)
STATIONS = 0.5 * (NODES + 1)
SHARES = 0.5 * WEIGHTS


def angle_sum(u: Array, v: Array) -> Array:
    """Integral of atan(|u|/|v|) over the rectangle from the pith to (u, v), odd in both; radians.

    F = uv atan(u/v) + (u^2 - v^2)/4 ln(u^2 + v^2) + v^2/4 ln v^2 - u^2/4 ln u^2, the double
    integral of atan(u/v); checked against plain numerical integration in the tests.
    """
    uu, vv = u * u, v * v
    tiny = 1e-300
    size = (
        np.abs(u * v) * np.arctan2(np.abs(u), np.abs(v))
        + 0.25 * (uu - vv) * np.log(uu + vv + tiny)
        + 0.25 * vv * np.log(vv + tiny)
        - 0.25 * uu * np.log(uu + tiny)
    )
    return np.sign(u) * np.sign(v) * size


def mean_deg(u0: Array, u1: Array, v0: Array, v1: Array) -> Array:
    """Mean angle over the rectangle [u0, u1] x [v0, v1], pith at the origin; degrees."""
    total = angle_sum(u1, v1) - angle_sum(u0, v1) - angle_sum(u1, v0) + angle_sum(u0, v0)
    return np.degrees(total / ((u1 - u0) * (v1 - v0)))


def least_ratio(near: tuple[Array, Array], far: tuple[Array, Array]) -> Array:
    """Least of gap(near) / reach(far) between two ends, where the pith runs straight between them.

    `near` holds the signed gaps at both ends: 0 where the pith lies between the edges, and of
    opposite signs where it passes from one side to the other, when the least is 0 too.
    With the pith on one side the gap is linear and the reach convex along the length, so their
    ratio is least at an end.
    """
    crossing = (near[0] * near[1]) <= 0
    ratios = [np.abs(gap) / reach for gap, reach in zip(near, far, strict=True)]
    return np.where(crossing, 0.0, np.minimum(ratios[0], ratios[1]))


def signed_gap(pith: Array, low: Array, high: Array) -> Array:
    """Distance from the pith to the span, below 0 when the pith lies past its high edge."""
    return np.where(pith < low, low - pith, np.where(pith > high, high - pith, 0.0))


def reach(pith: Array, low: Array, high: Array) -> Array:
    """Distance from the pith to the further edge of the span."""
    return np.maximum(np.abs(pith - low), np.abs(pith - high))
