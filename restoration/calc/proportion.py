"""Bounds on the share of bad ones where the group is too large to count, or never ends.

Clopper-Pearson interval: the exact binomial bounds. For a finite group they are safe but wide;
`sampling.most_defective` is tighter. Definition: C. J. Clopper and E. S. Pearson, Biometrika 26
(1934), as given in statistics dictionaries.
"""

import math
from collections.abc import Callable

from restoration.calc.checks import finite, whole_number

LARGEST_SAMPLE = 5_000
"""Beyond this the terms of the sum run outside what a float can hold; no hull needs it."""


def _counts(drawn: int, defective: int) -> tuple[int, int]:
    drawn = whole_number(drawn, "number drawn")
    defective = whole_number(defective, "number found bad")
    if not 1 <= drawn <= LARGEST_SAMPLE:
        raise ValueError(f"From 1 to {LARGEST_SAMPLE} must be drawn; {drawn} is outside.")
    if not 0 <= defective <= drawn:
        raise ValueError(f"{defective} bad ones cannot be among {drawn} drawn.")
    return drawn, defective


def chance_of_at_most(drawn: int, defective: int, share_bad: float) -> float:
    """Chance of at most `defective` bad in a sample of `drawn`, if a share (0 to 1) is bad.

    Binomial sum. Raises ValueError outside these limits.
    """
    drawn, defective = _counts(drawn, defective)
    share_bad = finite(share_bad, "share of bad ones")
    if not 0 <= share_bad <= 1:
        raise ValueError(f"The share of bad ones lies between 0 and 1; {share_bad:g} does not.")
    return min(1.0, math.fsum(_term(drawn, k, share_bad) for k in range(defective + 1)))


def _term(drawn: int, found: int, share: float) -> float:
    if share in (0.0, 1.0):
        return float(found == round(drawn * share))
    logarithm = (
        math.lgamma(drawn + 1)
        - math.lgamma(found + 1)
        - math.lgamma(drawn - found + 1)
        + found * math.log(share)
        + (drawn - found) * math.log1p(-share)
    )
    return math.exp(logarithm)


def _share_where(falling: Callable[[float], float], level: float) -> float:
    """The share at which a chance that falls as the share grows comes down to `level`."""
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if falling(middle) > level else (low, middle)
    return (low + high) / 2


def _doubt(confidence: float) -> float:
    confidence = finite(confidence, "confidence")
    if not 0 < confidence < 1:
        raise ValueError(
            f"The confidence is a fraction between 0 and 1 (0.95 for 95 %); {confidence:g} is not."
        )
    return 1 - confidence


def upper_bound(drawn: int, defective: int, confidence: float) -> float:
    """One-sided upper bound on the share of bad ones (0 to 1).

    drawn: 1 to 5 000; defective: 0 to drawn; confidence: a fraction between 0 and 1. With none
    bad of n it is near 3 / n at 95 % ("the rule of three"). Raises ValueError outside the limits.
    """
    drawn, defective = _counts(drawn, defective)
    doubt = _doubt(confidence)
    return _share_where(lambda share: chance_of_at_most(drawn, defective, share), doubt)


def lower_bound(drawn: int, defective: int, confidence: float) -> float:
    """One-sided lower bound on the share of bad ones (0 to 1); arguments as `upper_bound`."""
    drawn, defective = _counts(drawn, defective)
    doubt = _doubt(confidence)
    if defective == 0:
        return 0.0
    return _share_where(lambda share: chance_of_at_most(drawn, defective - 1, share), 1 - doubt)


def two_sided_bounds(drawn: int, defective: int, confidence: float) -> tuple[float, float]:
    """Lower and upper bound with half of the doubt on each side; arguments as `upper_bound`."""
    one_sided = 1 - _doubt(confidence) / 2
    return lower_bound(drawn, defective, one_sided), upper_bound(drawn, defective, one_sided)
