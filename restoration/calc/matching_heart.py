"""Where the heart lies beside the piece that a board would give, and how that piece would dry.

The piece is taken out of the board's section on the side away from the heart, as a wright would.
Corners dry by the polar map about the heart (`timber_stock.wood.distortion`, derived); only they
are reckoned here, so that a hundred thousand pairs can be asked for at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from restoration.calc.matching_columns import Bools, Floats, Needs, Offers, Points
from timber_stock.wood.moisture import FIBRE_SATURATION_PERCENT


@dataclass(frozen=True)
class HeartBeside:
    """One entry for each pair; NaN where nothing is known.

    clearance_mm: from the heart, as measured, to the nearest of the piece; nought when it is in it.
    nearest_butt: whether it comes nearest at the end towards the butt. ring_deg: the angle of the
    rings to the piece's wide face in its middle, where the heart was measured.
    out_of_square_deg: the most any corner leaves a right angle by, from its moisture now to that
    of its service; `assumed` where the heart was put by the ring direction alone.
    """

    clearance_mm: Floats
    nearest_butt: Bools
    ring_deg: Floats
    out_of_square_deg: Floats
    assumed: Bools


def heart_beside(
    a: Offers, b: Needs, shrinkages: Mapping[int, tuple[float, float]], *, anywhere: bool = False
) -> HeartBeside:
    """What the heart is to every piece; see `matching.weigh` for shrinkages and `anywhere`."""
    end = a.end if anywhere else np.minimum(a.start + b.length, a.end)
    near, far = (a.butt + (a.top - a.butt) * (at / a.board_length) for at in (a.start, end))
    measured = ~np.isnan(a.butt.real)
    across = np.where(a.width >= a.thickness, b.high, b.low)
    deep = np.where(a.width >= a.thickness, b.low, b.high)
    usual = np.where(measured, (near + far) / 2, a.assumed)
    middle = _away_from(usual, a, across, deep)
    near, far, usual = near - middle, far - middle, usual - middle
    with np.errstate(invalid="ignore"):
        return HeartBeside(
            _nearest_along(near, far, across, deep),
            _gap(near, across, deep) <= _gap(far, across, deep),
            _ring_deg(np.where(measured, usual, np.nan), across, deep),
            _out_of_square(usual, across, deep, *_shares(a, b, shrinkages)),
            ~measured,
        )


def _away_from(pith: Points, a: Offers, across: Floats, deep: Floats) -> Points:
    """The middle of the piece when it is taken from the side away from the heart."""
    x = np.where(pith.real > 0, -1.0, 1.0) * np.maximum(a.width - across, 0.0) / 2
    y = np.where(pith.imag > 0, -1.0, 1.0) * np.maximum(a.thickness - deep, 0.0) / 2
    return np.asarray(x + 1j * y)


def _gap(pith: Points, across: Floats, deep: Floats) -> Floats:
    """From a point to a rectangle about nought."""
    x = np.maximum(np.abs(pith.real) - across / 2, 0.0)
    y = np.maximum(np.abs(pith.imag) - deep / 2, 0.0)
    return np.hypot(x, y)


def _nearest_along(near: Points, far: Points, across: Floats, deep: Floats) -> Floats:
    """The least gap at the two ends and seven places between: the heart runs straight."""
    least = _gap(near, across, deep)
    for share in np.linspace(0.125, 1.0, 8):
        least = np.minimum(least, _gap(near + (far - near) * share, across, deep))
    return least


def _inside(pith: Points, across: Floats, deep: Floats) -> Bools:
    return (np.abs(pith.real) <= across / 2) & (np.abs(pith.imag) <= deep / 2)


def _ring_deg(pith: Points, across: Floats, deep: Floats) -> Floats:
    """Rings stand square to the line from the heart to the middle of the piece."""
    bearing = np.degrees(np.arctan2(np.abs(pith.imag), np.abs(pith.real)))
    angle = np.where(across >= deep, 90.0 - bearing, bearing)
    return np.where(_inside(pith, across, deep), np.nan, angle)


def _shares(
    a: Offers, b: Needs, shrinkages: Mapping[int, tuple[float, float]]
) -> tuple[Floats, Floats]:
    """Radial and tangential shrinkage as shares, from a board's moisture now to that in service."""
    green = np.where(a.state == "green", FIBRE_SATURATION_PERCENT, np.nan)
    now = np.where(np.isnan(a.percent), green, a.percent)
    radial, tangential = np.full(a.wood.shape, np.nan), np.full(a.wood.shape, np.nan)
    for wood, (across_rings, along_rings) in shrinkages.items():
        radial[a.wood == wood], tangential[a.wood == wood] = across_rings, along_rings
    return _share(radial, now, b.service), _share(tangential, now, b.service)


def _share(percent: Floats, now: Floats, then: Floats) -> Floats:
    """S = S0 (30 - M)/30 at either moisture (`timber_stock.wood.movement`)."""
    before, after = (
        percent / 100.0 * np.clip(1.0 - m / FIBRE_SATURATION_PERCENT, 0.0, 1.0) for m in (now, then)
    )
    return np.asarray(1.0 - (1.0 - after) / (1.0 - before))


def _out_of_square(pith: Points, across: Floats, deep: Floats, e_r: Floats, e_t: Floats) -> Floats:
    """The most a dried corner is from a right angle, degrees, between the chords of the corners."""
    about = -pith
    bearing, stretch = np.exp(1j * np.angle(about)), (1.0 - e_t) / (1.0 - e_r)
    dried = []
    for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        corner = (about + x * across / 2 + 1j * y * deep / 2) / bearing
        dried.append(np.abs(corner) * np.exp(1j * stretch * np.angle(corner)))
    most = np.zeros(pith.shape)
    for k in range(4):
        back, onward = dried[k - 1] - dried[k], dried[(k + 1) % 4] - dried[k]
        most = np.maximum(most, np.abs(np.degrees(np.angle(back / onward)) - 90.0))
    return np.where(_inside(pith, across, deep), np.nan, most)
