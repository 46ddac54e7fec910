"""The same timber cut four ways, side by side: quarter, rift, flat and with the heart boxed."""

from __future__ import annotations

import math
from dataclasses import dataclass

from timber_stock.wood.checked import positive
from timber_stock.wood.distortion import DriedSection, dry_section
from timber_stock.wood.outline import Point, rectangle_mm
from timber_stock.wood.ring_limits import BOXED, FLAT, QUARTER, RIFT
from timber_stock.wood.rings import RingAngles, ring_angles
from timber_stock.wood.section_change import RectangleChange, rectangle_change

BEARINGS_DEG = {QUARTER: 0.0, RIFT: 45.0, FLAT: 90.0}
"""Bearing of the timber from the pith, from the direction of its wide face: square, and halfway."""


@dataclass(frozen=True)
class Scenario:
    """One way of cutting the timber: where it lies about the pith, its rings and its dried shape.

    The timber is centred on x = y = 0 with its width along x; only the pith differs.
    """

    name: str
    pith_mm: Point
    outline_mm: tuple[Point, ...]
    angles: RingAngles
    dried: DriedSection
    change: RectangleChange


def four_ways(
    width_mm: float,
    thickness_mm: float,
    radial_percent: float,
    tangential_percent: float,
    pith_distance_mm: float | None = None,
) -> tuple[Scenario, ...]:
    """Quarter, rift, flat and boxed heart for one timber, in that order.

    width_mm and thickness_mm: green size. radial_percent, tangential_percent: shrinkage to the
    moisture in question. pith_distance_mm: from the pith to the middle of the timber for the first
    three; left out, twice half its diagonal, which clears the heart whichever way it is turned.
    Raises ValueError for a size not above nought, a pith that would lie in a timber meant to be
    clear of it, and as `dry_section` does.
    """
    width = positive(width_mm, "The width in mm")
    thickness = positive(thickness_mm, "The thickness in mm")
    half_diagonal = math.hypot(width, thickness) / 2
    away = 2 * half_diagonal
    if pith_distance_mm is not None:
        away = positive(pith_distance_mm, "The distance of the pith in mm")
    if away < half_diagonal:
        raise ValueError(
            f"A pith {away:g} mm from the middle may lie in the timber; its corners reach "
            f"{half_diagonal:.0f} mm. Take it at least that far for a piece free of heart."
        )
    piths = {name: _pith(bearing, away) for name, bearing in BEARINGS_DEG.items()}
    piths[BOXED] = (0.0, 0.0)
    outline = rectangle_mm((-width / 2, -thickness / 2), width, thickness)
    return tuple(
        scenario(name, outline, pith, radial_percent, tangential_percent)
        for name, pith in piths.items()
    )


def scenario(
    name: str,
    outline_mm: tuple[Point, ...],
    pith_mm: Point,
    radial_percent: float,
    tangential_percent: float,
) -> Scenario:
    """One rectangle cut at one place about the pith, with all that is said of it.

    The wide face is the longer side, or the first side of a square.
    """
    dried = dry_section(outline_mm, pith_mm, radial_percent, tangential_percent)
    return Scenario(
        name=name,
        pith_mm=pith_mm,
        outline_mm=tuple(outline_mm),
        angles=ring_angles(outline_mm, pith_mm),
        dried=dried,
        change=rectangle_change(dried),
    )


def _pith(bearing_deg: float, away_mm: float) -> Point:
    bearing = math.radians(bearing_deg)
    return (-away_mm * math.cos(bearing), -away_mm * math.sin(bearing))
