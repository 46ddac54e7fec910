"""The estimate for a vessel: every replacement that stands, its hours and cost, and how firm."""

from collections.abc import Sequence
from datetime import date

from restoration.calc import vocabulary
from restoration.models import Member, Vessel, Yard
from restoration.models.finding import Condition, Grade
from restoration.reports.content import Replacement
from restoration.reports.gather_money import vessel_money
from restoration.reports.gather_timber import AWAITING, IN_PART, open_specs, replacements
from restoration.reports.money import VesselMoney
from restoration.reports.paper import (
    Block,
    Caution,
    Facts,
    Head,
    Heading,
    Line,
    Paper,
    Signatures,
    Table,
    Words,
)
from restoration.reports.pdf.words import count, day, listed, money, rough_money, sizes
from restoration.reports.summary import Money, add_up
from restoration.reports.wording import CAUTIONS

KIND = "Estimate"
NOTHING = (
    "No replacement is specified for her yet, so there is nothing to estimate. A finding that "
    "recommends replacement leads to a specification, and that holds the estimate."
)
FIRMNESS = (
    ("fitted", "Fitted: what was estimated for work that is done"),
    ("cut", "Cut, to be fitted: timber is in hand and worked"),
    ("allotted", "Timber found, to be cut"),
    (IN_PART, "Part of the timber found: the price of the rest may still change"),
    (AWAITING, "Timber not found yet: its price may still change"),
)
TAX = "The register does not say whether the figures include tax."
OPENING_UP = CAUTIONS[-1]


def estimate(vessel: Vessel, *, units: str, on: date) -> Paper:
    yard = Yard.current()
    specified = replacements(open_specs(vessel))
    blocks = _of(specified, yard.currency, units) if specified else [Words(NOTHING)]
    return Paper(
        kind=KIND,
        of=vessel.name,
        author=yard.name,
        foot=(("Yard", yard.name), ("For", vessel.client.name), ("Drawn up", day(on))),
        file_name=f"{vessel.code}-estimate-{on:%Y-%m-%d}",
        blocks=(
            _particulars(vessel, specified, yard.currency),
            *blocks,
            *(_range(vessel) if specified else ()),
            Heading("What these figures rest on", "rest_on"),
            *(Words(words) for words in _rests_on(vessel, specified)),
            *(_agreed(vessel, yard) if specified else ()),
        ),
    )


def _agreed(vessel: Vessel, yard: Yard) -> list[Block]:
    """Nobody signs for nothing."""
    who = f"For the yard: {yard.name}", f"Agreed: {vessel.client.name}"
    return [Caution(OPENING_UP), Signatures(who)]


def _particulars(vessel: Vessel, specified: Sequence[Replacement], currency: str) -> Facts:
    to_do = add_up(r for r in specified if not r.is_fitted)
    return Facts(
        (
            ("Vessel", f"{vessel.name} ({vessel.code})"),
            ("For", vessel.client.name),
            ("Replacements", f"{len(specified)}, of which {to_do.count} still to be fitted"),
            ("Hours still to come", f"{to_do.hours:,}"),
            ("Cost still to come", money(to_do.cost, currency)),
            ("Money in", currency),
        )
    )


def _of(specified: Sequence[Replacement], currency: str, units: str) -> list[Block]:
    heads = (
        Head("Member", 34), Head("Wood", 42), Head("Finished size", 40), Head("Timber", 24),
        Head("Hours", 18, figures=True), Head(f"Cost, {currency}", 28, figures=True),
    )  # fmt: skip
    groups = list(dict.fromkeys(r.group for r in specified))
    lines = [line for group in groups for line in _group(group, specified, units)]
    lines.append(_sum("All that is specified", add_up(specified)))
    return [
        Heading("Replacement by replacement", "replacements"),
        Table(heads, tuple(lines)),
        Heading("How firm", "firm"),
        _how_firm(specified, currency),
    ]


def _group(group: str, specified: Sequence[Replacement], units: str) -> list[Line]:
    ones = [r for r in specified if r.group == group]
    return [*(_line(r, units) for r in ones), _sum(f"{group.capitalize()} members", add_up(ones))]


def _line(r: Replacement, units: str) -> Line:
    size = "\n".join(sizes(units, r.sided_mm, r.moulded_mm, r.length_mm))
    hours = "none given" if r.hours is None else f"{r.hours:,}"
    cost = "none given" if r.cost is None else f"{r.cost:,.2f}"
    return Line((f"{r.mark} {r.term}", r.wood, size, r.stage, hours, cost))


def _sum(label: str, sums: Money) -> Line:
    return Line((label, "", "", "", f"{sums.hours:,}", f"{sums.cost:,.2f}"), is_total=True)


def _how_firm(specified: Sequence[Replacement], currency: str) -> Table:
    heads = (
        Head("How far it has come", 90), Head("Replacements", 26, figures=True),
        Head("Hours", 24, figures=True), Head(f"Cost, {currency}", 30, figures=True),
    )  # fmt: skip
    lines = []
    for stage, words in FIRMNESS:
        sums = add_up(r for r in specified if r.stage == stage)
        lines.append(Line((words, str(sums.count), f"{sums.hours:,}", f"{sums.cost:,.2f}")))
    return Table(heads, tuple(lines))


def _range(vessel: Vessel) -> list[Block]:
    """What the yard's own past makes of the estimate, and on what that rests."""
    heading = Heading("How far off it may be", "range")
    try:
        return [heading, *_told_range(vessel_money(vessel))]
    except ValueError as error:  # a log that gave more than it held, say
        return [heading, Words(f"No range can be told from what the yard has done: {error}")]


def _told_range(known: VesselMoney) -> list[Block]:
    blocks: list[Block] = []
    if known.low is not None and known.high is not None:
        blocks.append(
            Words(
                "With what they took already, the replacements that are not done and have an "
                f"estimate may come to between {rough_money(known.low, known.currency)} and "
                f"{rough_money(known.high, known.currency)}."
            )
        )
        return [*blocks, Words(known.past_says), Words(known.past_rule, "small")]
    return [*blocks, Words(known.past_says)]


def _rests_on(vessel: Vessel, specified: Sequence[Replacement]) -> list[str]:
    """Where the sums may still grow: told by what is not in them."""
    sums = add_up(specified)
    said = [
        "Each figure is the estimate written in the specification of that member, by the person "
        f"who specified it. {TAX}"
    ]
    if sums.without_hours or sums.without_cost:
        said.append(
            f"Not in the sums, for want of a figure: hours of "
            f"{count(sums.without_hours, 'replacement')}, "
            f"cost of {count(sums.without_cost, 'replacement')}."
        )
    unspecified, unknown = _not_in_it(vessel)
    if unspecified:
        said.append(
            f"Replacement is recommended and not specified yet, so nothing is reckoned for: "
            f"{listed(unspecified)}."
        )
    if unknown:
        said.append(
            f"Of {count(len(unknown), 'member')} nothing is known yet, not examined or without a "
            f"finding: {listed(unknown)}. What they need is in no figure here."
        )
    return said


def _not_in_it(vessel: Vessel) -> tuple[list[str], list[str]]:
    judged = Member.objects.filter(vessel=vessel).with_condition().with_replacement()
    kinds = list(vocabulary.member_kinds())
    rows = sorted(
        judged.values_list("kind", "mark", "latest_measure", "latest_condition", "is_specified"),
        key=lambda row: (kinds.index(row[0]), row[1]),
    )
    unspecified = [
        mark for _, mark, measure, _, done in rows if measure == Grade.THREE and not done
    ]
    unknown = [m for _, m, _, seen, _ in rows if seen in (None, Condition.NOT_EXAMINED)]
    return unspecified, unknown
