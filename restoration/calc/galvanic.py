"""Metals that meet in wet wood: their potentials in a named published series, and warnings.

Four published series are held in `fixtures/galvanic_series.csv`, never mixed: each was measured
against its own electrode. `fixtures/metals_in_series.csv` says in which line of each series a
metal of the register stands. Where series disagree the disagreement is shown.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from types import MappingProxyType

from restoration.calc.tables import rows
from restoration.calc.vocabulary import source

CAUTION = (
    "A galvanic series tells which metal of a pair wastes, not how fast: that hangs on areas, "
    "oxygen, salt and wetness. Wood beside either metal may suffer while the metals look well. "
    "Choice of fastenings and bonding is for a competent surveyor or corrosion specialist."
)
FAR_APART_V = 0.200
"""Above this the less noble metal of a pair will corrode: a guide, The galvanic series (chart),
Westlawn Institute, The Masthead, December 2010. Many hold wet wood to less (from memory)."""

DISAGREEMENT_V = 0.05
"""Two series whose ranges lie further apart than this are shown as disagreeing: our choice, a
little over the 40 mV by which one of the charts says that it varies."""

HIGH_ZINC = frozenset({"brass", "manganese_bronze"})


@dataclass(frozen=True)
class Potential:
    """A metal's range of potentials in one series, V against that series' electrode."""

    series: str
    line: str
    more_noble_v: float
    less_noble_v: float
    electrode: str
    medium: str
    note: str
    doubt: str

    @property
    def middle_v(self) -> float:
        return (self.more_noble_v + self.less_noble_v) / 2


@dataclass(frozen=True)
class Metal:
    """A metal of the register, and what it would be called when starved of oxygen, or not."""

    code: str
    name: str
    used_as: str
    other_state: str


@dataclass(frozen=True)
class Warning:
    """A sentence for the surveyor, and where it comes from."""

    text: str
    source: str


@dataclass(frozen=True)
class Couple:
    """Two metals in one series. `wastes` is the less noble: the one that is eaten."""

    noble: Metal
    noble_potential: Potential
    wastes: Metal
    wastes_potential: Potential
    warnings: tuple[Warning, ...]

    @property
    def least_v(self) -> float:
        """The smallest difference the two ranges allow, 0 where they overlap."""
        apart = self.noble_potential.less_noble_v - self.wastes_potential.more_noble_v
        return max(0.0, round(apart, 6))

    @property
    def greatest_v(self) -> float:
        apart = self.noble_potential.more_noble_v - self.wastes_potential.less_noble_v
        return round(apart, 6)


@cache
def metals() -> Mapping[str, Metal]:
    """The metals by code, noblest first."""
    return MappingProxyType(
        {
            row["code"]: Metal(row["code"], row["metal"], row["used_as"], row["other_state"])
            for row in rows("metals_in_series")
        }
    )


@cache
def series_titles() -> Mapping[str, str]:
    """The publications the series are taken from, by code, in the order of the table."""
    codes = dict.fromkeys(row["series"] for row in rows("galvanic_series"))
    return MappingProxyType({code: source(code).title for code in codes})


def potential(metal: str, series: str) -> Potential | None:
    """The metal's potentials in a series, or None where the series gives no value for it.

    Raises ValueError for a metal or a series that is not in the tables.
    """
    _known(metal, series)
    return _potentials()[metal].get(series)


def potentials(metal: str) -> Mapping[str, Potential]:
    """The metal's potentials in every series that gives a value, by series code."""
    _known(metal, None)
    return _potentials()[metal]


@cache
def _potentials() -> Mapping[str, Mapping[str, Potential]]:
    lines = {(row["series"], row["order"]): row for row in rows("galvanic_series")}
    held = {}
    for metal in rows("metals_in_series"):
        found = [lines[name, metal[name]] for name in series_titles() if metal[name]]
        held[metal["code"]] = MappingProxyType(
            {row["series"]: _read(row) for row in found if row["v_more_noble"]}
        )
    return MappingProxyType(held)


def _read(row: dict[str, str]) -> Potential:
    return Potential(
        series=row["series"],
        line=", ".join(filter(None, (row["metal"], row["state"]))),
        more_noble_v=float(row["v_more_noble"]),
        less_noble_v=float(row["v_less_noble"]),
        electrode=row["reference_electrode"],
        medium=row["medium"],
        note=row["note"],
        doubt=row["doubt"],
    )


def _known(metal: str, series: str | None) -> None:
    if metal not in metals():
        raise ValueError(f"“{metal}” is no metal in the tables here; choose one from the list.")
    if series is not None and series not in series_titles():
        names = ", ".join(series_titles())
        raise ValueError(f"“{series}” is no galvanic series held here; those are {names}.")


def couple(one: str, other: str, series: str) -> Couple:
    """Two metals compared in one series, with what to look out for.

    Raises ValueError for a metal or series that is not in the tables, and where the series gives
    no value for one of the metals (saying which series does).
    """
    found = [(_in_series(code, series), metals()[code]) for code in (one, other)]
    pair = sorted(found, key=lambda held: -held[0].middle_v)
    (high, noble), (low, wastes) = pair
    bare = Couple(noble, high, wastes, low, ())
    return Couple(noble, high, wastes, low, tuple(_warnings(bare)))


def _in_series(metal: str, series: str) -> Potential:
    found = potential(metal, series)
    if found is None:
        others = ", ".join(potentials(metal)) or "none"
        raise ValueError(
            f"The series {series} gives no value for {metals()[metal].name}; these do: {others}."
        )
    return found


def couples(found: Sequence[str], series: str) -> tuple[Couple, ...]:
    """Every pair of the metals found in one member or its joints, furthest apart first.

    Raises ValueError as `couple` does.
    """
    pairs = combinations(dict.fromkeys(found), 2)
    return tuple(sorted((couple(a, b, series) for a, b in pairs), key=lambda c: -c.greatest_v))


def disagreements(metal: str) -> tuple[str, ...]:
    """What the published series do not agree on for a metal, and values held to be doubtful."""
    held = potentials(metal)
    apart = [
        f"{first.series} has {_range(first)}, {second.series} has {_range(second)}"
        for first, second in combinations(held.values(), 2)
        if _gap_v(first, second) > DISAGREEMENT_V
    ]
    doubts = [
        f"{each.series} has {_range(each)}: {each.doubt}" for each in held.values() if each.doubt
    ]
    return (*apart, *doubts)


def _gap_v(one: Potential, other: Potential) -> float:
    high, low = sorted((one, other), key=lambda each: -each.middle_v)
    return high.less_noble_v - low.more_noble_v


def _range(found: Potential) -> str:
    high, low = found.more_noble_v, found.less_noble_v
    values = f"{high:.2f}" if high == low else f"{high:.2f} to {low:.2f}"
    return f"{values} V ({found.electrode})".replace("-", "−")


def _warnings(pair: Couple) -> list[Warning]:
    guide = source("WESTLAWN").title
    names = f"{pair.wastes.name} with {pair.noble.name}"
    found = []
    if pair.greatest_v > FAR_APART_V:
        sure = "will" if pair.least_v > FAR_APART_V else "may"
        found.append(
            Warning(
                f"{names}: more than 0.2 V apart, the {pair.wastes.name.lower()} {sure} waste.",
                guide,
            )
        )
    elif pair.least_v == 0:
        found.append(Warning(f"{names}: ranges overlap; either may waste.", "the series itself"))
    found.extend(_either(pair.noble) + _either(pair.wastes))
    if pair.greatest_v > FAR_APART_V:
        found.append(
            Warning(
                f"Where the two are joined by wet wood or a wire, the wood may turn acid by the "
                f"{pair.wastes.name.lower()} and alkaline by the {pair.noble.name.lower()}.",
                source("BAKER229").title + " (abstract)",
            )
        )
    return found


def _either(metal: Metal) -> list[Warning]:
    found = []
    if metal.other_state:
        text = f"In wet wood or a crevice it may be {metals()[metal.other_state].name} instead."
        found.append(Warning(f"{metal.name}: {text}", source("ACA").title))
    if metal.code in HIGH_ZINC:
        text = "loses its zinc under water, also with no partner: scratch for pink, spongy metal."
        found.append(Warning(f"{metal.name} {text}", source("DEZINC-PINK").title))
    found.extend(
        Warning(f"{metal.name}: {text}.", "the series named, compared")
        for text in disagreements(metal.code)
    )
    return found
