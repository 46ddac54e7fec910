"""A chain of origin as PROV-JSON, for whoever wants to read it with other programs.

The words are those of the W3C PROV data model (PROV-DM: The PROV Data Model, W3C Recommendation,
30 April 2013) and the shape that of PROV-JSON (The PROV-JSON Serialization, W3C Member
Submission, 24 April 2013). Both are written here from memory, without the texts at hand: the
names of the relations and of their attributes, `$` and `type` for a value with its type, `_:`
before a relation that has no name of its own, `prov:Person` and `prov:Organization`.

The register knows days, not hours: an activity is said to start with its day and to end with it.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

PROV = "http://www.w3.org/ns/prov#"
XSD = "http://www.w3.org/2001/XMLSchema#"
# Terms of our own. The name resolves nowhere: .example is kept free for such use (RFC 2606).
OWN = "https://hull-and-log.example/ns/origin#"
NAME = re.compile(r"[a-z]+:[0-9A-Za-z][0-9A-Za-z._-]*")

Value = str | int | float | date


@dataclass(frozen=True)
class Thing:
    """An entity, activity or agent: its name, what kind it is, its label, and what is known."""

    name: str
    kind: str
    label: str
    known: tuple[tuple[str, Value], ...] = ()


@dataclass(frozen=True)
class Act:
    """An activity: `on` is its day, None where that is not known."""

    thing: Thing
    on: date | None = None
    by: str = ""
    used: tuple[str, ...] = ()
    made: tuple[str, ...] = ()


@dataclass(frozen=True)
class Origin:
    """All of it: things by kind, what was done, what came out of what, and from whom."""

    entities: tuple[Thing, ...]
    agents: tuple[Thing, ...]
    acts: tuple[Act, ...]
    derived: tuple[tuple[str, str], ...] = ()  # what, out of what
    attributed: tuple[tuple[str, str], ...] = ()  # what, to whom
    prefixes: Mapping[str, str] = field(default_factory=dict)


def as_prov_json(origin: Origin) -> dict[str, Any]:
    """The document as plain JSON. Raises ValueError where it is not well formed (see `check`)."""
    check(origin)
    relations: dict[str, list[dict[str, str]]] = {
        "wasGeneratedBy": [
            {"prov:entity": made, "prov:activity": act.thing.name}
            for act in origin.acts
            for made in act.made
        ],
        "used": [
            {"prov:activity": act.thing.name, "prov:entity": used}
            for act in origin.acts
            for used in act.used
        ],
        "wasAssociatedWith": [
            {"prov:activity": act.thing.name, "prov:agent": act.by} for act in origin.acts if act.by
        ],
        "wasDerivedFrom": [
            {"prov:generatedEntity": made, "prov:usedEntity": used} for made, used in origin.derived
        ],
        "wasAttributedTo": [
            {"prov:entity": what, "prov:agent": whom} for what, whom in origin.attributed
        ],
    }
    return {
        "prefix": {"prov": PROV, "xsd": XSD, "hl": OWN, **origin.prefixes},
        "entity": {thing.name: _told(thing) for thing in origin.entities},
        "activity": {act.thing.name: _told(act.thing) | _times(act.on) for act in origin.acts},
        "agent": {thing.name: _told(thing) for thing in origin.agents},
        **{name: _numbered(name, rows) for name, rows in relations.items() if rows},
    }


def check(origin: Origin) -> None:
    """Every name is declared once, in a known namespace; nothing comes out of itself."""
    things = [*origin.entities, *origin.agents, *(act.thing for act in origin.acts)]
    names = [thing.name for thing in things]
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise ValueError(f"{twice[0]} is declared twice.")
    spaces = {"prov", "xsd", "hl", *origin.prefixes}
    for name in names:
        if not NAME.fullmatch(name) or name.split(":")[0] not in spaces:
            raise ValueError(f"“{name}” is no name in a namespace of this document.")
    _check_declared(origin)
    _check_no_circle(origin.derived)


def _check_declared(origin: Origin) -> None:
    entities = {thing.name for thing in origin.entities}
    agents = {thing.name for thing in origin.agents}
    asked = [(name, entities) for pair in origin.derived for name in pair]
    for what, whom in origin.attributed:
        asked += [(what, entities), (whom, agents)]
    for act in origin.acts:
        asked += [(name, entities) for name in (*act.used, *act.made)]
        asked += [(act.by, agents)] if act.by else []
    for name, known in asked:
        if name not in known:
            raise ValueError(f"{name} is spoken of and not declared.")


def _check_no_circle(derived: Iterable[tuple[str, str]]) -> None:
    """Take away what comes out of nothing that is left, until nothing or a circle is left."""
    left = set(derived)
    while left:
        waiting = {made for made, _ in left}
        free = {pair for pair in left if pair[1] not in waiting}
        if not free:
            raise ValueError(f"{min(left)[0]} would come out of itself.")
        left -= free


def _told(thing: Thing) -> dict[str, Any]:
    kind = {"$": thing.kind, "type": "prov:QUALIFIED_NAME"}
    known = {f"hl:{name}": _typed(value) for name, value in thing.known}
    return {"prov:type": kind, "prov:label": thing.label, **known}


def _typed(value: Value) -> Any:
    if isinstance(value, date):
        return {"$": value.isoformat(), "type": "xsd:date"}
    if isinstance(value, float):
        return {"$": f"{value:.10g}", "type": "xsd:double"}
    return value


def _times(on: date | None) -> dict[str, str]:
    if on is None:
        return {}
    day = on.isoformat()
    return {"prov:startTime": f"{day}T00:00:00", "prov:endTime": f"{day}T23:59:59"}


def _numbered(name: str, rows: Iterable[dict[str, str]]) -> dict[str, dict[str, str]]:
    return {f"_:{name}{n}": row for n, row in enumerate(rows, 1)}
