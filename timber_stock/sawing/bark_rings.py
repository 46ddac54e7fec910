"""A second opinion on ring angle: rings shaped like the bark instead of circles about the heart.

Ring lines are taken as ellipses about the pith with the axes of the log's outline at that station,
so the direction square to a ring at (dx, dy) from the pith is (dx / a^2, dy / b^2), in the log's
own frame. Neither model is the truth; off-centre logs can differ by several degrees between them.
"""

from __future__ import annotations

import math

import numpy as np

from timber_stock.sawing.lawful import Places
from timber_stock.sawing.log_solid import RolledLog, semi_axes
from timber_stock.sawing.request import Wanted

NODES, WEIGHTS = np.polynomial.legendre.leggauss(10)


def bark_ring_mean_deg(rolled: RolledLog, timber: Wanted, at: Places) -> float:
    """Mean angle between bark-shaped rings and the wide face over the volume, by Gauss points."""
    x0, x1, y0, y1 = (float(value) for value in at.spans(timber))
    share, weight = 0.5 * (NODES + 1), 0.5 * WEIGHTS
    x, y, z = np.meshgrid(
        x0 + (x1 - x0) * share,
        y0 + (y1 - y0) * share,
        float(at.z) + timber.length_mm * share,
        indexing="ij",
    )
    px, py = rolled.pith(z)
    a, b = semi_axes(rolled.log, z)
    turn = math.radians(rolled.roll_deg)
    c, s = math.cos(turn), math.sin(turn)
    along = (c * (x - px) + s * (y - py)) / a**2
    across = (c * (y - py) - s * (x - px)) / b**2
    out_x, out_y = np.abs(c * along - s * across), np.abs(s * along + c * across)
    angle = np.arctan2(out_x, out_y) if at.wide_x else np.arctan2(out_y, out_x)
    weights = weight[:, None, None] * weight[None, :, None] * weight[None, None, :]
    return math.degrees(float(np.sum(angle * weights)))
