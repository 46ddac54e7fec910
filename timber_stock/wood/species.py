"""Woods as reference data: 52 species, each figure with its standing and its source.

A yard may correct a figure or add a wood; its own figures say so and are laid over these, so a
later edition of the table changes nothing the yard has set.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

from timber_stock.wood import tables
from timber_stock.wood.checked import between
from timber_stock.wood.figures import KINDS, Kind

HANDBOOK = "Wood Handbook FPL-GTR-282"
COEFFICIENT_SOURCE = "Computed from the total shrinkage of the same row, C = (S/3000)/(1 - S/150)."
VOLUMETRIC_FROM_MEMORY = {"maple_sugar"}
"""Woods whose volumetric shrinkage is less well known than their radial and tangential."""


@dataclass(frozen=True)
class Figure:
    """One figure of one wood: a number in `unit` or a word, its standing code and its source.

    The standing codes are those of `tables.STANDINGS`: R read, S second-hand, B calculated back,
    C computed, M from memory, Y the yard's own.
    """

    name: str
    label: str
    value: float | str
    unit: str
    standing: str
    source: str

    @property
    def standing_words(self) -> str:
        return tables.STANDINGS[self.standing]

    @property
    def to_be_checked(self) -> bool:
        """True for a figure from memory: shown as a default that a person may correct."""
        return self.standing == "M"


@dataclass(frozen=True)
class Species:
    """One wood. `figures` holds only what is known: no figure is not nought."""

    key: str
    botanical: str
    common: str
    wood_group: str
    figures: Mapping[str, Figure]
    note: str = ""

    def figure(self, name: str) -> Figure | None:
        """The figure by its name in `figures.KINDS`, or None when none is known.

        Raises ValueError for a name that is no figure at all.
        """
        _kind(name)
        return self.figures.get(name)

    def number(self, name: str) -> float | None:
        """The number by its name, or None when none is known; ValueError for a word."""
        if _kind(name).is_word:
            raise ValueError(f"{name} is a word, not a number.")
        figure = self.figures.get(name)
        return None if figure is None else float(figure.value)

    def require(self, name: str) -> float:
        """The number by its name; a ValueError that names wood and figure when none is known."""
        number = self.number(name)
        if number is None:
            raise ValueError(
                f"No {_kind(name).label} is known for {self.common}: enter the yard's own figure."
            )
        return number

    def with_own(self, values: Mapping[str, float | str], source: str) -> Species:
        """This wood with the yard's own figures laid over the published ones.

        Raises ValueError for an unknown figure, a number outside belief, or no source given.
        """
        if not source.strip():
            raise ValueError("Say where the yard's own figure comes from.")
        own = {name: _own(name, value, source) for name, value in values.items()}
        return replace(self, figures=MappingProxyType({**self.figures, **own}))


def own_species(key: str, botanical: str, common: str, wood_group: str) -> Species:
    """A wood of the yard's own, without figures as yet; add them with `with_own`."""
    if wood_group not in {"hardwood", "softwood"}:
        raise ValueError(f"A wood is a hardwood or a softwood, not {wood_group!r}.")
    if not key.strip() or not common.strip():
        raise ValueError("A wood of the yard's own needs a key and a common name.")
    return Species(key, botanical, common, wood_group, MappingProxyType({}))


@lru_cache(maxsize=1)
def all_species() -> Mapping[str, Species]:
    """Every published wood by key, in the order of the table."""
    woods = [_species(row) for row in tables.rows("species.csv")]
    return MappingProxyType({wood.key: wood for wood in woods})


def species(key: str) -> Species:
    """One published wood by its key; ValueError when there is none of that name."""
    found = all_species().get(key)
    if found is None:
        raise ValueError(f"No wood is known by the key {key!r}.")
    return found


def _kind(name: str) -> Kind:
    if name not in KINDS:
        raise ValueError(f"{name!r} is no figure of a wood.")
    return KINDS[name]


def _own(name: str, value: float | str, source: str) -> Figure:
    kind = _kind(name)
    if kind.low is not None and kind.high is not None:
        value = between(
            value, kind.low, kind.high, kind.label.capitalize(), f" {kind.unit}".rstrip()
        )
    return Figure(name, kind.label, value, kind.unit, "Y", source)


def _species(row: dict[str, str]) -> Species:
    figures = {}
    for kind in KINDS.values():
        text = row[kind.column].strip()
        if text:
            standing, source = _known(row, kind)
            value = text if kind.is_word else float(text)
            figures[kind.name] = Figure(kind.name, kind.label, value, kind.unit, standing, source)
    return Species(
        row["id"], row["botanical"], row["common"], row["wood_group"],
        MappingProxyType(figures), row["note"],
    )  # fmt: skip


def _known(row: dict[str, str], kind: Kind) -> tuple[str, str]:
    """Standing code and source sentence of one figure of one row."""
    sources = _sources(row["source"])
    if kind.group == "density":
        return _density_known(row, sources)
    standing = row[f"status_{kind.group}"]
    if kind.group == "coefficients" and standing == "C":
        return standing, COEFFICIENT_SOURCE
    if kind.name == "volumetric_percent" and row["id"] in VOLUMETRIC_FROM_MEMORY:
        standing = "M"
    # A figure calculated back comes from the coefficients, whose publication is then the source.
    group = "coefficients" if standing == "B" else kind.group
    return standing, _sentence(standing, sources[SOURCE_WORDS[group]])


def _density_known(row: dict[str, str], sources: dict[str, str]) -> tuple[str, str]:
    if row["sg_12"]:
        return "C", "Computed: specific gravity at 12 % x 1120."
    if row["sg_green_basic"]:
        return "C", (
            "Computed from basic specific gravity and volumetric shrinkage, "
            "G/(1 - 0.6 S/100) x 1120."
        )
    return row["status_mechanical"], _sentence(row["status_mechanical"], sources["mechanical"])


SOURCE_WORDS = {
    "mechanical": "mechanical",
    "shrinkage": "shrinkage",
    "coefficients": "CR",
    "green_mc": "green MC",
    "decay_us": "decay",
    "en350": "durability",
}
"""The word in brackets that marks a group's publication in the source column of the table."""


def _sources(text: str) -> dict[str, str]:
    """Publication by the word in brackets behind it: "Table 4-1 (green MC); ..." taken apart."""
    found: dict[str, str] = {}
    for part in text.split("; "):
        match = re.fullmatch(r"(.+) \(([^()]+)\)", part)
        if match is None:
            raise ValueError(f"The source {part!r} does not say in brackets what it is for.")
        publication = match[1]
        if publication.startswith("Table"):
            publication = f"{HANDBOOK} {publication}"
        found.update(dict.fromkeys(match[2].split(", "), publication))
    return found


def _sentence(standing: str, publication: str) -> str:
    lead = {"R": "Read in", "S": "Quoted by others from", "B": "Calculated back from",
            "M": "From memory of"}[standing]  # fmt: skip
    return f"{lead} {publication.removesuffix(' as quoted')}."
