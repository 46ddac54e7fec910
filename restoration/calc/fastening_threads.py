"""The threads of bolts: how far a nut goes in one turn, and which thread a bolt of a size has."""

from restoration.calc.checks import above_zero
from restoration.calc.tables import rows
from timber_stock.measure import MM_PER_INCH


def pitch_mm(thread: str) -> float:
    """mm of one turn, of a thread in `fixtures/threads.csv`; ValueError for any other."""
    row = next((row for row in rows("threads") if row["thread"] == thread), None)
    if row is None:
        raise ValueError(f"“{thread}” is no thread of the tables here.")
    if row["unit"] == "mm":
        return float(row["pitch_mm"])
    return MM_PER_INCH / float(row["threads_per_inch"])


def threads_of(diameter_mm: float) -> tuple[str, ...]:
    """The standard threads a bolt of this diameter may have, to half a millimetre."""
    diameter = above_zero(diameter_mm, "diameter")
    return tuple(row["thread"] for row in rows("threads") if abs(_size_mm(row) - diameter) < 0.5)


def _size_mm(row: dict[str, str]) -> float:
    return float(row["diameter"]) * (1.0 if row["unit"] == "mm" else MM_PER_INCH)
