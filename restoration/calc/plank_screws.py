"""The wood screw for a plank of a thickness, by the one published table of boat screws held here.

The table's column headings were missing in the copy read; the hole column is the body of the screw,
for it agrees with 0.060 + 0.013 x gauge inches.
"""

from dataclasses import dataclass
from fractions import Fraction

from restoration.calc.checks import above_zero
from restoration.calc.tables import rows
from timber_stock.measure import MM_PER_INCH


@dataclass(frozen=True)
class PlankScrew:
    """A row: sizes in mm, `bung` as the table has it, in inches."""

    plank_mm: float
    body_mm: float
    gauge: int
    length_mm: float
    bung: str
    source_id: str


def plank_screws() -> tuple[PlankScrew, ...]:
    """The table, thin planks first."""
    return tuple(
        PlankScrew(
            plank_mm=_mm(row["plank_in"]),
            body_mm=_mm(row["body_in"]),
            gauge=int(row["gauge"]),
            length_mm=_mm(row["length_in"]),
            bung=row["bung_in"],
            source_id=row["source_id"],
        )
        for row in rows("screw_table")
    )


def screw_for_plank(thickness_mm: float) -> PlankScrew | None:
    """The row of the nearest plank thickness; None for planks thinner or thicker than the table's.

    Raises ValueError for a thickness not above 0.
    """
    thickness = above_zero(thickness_mm, "thickness of the plank")
    table = plank_screws()
    nearest = min(table, key=lambda row: abs(row.plank_mm - thickness))
    return nearest if abs(nearest.plank_mm - thickness) <= MM_PER_INCH / 8 else None


def _mm(inches: str) -> float:
    """`1-1/8` of an inch, in mm."""
    whole, _, part = inches.rpartition("-")
    return float(Fraction(whole or 0) + Fraction(part)) * MM_PER_INCH
