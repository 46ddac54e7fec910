"""Ring angles over the whole length of a straight timber, while the pith drifts beside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from timber_stock.wood.outline import (
    Corners,
    Outline,
    Point,
    as_complex,
    corners_of,
    cross,
    place_of,
)
from timber_stock.wood.rings import RingAngles, facing, ring_angles

LEAST_DRIFT_MM = 1e-9
"""A pith that moves less than this has stayed where it was."""

GAUSS_SHARES, GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(10)


@dataclass(frozen=True)
class RingsAlong:
    """Ring angles of a timber over its volume, degrees, and the state of its two ends.

    `least_at` and `greatest_at` say where, as shares of the length from the butt. The mean is a
    numerical integral along the length, good to about a tenth of a degree; the extremes are exact.
    `heart_clearance_mm` is the least distance to the pith anywhere; when the heart is boxed
    anywhere it is not above nought, and then the depth is that at the stations looked at.
    """

    mean_deg: float
    least_deg: float
    greatest_deg: float
    least_at: float
    greatest_at: float
    heart_clearance_mm: float
    boxed_heart: bool
    butt: RingAngles
    top: RingAngles


def rings_along(
    outline_mm: Outline,
    butt_pith_mm: Point,
    top_pith_mm: Point,
    wide_face_deg: float | None = None,
) -> RingsAlong:
    """Ring angles of a straight timber of one section, the pith running straight between its ends.

    outline_mm and both piths in mm, in the one frame fixed to the timber; wide_face_deg as in
    `rings.ring_angles`. The angle at a corner rises or falls steadily along the length except
    where the pith passes square to it, so those stations and the two ends hold the extremes.
    Raises ValueError as `ring_angles` does.
    """
    corners = corners_of(outline_mm)
    butt = as_complex(butt_pith_mm, "The pith at the butt")
    top = as_complex(top_pith_mm, "The pith at the top")
    turn = facing(corners, wide_face_deg)

    def at(share: float) -> RingAngles:
        pith = butt + share * (top - butt)
        return ring_angles(outline_mm, (pith.real, pith.imag), wide_face_deg)

    inner = [at(float(share)) for share in (1.0 + GAUSS_SHARES) / 2]
    stations = _turning_stations(corners * turn, butt * turn, top * turn)
    found = {share: at(share) for share in stations}
    least = min(stations, key=lambda share: found[share].least_deg)
    greatest = max(stations, key=lambda share: found[share].greatest_deg)
    clear, boxed = _clearance(corners, butt, top)
    depths = [a.heart_clearance_mm for a in (*inner, *found.values())]
    return RingsAlong(
        mean_deg=float(np.dot(GAUSS_WEIGHTS, [a.mean_deg for a in inner]) / 2),
        least_deg=0.0 if boxed else found[least].least_deg,
        greatest_deg=90.0 if boxed else found[greatest].greatest_deg,
        least_at=least,
        greatest_at=greatest,
        heart_clearance_mm=min(0.0, *depths) if boxed else clear,
        boxed_heart=boxed,
        butt=found[0.0],
        top=found[1.0],
    )


def _turning_stations(corners: Corners, butt: complex, top: complex) -> list[float]:
    """The two ends, and where the pith lies square below or beside a corner: shares of length."""
    drift = top - butt
    shares = {0.0, 1.0}
    for away in (corners - butt).tolist():
        for distance, step in ((away.real, drift.real), (away.imag, drift.imag)):
            if step != 0 and 0 < distance / step < 1:
                shares.add(distance / step)
    return sorted(shares)


def _clearance(corners: Corners, butt: complex, top: complex) -> tuple[float, bool]:
    """Least distance from the line of the pith to the section, and whether it runs inside."""
    drift, edge = top - butt, np.roll(corners, -1) - corners
    ends = [place_of(corners, pith) for pith in (butt, top)]
    if abs(drift) <= LEAST_DRIFT_MM:
        return ends[0].distance_mm, ends[0].inside
    slant = cross(drift, edge)
    crossed = np.abs(slant) > 1e-12 * abs(drift) * np.abs(edge)
    met = cross(corners[crossed] - butt, edge[crossed]) / slant[crossed]
    where = np.sort(np.concatenate(([0.0, 1.0], met[(met > 0) & (met < 1)])))
    middles = [butt + float(share) * drift for share in (where[1:] + where[:-1]) / 2]
    share = np.clip(np.real((corners - butt) * np.conj(drift)) / abs(drift) ** 2, 0.0, 1.0)
    nearest = float(np.abs(corners - butt - share * drift).min())
    inside = any(place_of(corners, point).inside for point in middles)
    return min(nearest, *(place.distance_mm for place in ends)), inside
