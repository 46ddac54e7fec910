"""The trade's words for the members of a wooden hull and for the causes of their failure.

The words live in `fixtures/members.csv`, `failure_causes.csv` and `survey_sources.csv`; each
row says how it is known and names its sources. Reading them is all this module does.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TypeVar

from restoration.calc.marks import MARK_LETTERS, ONE_OF
from restoration.calc.tables import rows

Entry = TypeVar("Entry")

MEASURING_GROUP = "term"
# Whole timbers that lie square across her: they have no forward end and no lower one.
LIES_ACROSS = frozenset({"floor_timber", "deck_beam", "transom", "bulkhead"})

EVIDENCE = MappingProxyType(
    {
        "READ": "read in the source named",
        "PART-READ": "read in part in the source named",
        "MEMORY": "from memory, not checked against a source",
        "MEMORY-LOW": "from memory and may be wrong",
        "DERIVED": "worked out here",
    }
)
WOODS_STANDING = (
    "Usual woods and fastenings are from memory throughout: prompts for the eye, not a "
    "specification. How a row is known covers its definition only."
)
CAUSES_STANDING = (
    "How a cause is known (read in a source, from memory) is said of its main sign or its remedy; "
    "the rest may be general knowledge. The surveyor names the cause."
)


@dataclass(frozen=True)
class MemberKind:
    """One kind of member, or one measuring term, as the trade defines it.

    `term` is the table's word, `one` the word for a single member. `evidence` is a key of
    `EVIDENCE` and `sources` are codes for `source()`.
    """

    code: str
    term: str
    alt_terms: tuple[str, ...]
    group: str
    location: str
    side: str
    definition: str
    usual_woods: tuple[str, ...]
    usual_fastenings: str
    joins: tuple[str, ...]
    watch_points: tuple[str, ...]
    evidence: str
    sources: tuple[str, ...]

    @property
    def one(self) -> str:
        return ONE_OF.get(self.code, self.term)

    @property
    def first_end(self) -> str:
        """The end that lengths along it are measured from: the register's own rule."""
        return "port end" if self.code in LIES_ACROSS else "forward or lower end"

    @property
    def mark_letters(self) -> str:
        return MARK_LETTERS.get(self.code, "")


@dataclass(frozen=True)
class Cause:
    """One cause of failure: what it looks like, how to tell it from others, what to do.

    An entry that the table leaves open is an empty text. `easily_confused_with` is in words.
    """

    code: str
    name: str
    group: str
    visible_evidence: str
    test_evidence: str
    sound: str
    colour: str
    texture: str
    smell: str
    ph_hint: str
    likely_location: str
    easily_confused_with: str
    separating_question: str
    remedy_guidance: str
    evidence: str
    sources: tuple[str, ...]


@dataclass(frozen=True)
class Source:
    """A publication, what part of it was read, and what weight it carries."""

    code: str
    title: str
    author: str
    year: str
    part_read: str
    read_extent: str
    authority: str
    note: str


def member_kinds() -> Mapping[str, MemberKind]:
    """The kinds of member by code, in the table's order: backbone first, deck last."""
    return _split_terms()[0]


def measuring_terms() -> Mapping[str, MemberKind]:
    """The words that are no members: sided, moulded, rabbet, scarf and the like, by code."""
    return _split_terms()[1]


def member_kind(code: str) -> MemberKind:
    """The kind of member with this code; ValueError if there is none."""
    return _found(member_kinds(), code, "kind of member")


@cache
def causes() -> Mapping[str, Cause]:
    """The causes of failure by code, in the table's order; UNKNOWN is the last."""
    return MappingProxyType({row["code"]: _cause(row) for row in rows("failure_causes")})


def cause(code: str) -> Cause:
    """The cause with this code; ValueError if there is none."""
    return _found(causes(), code, "cause of failure")


@cache
def sources() -> Mapping[str, Source]:
    """The publications behind the tables, by code."""
    return MappingProxyType({row["source_id"]: _source(row) for row in rows("survey_sources")})


def source(code: str) -> Source:
    """The publication with this code; ValueError if there is none."""
    return _found(sources(), code, "source")


def _found(table: Mapping[str, Entry], code: str, what: str) -> Entry:
    if code not in table:
        raise ValueError(f"“{code}” is no {what} in the tables here; choose one from the list.")
    return table[code]


@cache
def _split_terms() -> tuple[Mapping[str, MemberKind], Mapping[str, MemberKind]]:
    kinds = [_kind(row) for row in rows("members")]
    members = {kind.code: kind for kind in kinds if kind.group != MEASURING_GROUP}
    terms = {kind.code: kind for kind in kinds if kind.group == MEASURING_GROUP}
    return MappingProxyType(members), MappingProxyType(terms)


def _kind(row: dict[str, str]) -> MemberKind:
    return MemberKind(
        code=row["id"],
        term=row["term"],
        alt_terms=_parts(row["alt_terms"]),
        group=row["group"],
        location=row["location"],
        side=_entry(row["side"]),
        definition=row["definition"],
        usual_woods=_parts(row["usual_woods"]),
        usual_fastenings=_entry(row["usual_fastenings"]),
        joins=_parts(row["joins"]),
        watch_points=_parts(row["survey_watch_points"]),
        evidence=row["evidence"],
        sources=_parts(row["source_ids"]),
    )


def _cause(row: dict[str, str]) -> Cause:
    return Cause(
        code=row["code"],
        name=row["cause"],
        group=_entry(row["class"]),
        visible_evidence=row["visible_evidence"],
        test_evidence=row["test_evidence"],
        sound=row["sound"],
        colour=row["colour"],
        texture=row["texture"],
        smell=row["smell"],
        ph_hint=row["pH_hint"],
        likely_location=row["likely_location"],
        easily_confused_with=row["easily_confused_with"],
        separating_question=row["separating_question"],
        remedy_guidance=row["remedy_guidance"],
        evidence=row["evidence"],
        sources=_parts(row["source_ids"]),
    )


def _source(row: dict[str, str]) -> Source:
    return Source(
        code=row["source_id"],
        title=row["title"],
        author=row["issuer_or_author"],
        year=row["year"],
        part_read=row["part_read"],
        read_extent=row["read_extent"],
        authority=row["authority"],
        note=row["note"],
    )


def _entry(cell: str) -> str:
    return "" if cell == "n/a" else cell


def _parts(cell: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in _entry(cell).split(";") if part.strip())
