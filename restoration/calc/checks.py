"""Refusals shared by the calculations: each says in a sentence what was wrong with a figure."""

import math
import operator
from typing import SupportsIndex


def whole_number(value: SupportsIndex, name: str) -> int:
    """Return `value` as an int, or raise ValueError when it is not a count (True is not one)."""
    if isinstance(value, bool):
        raise ValueError(f"The {name} must be a whole number, not a yes or no.")
    try:
        return operator.index(value)
    except TypeError:
        raise ValueError(f"The {name} must be a whole number; {value!r} is not.") from None


def finite(value: float, name: str) -> float:
    """Return `value` as a float, or raise ValueError for text, NaN and infinities."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise ValueError(f"The {name} must be a number; {value!r} is not.")
    return float(value)


def above_zero(value: float, name: str) -> float:
    """Return `value` as a float, or raise ValueError unless it is finite and above 0."""
    number = finite(value, name)
    if number <= 0:
        raise ValueError(f"The {name} must be more than 0; {number:g} is not.")
    return number


def not_below_zero(value: float, name: str) -> float:
    """Return `value` as a float, or raise ValueError unless it is finite and at least 0."""
    number = finite(value, name)
    if number < 0:
        raise ValueError(f"The {name} cannot be below 0; {number:g} is.")
    return number
