"""One fastening as the strength equations see it: how thick where sheared, how far it holds."""

from __future__ import annotations

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero
from restoration.calc.fastening_holes import LAG_ROOT, SCREW_ROOT
from timber_stock.measure import MM_PER_INCH

THROUGH = frozenset({"bolt", "rivet"})
"""Held by a head and a nut or rove, and not by the wood round the point."""
WITH_FIGURES = THROUGH | {"drift", "screw", "lag", "nail", "annular", "spike"}
SCREW_THREAD = 2 / 3
"""Share of a wood screw's length that is threaded (from memory)."""


@dataclass(frozen=True)
class FasteningSize:
    """Kind, sizes in mm and the metal's least strengths in MPa.

    diameter_mm: of an annular nail at the root of its rings, of others of the shank.
    thread_area_mm2: stress area of a bolt's thread, None for a plain bar. washer_mm: of the washer,
    rove or plate; hole_mm: the hole under it, None where it is as wide as the fastening.
    """

    kind: str
    diameter_mm: float
    length_mm: float
    tensile_mpa: float
    yield_mpa: float
    thread_area_mm2: float | None = None
    washer_mm: float | None = None
    hole_mm: float | None = None

    def __post_init__(self) -> None:
        above_zero(self.diameter_mm, "diameter")
        above_zero(self.length_mm, "length")
        above_zero(self.tensile_mpa, "tensile strength")
        above_zero(self.yield_mpa, "yield")
        if self.length_mm < self.diameter_mm:
            raise ValueError("A fastening is longer than it is thick: check which is which.")

    @property
    def root_mm(self) -> float:
        """Where it is sheared: wood and lag screws at the root of their thread (from memory)."""
        share = {"screw": SCREW_ROOT, "lag": LAG_ROOT}.get(self.kind, 1.0)
        return share * self.diameter_mm

    @property
    def tension_area_mm2(self) -> float:
        bare = math.pi / 4 * self.root_mm**2
        return bare if self.thread_area_mm2 is None else min(bare, self.thread_area_mm2)

    @property
    def bearing_hole_mm(self) -> float:
        return max(self.hole_mm or 0.0, self.diameter_mm)

    def in_point_mm(self, head_thickness_mm: float, point_thickness_mm: float) -> float:
        """How much of it lies in the point's timber, mm.

        Raises ValueError where it does not reach: with how much it is short.
        """
        if self.kind in THROUGH:
            return self._goes_through(head_thickness_mm + point_thickness_mm, point_thickness_mm)
        reach = self.length_mm - head_thickness_mm
        if reach <= 0:
            raise ValueError(
                f"A fastening of {self.length_mm:.1f} mm does not reach through the head's timber "
                f"of {head_thickness_mm:.1f} mm into the one behind it."
            )
        return min(reach, point_thickness_mm)

    def threaded_in_point_mm(self, in_point_mm: float) -> float:
        """The part of that which holds: of screws the thread only."""
        thread = {
            "screw": SCREW_THREAD * self.length_mm,
            "lag": min(self.length_mm / 2 + MM_PER_INCH / 2, 6 * MM_PER_INCH),
        }.get(self.kind, math.inf)
        return min(in_point_mm, thread)

    def _goes_through(self, all_mm: float, point_mm: float) -> float:
        if self.length_mm < all_mm:
            raise ValueError(
                f"A through fastening of {self.length_mm:.1f} mm is shorter than the timbers it "
                f"goes through, {all_mm:.1f} mm."
            )
        return point_mm
