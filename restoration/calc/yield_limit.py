"""Lateral strength of one fastening by the yield-limit equations of the NDS: every mode, the least.

The wood crushes, or the metal bends, in one of a few ways; what gives way first is what it holds.
Bearing strengths are from `dowel_bearing`. The load is a reference (allowable) one in dry wood at
the usual duration; `fastening_moisture` lowers it. The equations are from memory, tied down by
published worked examples.
"""

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite
from restoration.calc.fastening_sources import MEMORY, NDS, Published
from timber_stock.measure import MM_PER_INCH

SOURCE = Published(f"{NDS}, yield-limit equations; checked on published examples", MEMORY)
MEANING = {
    "Im": "the wood of the point's timber crushes",
    "Is": "the wood of the head's timber crushes",
    "II": "the fastening turns stiff in both timbers",
    "IIIm": "the fastening bends once, in the point's timber",
    "IIIs": "the fastening bends once, in the head's timber",
    "IV": "the fastening bends in both timbers",
}
REDUCTION = {"Im": 4.0, "Is": 4.0, "II": 3.6, "IIIm": 3.2, "IIIs": 3.2, "IV": 3.2}
"""Rd along the grain, from 1/4 in (NDS, from memory; the rest of it in `reduction`)."""


@dataclass(frozen=True)
class Shear:
    """One fastening between two timbers. Bearing lengths mm, strengths MPa.

    main is the point's timber (in double shear the middle one), side the head's. worst_angle_deg is
    the greatest angle of load to grain in any of them, 0 to 90.
    """

    diameter_mm: float
    bending_yield_mpa: float
    main_mm: float
    side_mm: float
    main_bearing_mpa: float
    side_bearing_mpa: float
    worst_angle_deg: float = 0.0


@dataclass(frozen=True)
class Modes:
    """Load in N of every mode, in the order of the equations."""

    loads_n: dict[str, float]

    @property
    def governs(self) -> str:
        return min(self.loads_n, key=lambda mode: self.loads_n[mode])

    @property
    def least_n(self) -> float:
        return self.loads_n[self.governs]


def single_shear(shear: Shear) -> Modes:
    """Im, Is, II, IIIm, IIIs and IV of a fastening through two timbers.

    Raises ValueError for sizes or strengths not above 0 and an angle outside 0 to 90.
    """
    s = _checked(shear)
    whole = s.diameter_mm * s.side_mm * s.side_bearing_mpa
    re = s.main_bearing_mpa / s.side_bearing_mpa
    raw = {
        "Im": s.diameter_mm * s.main_mm * s.main_bearing_mpa,
        "Is": whole,
        "II": _k1(re, s.main_mm / s.side_mm) * whole,
        "IIIm": _k2(s, re) * s.diameter_mm * s.main_mm * s.main_bearing_mpa / (1 + 2 * re),
        "IIIs": _k3(s, re) * s.diameter_mm * s.side_mm * s.main_bearing_mpa / (2 + re),
        "IV": _bent_twice(s, re),
    }
    return Modes({mode: load / reduction(s, mode) for mode, load in raw.items()})


def double_shear(shear: Shear) -> Modes:
    """Im, Is, IIIs and IV of a fastening through a middle timber between two like side ones."""
    one = single_shear(shear).loads_n
    return Modes({"Im": one["Im"]} | {mode: 2 * one[mode] for mode in ("Is", "IIIs", "IV")})


def reduction(shear: Shear, mode: str) -> float:
    """Rd: what the yield load is divided by. By mode and angle from 1/4 in, else by size alone."""
    inches = shear.diameter_mm / MM_PER_INCH
    if inches >= 0.25 - 1e-9:
        return REDUCTION[mode] * (1 + 0.25 * shear.worst_angle_deg / 90)
    return 2.2 if inches <= 0.17 else 10 * inches + 0.5


def _k1(re: float, rt: float) -> float:
    root = math.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3)
    return (root - re * (1 + rt)) / (1 + re)


def _k2(s: Shear, re: float) -> float:
    bend = 2 * s.bending_yield_mpa * (1 + 2 * re) * s.diameter_mm**2
    return -1 + math.sqrt(2 * (1 + re) + bend / (3 * s.main_bearing_mpa * s.main_mm**2))


def _k3(s: Shear, re: float) -> float:
    bend = 2 * s.bending_yield_mpa * (2 + re) * s.diameter_mm**2
    return -1 + math.sqrt(2 * (1 + re) / re + bend / (3 * s.main_bearing_mpa * s.side_mm**2))


def _bent_twice(s: Shear, re: float) -> float:
    return s.diameter_mm**2 * math.sqrt(
        2 * s.main_bearing_mpa * s.bending_yield_mpa / (3 * (1 + re))
    )


def _checked(shear: Shear) -> Shear:
    above_zero(shear.diameter_mm, "diameter")
    above_zero(shear.bending_yield_mpa, "bending yield strength")
    above_zero(shear.main_mm, "length in the point's timber")
    above_zero(shear.side_mm, "length in the head's timber")
    above_zero(shear.main_bearing_mpa, "bearing strength of the point's timber")
    above_zero(shear.side_bearing_mpa, "bearing strength of the head's timber")
    if not 0 <= finite(shear.worst_angle_deg, "angle to the grain") <= 90:
        raise ValueError("An angle of load to grain lies between 0 and 90 degrees.")
    return shear


def bending_yield_mpa(yield_mpa: float, tensile_mpa: float) -> float:
    """Bending yield of a fastening, the mean of yield and tensile strength (from memory)."""
    low, high = above_zero(yield_mpa, "yield"), above_zero(tensile_mpa, "tensile strength")
    return (low + high) / 2
