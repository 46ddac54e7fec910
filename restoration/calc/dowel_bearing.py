"""How hard a round bar may press on its hole, MPa: by wood, size and angle to the grain.

Two published ways. NDS: by specific gravity (ovendry volume), read as reproduced in print; the
form of the small diameters is Eq. 8-3 of the Wood Handbook as well. EN 1995-1-1: by characteristic
density, from memory.
"""

import math

from restoration.calc.checks import above_zero, finite
from timber_stock.measure import MM_PER_INCH

MPA_PER_PSI = 0.00689475729
SMALL_MM = 0.25 * MM_PER_INCH
"""Below a quarter of an inch the grain's direction makes no difference (NDS)."""
LARGEST_MM = 1.0 * MM_PER_INCH
EN_LARGEST_MM = 30.0
EN_SMALL_MM = 6.0
"""Nails, and screws up to 6 mm, bear alike in every direction (EN 1995-1-1, from memory)."""


def hankinson(along: float, across: float, angle_deg: float) -> float:
    """A strength at an angle to the grain: P Q / (P sin2 + Q cos2). Wood Handbook, Eq. 8-16.

    along P and across Q in one unit, above 0; angle_deg any, taken between 0 and 90.
    """
    p, q = above_zero(along, "strength along the grain"), above_zero(across, "strength across it")
    angle = math.radians(finite(angle_deg, "angle to the grain"))
    return p * q / (p * math.sin(angle) ** 2 + q * math.cos(angle) ** 2)


def bearing_along_mpa(gravity: float) -> float:
    """11,200 G psi, for bars of a quarter of an inch to one inch (NDS)."""
    return 11_200 * above_zero(gravity, "specific gravity") * MPA_PER_PSI


def bearing_across_mpa(gravity: float, diameter_mm: float) -> float:
    """6,100 G**1.45 / sqrt(D) psi with D in inches, a quarter of an inch to one inch (NDS)."""
    g = above_zero(gravity, "specific gravity")
    inches = above_zero(diameter_mm, "diameter") / MM_PER_INCH
    return 6_100 * math.pow(g, 1.45) / math.sqrt(inches) * MPA_PER_PSI


def small_bearing_mpa(gravity: float) -> float:
    """16,600 G**1.84 psi in every direction, below a quarter of an inch (NDS)."""
    return 16_600 * math.pow(above_zero(gravity, "specific gravity"), 1.84) * MPA_PER_PSI


def bearing_mpa(gravity: float, diameter_mm: float, angle_deg: float) -> float:
    """Dowel bearing strength at an angle to the grain, MPa.

    gravity: ovendry weight on ovendry volume. Raises ValueError over one inch, where the
    published figures end.
    """
    diameter, angle = above_zero(diameter_mm, "diameter"), finite(angle_deg, "angle to the grain")
    if diameter > LARGEST_MM + 1e-6:
        raise ValueError(
            f"The published bearing strengths end at 1 in ({LARGEST_MM:g} mm): a fastening of "
            f"{diameter:g} mm is for a naval architect."
        )
    if diameter < SMALL_MM - 1e-6:
        return small_bearing_mpa(gravity)
    across = bearing_across_mpa(gravity, diameter)
    return hankinson(bearing_along_mpa(gravity), across, angle)


def en_bearing_along_mpa(density_kg_m3: float, diameter_mm: float) -> float:
    """0.082 (1 - 0.01 d) rho, MPa, bored holes, d up to 30 mm (EN 1995-1-1, from memory)."""
    density = above_zero(density_kg_m3, "characteristic density")
    diameter = above_zero(diameter_mm, "diameter")
    if diameter > EN_LARGEST_MM:
        raise ValueError("EN 1995-1-1 gives bearing strengths for bolts up to 30 mm.")
    return 0.082 * (1 - 0.01 * diameter) * density


def en_bearing_mpa(
    density_kg_m3: float, diameter_mm: float, angle_deg: float, hardwood: bool
) -> float:
    """Embedment strength at an angle: fh0 / (k90 sin2 + cos2), the whole from memory.

    k90 = 1.35 + 0.015 d in softwood, 0.90 + 0.015 d in hardwood; up to 6 mm the angle is nothing.
    """
    along = en_bearing_along_mpa(density_kg_m3, diameter_mm)
    if diameter_mm <= EN_SMALL_MM:
        return along
    angle = math.radians(finite(angle_deg, "angle to the grain"))
    k90 = (0.90 if hardwood else 1.35) + 0.015 * diameter_mm
    return along / (k90 * math.sin(angle) ** 2 + math.cos(angle) ** 2)
