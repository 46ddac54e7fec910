"""Numbers as they arrive: refused in a sentence when they cannot mean anything."""

from __future__ import annotations

import math
from typing import SupportsFloat


def finite(value: object, what: str) -> float:
    """Return value as a float, or raise ValueError naming `what` when it is no finite number."""
    if isinstance(value, bool) or not isinstance(value, SupportsFloat):
        raise ValueError(f"{what} must be a number, not {value!r}.")
    try:
        number = float(value)
    except (TypeError, OverflowError):
        raise ValueError(f"{what} must be one ordinary number, not {value!r}.") from None
    if not math.isfinite(number):
        raise ValueError(f"{what} must be a finite number, not {number}.")
    return number


def between(value: object, low: float, high: float, what: str, unit: str = "") -> float:
    """Return value when low <= value <= high; otherwise a ValueError that says both limits."""
    number = finite(value, what)
    if not low <= number <= high:
        raise ValueError(
            f"{what} is {number:g}{unit}; it must lie between {low:g}{unit} and {high:g}{unit}."
        )
    return number


def positive(value: object, what: str) -> float:
    """Return value when it is above nought; otherwise a ValueError."""
    number = finite(value, what)
    if number <= 0:
        raise ValueError(f"{what} is {number:g}; it must be more than nought.")
    return number


def moisture(value: object, what: str = "Moisture content") -> float:
    """A moisture content in percent of ovendry mass: nought or more, and a finite number.

    The most a wood can hold depends on its density: see `density.maximum_moisture_percent`.
    """
    number = finite(value, what)
    if number < 0:
        raise ValueError(f"{what} is {number:g} %; wood cannot hold less than no water.")
    return number
