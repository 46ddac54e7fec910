"""What is left of a wasted bolt: area, tensile strength, bending and withdrawal.

With q the least diameter over the original one: tension goes as q**2, the yield moment of a
round bar as q**3 (q**2.6 in the formula of EN 1995-1-1, recalled from memory), the withdrawal
of a nail or screw as q. Geometry, and the forms of the equations in the Wood Handbook,
chapter 8, and EN 1995-1-1. Metals and their strengths are in `fixtures/fastening_metals.csv`,
each with its source and how it is known.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from restoration.calc.checks import above_zero, not_below_zero
from restoration.calc.tables import rows
from timber_stock.measure import MM_PER_INCH

CAUTION = (
    "No published limit was found for the wasting of bolts or keel bolts in wooden hulls: what "
    "may stay is for the surveyor to judge. The figure is for sound metal of the least diameter "
    "measured; pits, dezincified brass, cracks and crevices leave less. A bolt seen only at its "
    "head and nut has not been seen. Keel bolts: defer to class rules and a naval architect."
)
MPA_PER_KSI = 6.894757
"""1 ksi = 1000 lbf/in2, from the exact pound-force and inch."""


@dataclass(frozen=True)
class BoltLoss:
    """What is left of a bolt. Fractions are of the bolt as it was, 1 for no loss."""

    diameter_fraction: float
    area_mm2: float

    @property
    def tension_fraction(self) -> float:
        return math.pow(self.diameter_fraction, 2)

    @property
    def bending_fraction(self) -> float:
        """Yield moment of the round bar."""
        return math.pow(self.diameter_fraction, 3)

    @property
    def bending_fraction_en(self) -> float:
        """Yield moment by the formula of EN 1995-1-1."""
        return math.pow(self.diameter_fraction, 2.6)


def wasted_bolt(original_mm: float, least_mm: float) -> BoltLoss:
    """What is left of a bolt of `original_mm` worn to `least_mm` at its thinnest.

    Measure the thinnest place, which is mostly at the faying surface, and not a mean. Raises
    ValueError for a diameter below 0 and for one larger than the original.
    """
    original = above_zero(original_mm, "original diameter")
    least = not_below_zero(least_mm, "least diameter")
    if least > original:
        raise ValueError(
            f"A bolt of {original:g} mm cannot have wasted to {least:g} mm: check which is which."
        )
    return BoltLoss(least / original, math.pi / 4 * least**2)


def metric_stress_area_mm2(diameter_mm: float, pitch_mm: float) -> float:
    """Tensile stress area of a metric thread, pi/4 (d - 0.9382 P)**2 (ISO 898-1).

    Raises ValueError for a pitch as coarse as the bolt is thick.
    """
    diameter = above_zero(diameter_mm, "thread diameter")
    return _stress_area(diameter, 0.9382 * above_zero(pitch_mm, "thread pitch"))


def unified_stress_area_mm2(diameter_mm: float, threads_per_inch: float) -> float:
    """Tensile stress area of a unified thread, pi/4 (D - 0.9743/n)**2 with D and 1/n in inches.

    Source: published tables of unified threads; the diameter here is in mm, the area in mm2.
    """
    diameter = above_zero(diameter_mm, "thread diameter")
    threads = above_zero(threads_per_inch, "number of threads per inch")
    return _stress_area(diameter, 0.9743 * MM_PER_INCH / threads)


def _stress_area(diameter_mm: float, cut_mm: float) -> float:
    if cut_mm >= diameter_mm:
        raise ValueError(f"So coarse a thread leaves nothing of a bolt of {diameter_mm:g} mm.")
    return math.pi / 4 * (diameter_mm - cut_mm) ** 2


@cache
def standard_threads() -> Mapping[str, float]:
    """Tensile stress area in mm2, by formula, of each thread in `fixtures/threads.csv`."""
    return MappingProxyType({row["thread"]: _tabled_area(row) for row in rows("threads")})


def _tabled_area(row: dict[str, str]) -> float:
    diameter = float(row["diameter"])
    if row["unit"] == "mm":
        return metric_stress_area_mm2(diameter, float(row["pitch_mm"]))
    return unified_stress_area_mm2(diameter * MM_PER_INCH, float(row["threads_per_inch"]))


EVIDENCE = {"READ": "read", "MEMORY": "from memory"}


@dataclass(frozen=True)
class FasteningMetal:
    """A metal and its least tensile strength and yield, MPa, with how each figure is known."""

    code: str
    name: str
    tensile_mpa: float
    yield_mpa: float
    tensile_evidence: str
    yield_evidence: str
    source: str
    note: str
    galvanic: str
    """Its code in `galvanic.metals`."""
    from_mm: float = 0.0
    to_mm: float = math.inf

    @property
    def known(self) -> str:
        """Both figures, with how each is known and from where."""
        told = (("tensile", self.tensile_mpa, self.tensile_evidence),
                ("yield", self.yield_mpa, self.yield_evidence))  # fmt: skip
        figures = "; ".join(
            f"{what} {mpa:.0f} MPa ({mpa / MPA_PER_KSI:.3g} ksi), {EVIDENCE[how]}"
            for what, mpa, how in told
        )
        note = f"; {self.note}" if self.note else ""
        return f"Strengths held: {figures}; {self.source}{note}."

    def beyond(self, diameter_mm: float) -> str:
        """What to say of a size for which these figures are not published; "" within them."""
        hair = 0.02 * diameter_mm  # a metric size stands for the inch size beside it
        if self.from_mm - hair <= diameter_mm <= self.to_mm + hair:
            return ""
        return (
            f"{self.name}: the strengths held are for those sizes, and a fastening of "
            f"{diameter_mm:.1f} mm is outside them. Thicker bars are mostly weaker."
        )


@cache
def fastening_metals() -> Mapping[str, FasteningMetal]:
    """The metals by code, in the table's order. The yard may know its own metal better."""
    return MappingProxyType({row["code"]: _metal(row) for row in rows("fastening_metals")})


def _metal(row: dict[str, str]) -> FasteningMetal:
    to_mpa = MPA_PER_KSI if row["unit"] == "ksi" else 1.0
    return FasteningMetal(
        code=row["code"],
        name=row["metal"],
        tensile_mpa=float(row["tensile_low"]) * to_mpa,
        yield_mpa=float(row["yield_low"]) * to_mpa,
        tensile_evidence=row["tensile_evidence"],
        yield_evidence=row["yield_evidence"],
        source=row["source"],
        note=row["note"],
        galvanic=row["galvanic"],
        from_mm=float(row["from_in"] or 0) * MM_PER_INCH,
        to_mm=float(row["to_in"] or math.inf) * MM_PER_INCH,
    )


@dataclass(frozen=True)
class BoltTension:
    """What the weakest place of a bolt carries at its tensile strength, N, and where that is."""

    newtons: float
    area_mm2: float
    weakest: str


def tension_left(
    loss: BoltLoss, tensile_mpa: float, thread_area_mm2: float | None = None
) -> BoltTension:
    """Breaking load of a wasted bolt in tension: strength x the lesser of shank and thread area.

    tensile_mpa: least tensile strength of the metal. thread_area_mm2: stress area of a thread that
    is still whole, if the bolt has one. The load is one at which the bolt breaks, not one it may
    be given. Raises ValueError for a strength or area that is not above 0.
    """
    strength = above_zero(tensile_mpa, "tensile strength")
    area, weakest = loss.area_mm2, "shank"
    if thread_area_mm2 is not None and above_zero(thread_area_mm2, "thread area") < area:
        area, weakest = thread_area_mm2, "thread"
    return BoltTension(area * strength, area, weakest)
