"""Lot-acceptance plans, for comparison: why a factory's plan says little about one boat.

Source: MIL-STD-105E (1989, since cancelled; ISO 2859-1 and ANSI Z1.4 keep its tables), tables I
and II-A, general inspection level II, single sampling, normal inspection, as reprinted by a US
building institute. Only the part of the tables that was read is held: lots of 2 to 1200 and
acceptable quality levels of 0.65 to 15 % bad.
"""

from dataclasses import dataclass

from restoration.calc import proportion
from restoration.calc.checks import whole_number
from restoration.calc.tables import rows

CAUTION = (
    "Such a plan protects the maker: it passes a lot as bad as the quality level about nine times "
    "in ten. For a hull use the bound on the number of bad ones left in."
)

SOURCE = (
    "MIL-STD-105E (1989, cancelled), general inspection level II, single sampling, normal "
    "inspection, as reprinted by a US building institute"
)
SMALLEST_LOT, LARGEST_LOT = 2, 1200


@dataclass(frozen=True)
class Plan:
    """Draw `sample`; accept with at most `accept` bad, reject with `reject` or more."""

    letter: str
    sample: int
    accept: int

    @property
    def reject(self) -> int:
        return self.accept + 1


def plan(lot: int, quality_level_percent: float) -> Plan:
    """The plan for a lot of 2 to 1200 at an acceptable quality level in percent bad.

    An arrow in the table leads to the nearest plan below or above, its sample size included; a
    sample as large as the lot means that every one is inspected. Raises ValueError for a lot or
    level the table read does not hold, and where an arrow points out of the table.
    """
    lot = whole_number(lot, "number in the lot")
    table = rows("acceptance_plans")
    column = _column(quality_level_percent)
    found = [i for i, row in enumerate(table) if int(row["lot_from"]) <= lot <= int(row["lot_to"])]
    if not found:
        raise ValueError(f"The table read covers lots of 2 to 1200; {lot} is outside.")
    at = found[0]
    while 0 <= at < len(table) and table[at][column] in ("up", "down"):
        at += 1 if table[at][column] == "down" else -1
    if not 0 <= at < len(table):
        raise ValueError(f"The table read gives no plan for a lot of {lot} at {column} %.")
    row = table[at]
    return Plan(row["letter"], min(int(row["sample"]), lot), int(row[column]) - 1)


def _column(quality_level_percent: float) -> str:
    levels = list(rows("acceptance_plans")[0])[4:]
    for level in levels:
        if float(level) == quality_level_percent:
            return level
    raise ValueError(f"The table read has the levels {', '.join(levels)} % only.")


def chance_of_passing(plan: Plan, percent_bad: float) -> float:
    """Chance (0 to 1) that a very large lot with `percent_bad` (0 to 100) passes the plan."""
    return proportion.chance_of_at_most(plan.sample, plan.accept, percent_bad / 100)


def percent_bad_passed(plan: Plan, chance: float) -> float:
    """The percent bad of a very large lot that passes the plan with the chance given (0 to 1).

    At a chance of 0.10 this is the limiting quality: what a customer could still be sold.
    """
    return 100 * proportion.upper_bound(plan.sample, plan.accept, 1 - chance)
