"""Washers: what the wood under one bears before it is crushed, and how large it should be."""

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero
from restoration.calc.fastening_sources import EN, HANDBOOK, MEMORY, NDS, READ, Published

BEARING = Published(
    f"{HANDBOOK.partition(',')[0]}, table 5-3: stress across the grain at proportional limit", READ
)
LLOYDS = Published(
    "Lloyd's Register, Special Service Craft (July 2022), Pt 4 Ch 3 s 6.3 Keel bolts", READ
)


@dataclass(frozen=True)
class WasherRule:
    """Least size of a washer as one publication has it, mm."""

    diameter_mm: float
    thickness_mm: float
    about: str
    source: Published

    def short(self, washer_mm: float | None, thick_mm: float | None) -> str:
        """What a washer has too little of, in words; "" where nothing that is said falls short."""
        small = washer_mm is not None and washer_mm < self.diameter_mm - 0.05
        thin = thick_mm is not None and thick_mm < self.thickness_mm - 0.05
        return " and ".join(
            words for words, is_so in (("too small", small), ("too thin", thin)) if is_so
        )


def washer_area_mm2(washer_mm: float, hole_mm: float) -> float:
    """Wood under a round washer, mm2: the disc less the hole. ValueError if that is nothing."""
    washer, hole = above_zero(washer_mm, "washer's diameter"), above_zero(hole_mm, "hole")
    if washer <= hole:
        raise ValueError(f"A washer of {washer:g} mm does not bear on a hole of {hole:g} mm.")
    return math.pi / 4 * (washer**2 - hole**2)


def crushing_load_n(washer_mm: float, hole_mm: float, bearing_mpa: float) -> float:
    """Pull at which the wood under a washer begins to crush, N.

    bearing_mpa: stress across the grain at proportional limit of the wood in the state it is in.
    An average of clear specimens; no allowance is in it.
    """
    stress = above_zero(bearing_mpa, "stress across the grain")
    return washer_area_mm2(washer_mm, hole_mm) * stress


def washer_for_load_mm(load_n: float, hole_mm: float, bearing_mpa: float) -> float:
    """Diameter of the round washer under which the wood just bears a pull, mm."""
    area = above_zero(load_n, "pull") / above_zero(bearing_mpa, "stress across the grain")
    return math.sqrt(area * 4 / math.pi + above_zero(hole_mm, "hole") ** 2)


def washer_rules(bolt_mm: float) -> tuple[WasherRule, ...]:
    """Least washers published for a bolt. Keel bolts (Lloyd's Register): plate 4 x its diameter,
    a quarter as thick as the bolt, no need of more than 8 mm. EN 1995-1-1: 3 d and 0.3 d."""
    d = above_zero(bolt_mm, "diameter of the bolt")
    return (
        WasherRule(4 * d, min(0.25 * d, 8.0), "plate washers of keel bolts", LLOYDS),
        WasherRule(3 * d, 0.3 * d, "bolts in timber", Published(f"{EN}, 10.4.3", MEMORY)),
    )


STANDARD_WASHER = Published(
    f"{NDS}, bolts, as summarised: not less than a standard cut washer under head and nut", READ
)
