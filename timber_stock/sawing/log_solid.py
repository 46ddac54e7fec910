"""The log as the saw sees it: a tapering ellipse rolled on the carriage, with its drifting pith.

Frame: z from the butt (0) to the top; X, Y fixed to the log about its geometric centre; x, y of the
saw, which is the log rolled counter-clockwise by `roll_deg`. Lengths in millimetres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from timber_stock.sawing.request import Log

Array = NDArray[np.float64]


def semi_axes(log: Log, z: Array | float) -> tuple[Array, Array]:
    """The two half diameters of the under-bark outline at `z`, running straight from end to end."""
    share = np.asarray(z, dtype=float) / log.length_mm
    a = 0.5 * (log.butt_diameter_mm[0] + (log.top_diameter_mm[0] - log.butt_diameter_mm[0]) * share)
    b = 0.5 * (log.butt_diameter_mm[1] + (log.top_diameter_mm[1] - log.butt_diameter_mm[1]) * share)
    return a, b


def log_volume_mm3(log: Log) -> float:
    """Volume under bark: pi times the integral of a(z) b(z), exact because both are linear."""
    a0, b0 = (d / 2 for d in log.butt_diameter_mm)
    a1, b1 = (d / 2 for d in log.top_diameter_mm)
    return math.pi * log.length_mm * (2 * a0 * b0 + a0 * b1 + a1 * b0 + 2 * a1 * b1) / 6


@dataclass(frozen=True)
class RolledLog:
    """A log turned counter-clockwise by `roll_deg`, in the saw's own x and y."""

    log: Log
    roll_deg: float

    def turn(self, x: float, y: float) -> tuple[float, float]:
        """A place fixed to the log, (X, Y), as the saw sees it."""
        angle = math.radians(self.roll_deg)
        c, s = math.cos(angle), math.sin(angle)
        return c * x - s * y, s * x + c * y

    def pith(self, z: Array | float) -> tuple[Array, Array]:
        x0, y0 = self.turn(*self.log.butt_pith_mm)
        x1, y1 = self.turn(*self.log.top_pith_mm)
        share = np.asarray(z, dtype=float) / self.log.length_mm
        return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share

    def room_to_outline(self, x: Array, y: Array, z: Array, inset_mm: float) -> Array:
        """How far (x, y) lies inside the outline less `inset_mm`, measured along its radius."""
        angle = math.radians(self.roll_deg)
        c, s = math.cos(angle), math.sin(angle)
        a, b = semi_axes(self.log, z)
        a, b = a - inset_mm, b - inset_mm
        hollow = (a <= 0) | (b <= 0)
        a, b = np.where(hollow, 1e-6, a), np.where(hollow, 1e-6, b)
        share = np.hypot((c * x + s * y) / a, (c * y - s * x) / b)
        radius = np.hypot(x, y)
        small = np.minimum(a, b)
        room = np.where(share > 1e-9, radius * (1 / np.maximum(share, 1e-12) - 1), small)
        return np.where(hollow, -radius - inset_mm, room)
