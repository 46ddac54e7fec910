"""How far wood moves across the grain between two moistures.

Shrinkages are percent of the green size, moistures percent of ovendry mass. Wood moves only below
fibre saturation, taken as 30 % unless another figure is given, and in proportion to the moisture.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from timber_stock.wood.checked import between, finite, moisture, positive
from timber_stock.wood.moisture import FIBRE_SATURATION_PERCENT


def shrinkage_percent(
    green_to_ovendry_percent: float,
    moisture_percent: float,
    fibre_saturation_percent: float = FIBRE_SATURATION_PERCENT,
) -> float:
    """Shrinkage from green to a moisture content: S0 (30 - M)/30, nought at 30 % and above.

    green_to_ovendry_percent: total shrinkage S0, 0 to 50 %. moisture_percent: M, nought or more.
    fibre_saturation_percent: 20 to 40. Percent of the green size. ValueError beyond these limits.
    Source: Wood Handbook ch. 4 (FPL-GTR-282 Eq. 4-9).
    """
    total = between(green_to_ovendry_percent, 0, 50, "Shrinkage green to ovendry", " %")
    content = moisture(moisture_percent)
    saturation = between(fibre_saturation_percent, 20, 40, "Fibre saturation", " %")
    return total * max(0.0, saturation - content) / saturation


def size_at_moisture_mm(
    size_mm: float,
    green_to_ovendry_percent: float,
    moisture_from_percent: float,
    moisture_to_percent: float,
) -> float:
    """The size in mm at another moisture: D (1 - S_to)/(1 - S_from), S the shrinkage from green.

    size_mm: above nought, measured at moisture_from_percent. The same as Eq. 13-3 of the Wood
    Handbook, for any moistures; above fibre saturation nothing moves. ValueError as
    `shrinkage_percent`.
    """
    size = positive(size_mm, "The size in mm")
    before = shrinkage_percent(green_to_ovendry_percent, moisture_from_percent)
    after = shrinkage_percent(green_to_ovendry_percent, moisture_to_percent)
    return size * (1.0 - after / 100.0) / (1.0 - before / 100.0)


def change_by_coefficient_mm(
    size_mm: float,
    coefficient_per_percent: float,
    moisture_from_percent: float,
    moisture_to_percent: float,
) -> float:
    """Change of size in mm by the coefficient form: D C (M_to - M_from); shrinking is negative.

    size_mm: above nought, at the first moisture. coefficient_per_percent: change per 1 % moisture,
    0 to 0.01. Both moistures within 6 to 14 %, the range the coefficients are made for, else
    ValueError. Source: Wood Handbook (2010) Eq. 13-2. The handbook adds that boards are seldom
    truly flat or quarter sawn, so it overstates the width and understates the thickness.
    """
    size = positive(size_mm, "The size in mm")
    coefficient = between(coefficient_per_percent, 0, 0.01, "The coefficient", " per % moisture")
    start = between(moisture_from_percent, 6, 14, "The first moisture for a coefficient", " %")
    end = between(moisture_to_percent, 6, 14, "The second moisture for a coefficient", " %")
    return size * coefficient * (end - start)


def coefficient_from_total(green_to_ovendry_percent: float) -> float:
    """Coefficient per 1 % moisture from total shrinkage: (S/3000)/(1 - S/150).

    Linear to 30 % and referred to the size at 10 %. Derived; it gives the figures of Wood Handbook
    Table 13-5 to five decimals wherever both were read.
    """
    total = between(green_to_ovendry_percent, 0, 50, "Shrinkage green to ovendry", " %")
    return total / 3000.0 / (1.0 - total / 150.0)


def total_from_coefficient(coefficient_per_percent: float) -> float:
    """Total shrinkage in percent from the coefficient, the same turned round: 3000 C/(1 + 20 C)."""
    coefficient = between(coefficient_per_percent, 0, 0.01, "The coefficient", " per % moisture")
    return 3000.0 * coefficient / (1.0 + 20.0 * coefficient)


def shrinkage_at_angle_percent(
    radial_percent: float, tangential_percent: float, ring_angle_deg: float
) -> float:
    """Shrinkage of a straight line at `ring_angle_deg` to the rings, percent of its green length.

    sqrt[((1 - e_t) cos a)^2 + ((1 - e_r) sin a)^2], exact for straight rings: 0 degrees is along
    them (the width of a flat-sawn board), 90 across (of a quarter-sawn one). Angles 0 to 90.
    Shrinkages to the moisture in question, -50 to 50 %. Derived.
    """
    e_r = between(radial_percent, -50, 50, "Radial shrinkage", " %") / 100.0
    e_t = between(tangential_percent, -50, 50, "Tangential shrinkage", " %") / 100.0
    angle = math.radians(between(ring_angle_deg, 0, 90, "The ring angle", " degrees"))
    return 100.0 * (1.0 - math.hypot((1.0 - e_t) * math.cos(angle), (1.0 - e_r) * math.sin(angle)))


@dataclass(frozen=True)
class SeamMovement:
    """What planks laid side by side do between two moistures, mm; swelling is positive.

    `seam_mm` is the gap left at the second moisture; nought when the planks meet, and then
    `squeeze_mm` is what each would still swell if it could.
    """

    plank_mm: float
    all_planks_mm: float
    seam_mm: float
    squeeze_mm: float


def seam_movement(
    plank_width_mm: float,
    planks: int,
    seam_mm: float,
    green_to_ovendry_percent: float,
    moisture_from_percent: float,
    moisture_to_percent: float,
) -> SeamMovement:
    """Movement of planks and of the seam between two of them, each held along its middle.

    plank_width_mm and seam_mm at the first moisture. green_to_ovendry_percent: for the direction
    of the width (tangential if flat-sawn, radial if quarter-sawn). Each plank moves by its
    own width, so a seam gives up the movement of one plank. Formula as `size_at_moisture_mm`.
    """
    seam = finite(seam_mm, "The seam in mm")
    if seam < 0 or planks < 1:
        raise ValueError("Give at least one plank and a seam that is not less than nought.")
    after = size_at_moisture_mm(
        plank_width_mm, green_to_ovendry_percent, moisture_from_percent, moisture_to_percent
    )
    grown = after - plank_width_mm
    return SeamMovement(grown, planks * grown, max(0.0, seam - grown), max(0.0, grown - seam))


def mixed_grain_shrinkage_percent(moisture_percent: float) -> tuple[float, float]:
    """Shrinkage of width and thickness, percent, of softwood lumber with no ring direction told.

    Width 6.031 - 0.215 M, thickness 5.062 - 0.181 M, green taken as 28 %; 8 to 19 % moisture only.
    Source: FPL-RP-489 (Green, 1989), for most species, read in its abstract.
    """
    content = between(moisture_percent, 8, 19, "The moisture for this rule", " %")
    return 6.031 - 0.215 * content, 5.062 - 0.181 * content
