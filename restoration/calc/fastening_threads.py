"""The threads of bolts: how far a nut goes in one turn."""

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
