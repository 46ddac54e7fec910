"""Where a piece lies on a face, and what it covers there."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from restoration.calc.nesting_pieces import Piece

Figures = NDArray[np.float64]


@dataclass(frozen=True)
class Place:
    """The piece mirrored about its own x if `mirrored`, then turned counter-clockwise by
    `angle_deg`, then its own nought moved to (x, y) on the face."""

    key: str
    x_mm: float
    y_mm: float
    angle_deg: float = 0.0
    mirrored: bool = False


def turned(outline: Figures, angle_deg: float, mirrored: bool) -> Figures:
    """The corners of an outline mirrored and turned about its own nought; one row a corner."""
    turn = math.radians(angle_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    flat = outline * (1.0, -1.0) if mirrored else outline
    found: Figures = flat @ np.array([[cos, sin], [-sin, cos]])
    return found


def covered(piece: Piece, place: Place) -> Polygon:
    """What the piece covers of the face when it lies there."""
    corners = turned(np.array(piece.outline_mm), place.angle_deg, place.mirrored)
    return Polygon(corners + np.array([place.x_mm, place.y_mm]))


def off_grain_deg(angle_deg: float) -> float:
    """How far a piece turned by an angle lies off the grain, 0 to 90: end for end is no turn."""
    return abs((angle_deg + 90.0) % 180.0 - 90.0)
