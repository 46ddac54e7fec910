"""A sum of money shared out so that the parts add up to it, to the last cent."""

import math
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

CENT = Decimal("0.01")
NOTHING = Decimal("0.00")
MOST = Decimal("1000000000")  # a thousand millions: more is a slip of the keyboard


def in_cents(amount: Decimal) -> Decimal:
    """The amount with two places, as it is kept.

    Raises ValueError for what is no amount of money: less than nothing, more than a thousand
    millions, or finer than a cent.
    """
    if not amount.is_finite() or amount < 0:
        raise ValueError("An amount of money is nothing or more.")
    if amount > MOST:
        raise ValueError("That is more money than is kept here: check the amount.")
    if amount != amount.quantize(CENT):
        raise ValueError("Money is kept to the cent, no finer.")
    return amount.quantize(CENT)


def spread(amount: Decimal, weights: Mapping[str, float]) -> dict[str, Decimal]:
    """The amount shared out in proportion to the weights, each share in whole cents.

    Each first gets the cents its exact share has in full; the cents that are left go one each to
    those with the largest remainder, and among equal remainders by name, so that the order in
    which they were named does not matter (the method of largest remainders: common practice in
    sharing out seats and money). `weights` are of any one unit, nothing or more. Raises
    ValueError where there is nobody to share with, a weight is less than nothing or no number,
    or all weights are nothing.
    """
    if not weights:
        raise ValueError("There is nothing to share the cost over.")
    if not all(math.isfinite(weight) and weight >= 0 for weight in weights.values()):
        raise ValueError("A share is measured by nothing or more.")
    cents = int(in_cents(amount) / CENT)
    exact = {name: Fraction(weight) for name, weight in weights.items()}
    whole = sum(exact.values())
    if not whole:
        raise ValueError("Everything to share the cost over measures nothing.")
    owed = {name: cents * weight / whole for name, weight in exact.items()}
    given = {name: math.floor(share) for name, share in owed.items()}
    over = sorted(owed, key=lambda name: (given[name] - owed[name], name))
    for name in over[: cents - sum(given.values())]:
        given[name] += 1
    return {name: Decimal(count) * CENT for name, count in given.items()}


def part_of(amount: Decimal, share: float) -> Decimal:
    """The nearest whole cents of a share between nothing and all of the amount."""
    if not 0 <= share <= 1:
        raise ValueError("A share lies between nothing and all of it.")
    return (in_cents(amount) * Decimal(share)).quantize(CENT)
