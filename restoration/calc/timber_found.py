"""Whether the timber of a replacement is found, or only part of it.

Our own rule: it is found when the lengths allotted to it come together to its finished length. A
scarf takes more than that, how much is the yard's to see; less is never the whole of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

ROUNDING_MM = 0.5
"""A length that was typed in inches is not short for the rounding of its millimetres."""


def is_enough(lengths_mm: Iterable[float], asked_mm: float) -> bool:
    """Whether lengths in mm come to the finished length asked for, within a rounding.

    Raises ValueError for lengths that are not above nothing.
    """
    lengths = [*lengths_mm]
    for length in (*lengths, asked_mm):
        if not (math.isfinite(length) and length > 0):
            raise ValueError(f"A length of {length} mm is none: give one above nothing.")
    return sum(lengths) >= asked_mm - ROUNDING_MM
