"""Money as the papers and pages tell it: frozen with a report, so plain facts in Decimal.

All of it is in the yard's one currency; None is "not known", never nothing.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from restoration.calc.money_spread import NOTHING

WHAT_IT_IS = (
    "Timber is what the wood in the finished piece cost as it was bought. Waste is what the wood "
    "cost that became slabs, sawdust, offcuts of boards used up and shavings on the way to it. "
    "Sawing is its share of what the sawyers were paid."
)


@dataclass(frozen=True)
class HoursAt:
    """Hours that are reckoned at one rate: that of the days on which they were worked."""

    hours: Decimal
    rate: Decimal


@dataclass(frozen=True)
class SpecMoney:
    """One replacement: what was estimated, and what it took so far.

    `estimate` is of all of it, hours and timber too. `labour` is None while the yard keeps no
    rate. `not_known` says what is not known of the cost of its timber. `is_beyond` where it took
    more, before it is done, than the yard's past makes of its estimate. `wide` tells of boards
    whose whole width it carries, though it wants much less of it.
    """

    spec_id: int
    mark: str
    term: str
    group: str
    stage: str
    is_done: bool
    has_timber: bool
    timber: Decimal
    waste: Decimal
    sawing: Decimal
    hours_estimate: Decimal | None
    hours: Decimal
    labour: Decimal | None
    fastenings: Decimal
    sundries: Decimal
    bought_in: Decimal
    estimate: Decimal | None
    not_known: tuple[str, ...] = ()
    low: Decimal | None = None
    high: Decimal | None = None
    is_beyond: bool = False
    at_rates: tuple[HoursAt, ...] = ()
    wide: tuple[str, ...] = ()

    @property
    def carried(self) -> Decimal:
        return self.timber + self.waste + self.sawing

    @property
    def others(self) -> Decimal:
        return self.sundries + self.bought_in

    @property
    def fastenings_and_others(self) -> Decimal:
        return self.fastenings + self.others

    @property
    def spent(self) -> Decimal:
        """All that is known to have gone into it."""
        return self.carried + (self.labour or NOTHING) + self.fastenings_and_others

    @property
    def difference(self) -> Decimal | None:
        """Spent less estimated: above nothing where it took more."""
        return None if self.estimate is None else self.spent - self.estimate

    @property
    def lacks(self) -> tuple[str, ...]:
        """What is not in the sum for want of a figure."""
        found = [*self.not_known]
        if self.is_done and not self.has_timber:
            found.append("its timber, which is not recorded")
        if self.labour is None and self.hours:
            found.append("its hours, for the yard keeps no rate")
        elif self.is_done and not self.hours:
            found.append("its hours, of which none are recorded")
        return tuple(found)


@dataclass(frozen=True)
class MoneySums:
    """Replacements added up. The estimate is of `estimated` of them alone, and
    `difference_of_estimated` what those took less that."""

    count: int
    estimated: int
    estimate: Decimal
    timber: Decimal
    waste: Decimal
    sawing: Decimal
    hours: Decimal
    labour: Decimal
    fastenings: Decimal
    sundries: Decimal
    bought_in: Decimal
    spent: Decimal
    difference_of_estimated: Decimal

    @property
    def others(self) -> Decimal:
        return self.sundries + self.bought_in

    @property
    def fastenings_and_others(self) -> Decimal:
        return self.fastenings + self.others


@dataclass(frozen=True)
class VesselMoney:
    """The money of a vessel. `low` and `high` are of all that is still to do and has an estimate:
    None where the yard's past gives no range, and `past_says` why. `rate` is today's; where it
    was another before `rate_since`, hours of before are reckoned at that."""

    currency: str
    rate: Decimal | None
    spread_by: str
    replacements: tuple[SpecMoney, ...]
    besides: Decimal
    past_says: str
    past_rule: str
    low: Decimal | None = None
    high: Decimal | None = None
    rate_since: date | None = None

    @property
    def any_wide(self) -> bool:
        return any(row.wide for row in self.replacements)

    @property
    def begun(self) -> tuple[SpecMoney, ...]:
        """Those that something was spent on."""
        return tuple(row for row in self.replacements if row.spent)

    @property
    def begun_sums(self) -> MoneySums:
        return add_up(self.begun)

    @property
    def done(self) -> MoneySums:
        return add_up(row for row in self.replacements if row.is_done)

    @property
    def to_do(self) -> MoneySums:
        return add_up(row for row in self.replacements if not row.is_done)

    @property
    def all(self) -> MoneySums:
        return add_up(self.replacements)

    @property
    def spent(self) -> Decimal:
        return self.all.spent + self.besides

    @property
    def lacks(self) -> tuple[str, ...]:
        """Each figure that is wanting once, with the members it is wanting for."""
        wanting: dict[str, list[str]] = {}
        for row in self.replacements:
            for what in row.lacks:
                wanting.setdefault(what, []).append(row.mark)
        return tuple(f"{what} ({', '.join(marks)})" for what, marks in wanting.items())


def add_up(rows: Iterable[SpecMoney]) -> MoneySums:
    rows = list(rows)

    def total(name: str) -> Decimal:
        return sum((getattr(row, name) or NOTHING for row in rows), NOTHING)

    names = "timber waste sawing hours labour fastenings sundries bought_in spent estimate"
    return MoneySums(
        count=len(rows),
        estimated=sum(row.estimate is not None for row in rows),
        difference_of_estimated=total("difference"),
        **{name: total(name) for name in names.split()},
    )
