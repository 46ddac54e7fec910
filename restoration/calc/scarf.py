"""How long a scarf should be for its depth, as published. The rules differ; all are shown."""

from dataclasses import dataclass

from restoration.calc.checks import above_zero
from restoration.calc.fastening_sources import READ, SECOND_HAND, Published
from restoration.calc.tables import rows

CAUTION = (
    "Old rules were for ships of hundreds of tons, and glued scarfs are another thing than bolted "
    "ones. Which rule holds for this timber is for class rules and a naval architect."
)

KNOWN = {"READ": READ, "SECOND-HAND": SECOND_HAND}


@dataclass(frozen=True)
class ScarfRule:
    """Least length of a scarf as a multiple of the timber's thickness or depth."""

    use: str
    least_ratio: float
    of: str
    fastened: str
    note: str
    source: Published


@dataclass(frozen=True)
class ScarfCheck:
    """One rule held against a scarf; `short_mm` is how much longer that rule would have it."""

    rule: ScarfRule
    wanted_mm: float
    short_mm: float

    @property
    def is_met(self) -> bool:
        return self.short_mm <= 0


def scarf_rules(*uses: str) -> tuple[ScarfRule, ...]:
    """The published slopes for these uses, or all of them."""
    return tuple(_rule(row) for row in rows("scarf_slopes") if not uses or row["use"] in uses)


def _rule(row: dict[str, str]) -> ScarfRule:
    source = Published(row["title"], KNOWN[row["known"]])
    ratio = float(row["least_ratio"])
    return ScarfRule(row["use"], ratio, row["of"], row["fastened"], row["note"], source)


def scarf_checks(length_mm: float, depth_mm: float, *uses: str) -> tuple[ScarfCheck, ...]:
    """A scarf of this length in a timber of this depth (thickness) against each rule.

    Raises ValueError for a length or depth not above 0.
    """
    length, depth = above_zero(length_mm, "length of the scarf"), above_zero(depth_mm, "depth")
    return tuple(
        ScarfCheck(rule, rule.least_ratio * depth, max(0.0, rule.least_ratio * depth - length))
        for rule in scarf_rules(*uses)
    )
