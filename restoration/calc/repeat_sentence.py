"""Reads one line such as "floors 1 to 24, at stations 1 to 24, sided 2 1/2 in, moulded 5 in".

Each part between commas is understood whole or not at all; what is not is named, so that
nothing typed is dropped in silence. Lengths are passed on as typed: the form reads them.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from types import MappingProxyType
from typing import Any

from restoration.calc import vocabulary

_TO = r"\s*(?:to|–|-|through)\s*"
_NUMBER = r"(\d+(?:\.\d+)?)"
_FIGURES = r"[\d½¼¾⅛⅜⅝⅞][\d½¼¾⅛⅜⅝⅞ ./,'\"′″-]*"
_LENGTH = rf"({_FIGURES}(?: ?(?:mm|cm|m|in|ins|inch|inches|ft|feet|foot)\b\.?(?: {_FIGURES})?)*)"
_BREAK = re.compile(
    r"[,;]\s+|[,;]\s*$|\n|\s+and\s+(?=mou?lded|sided|both|at stations?)"
    r"|(?<!\bto)(?<!\bon)\s+(?=(?:at\s+stations?|sided|mou?lded|(?:to|on)\s+(?:both|port|starboard)|both\s+sides)\b)",
    re.IGNORECASE,
)
_SIDES = MappingProxyType(
    {
        "both sides": "pair",
        "port and starboard": "pair",
        "port": "P",
        "port side": "P",
        "starboard": "S",
        "starboard side": "S",
        "centreline": "C",
        "centerline": "C",
    }
)


@dataclass(frozen=True)
class Reading:
    """What a line says, each figure as typed and empty where nothing was said of it.

    `kind` is a code of the member table, `wood` one of the names the caller gave; `unread`
    holds the parts that were not understood.
    """

    kind: str = ""
    first: str = ""
    last: str = ""
    side: str = ""
    station_first: str = ""
    station_last: str = ""
    station_spacing: str = ""
    sided: str = ""
    moulded: str = ""
    moulded_ends: str = ""
    length: str = ""
    wood: str = ""
    unread: tuple[str, ...] = field(default=())


_PATTERNS = tuple(
    (re.compile(pattern, re.IGNORECASE | re.ASCII), names)
    for pattern, names in (
        (rf"(?:at )?stations? {_NUMBER}{_TO}{_NUMBER}", ("station_first", "station_last")),
        (
            rf"(?:at )?stations? from {_NUMBER} (?:every|spaced) {_NUMBER}",
            ("station_first", "station_spacing"),
        ),
        (rf"(?:at )?station {_NUMBER}", ("station_first",)),
        (rf"sided {_LENGTH}", ("sided",)),
        (
            rf"mou?lded {_LENGTH}(?: amidships)? (?:and|to) {_LENGTH} at (?:the )?ends",
            ("moulded", "moulded_ends"),
        ),
        (rf"(?:mou?lded )?{_LENGTH} at (?:the )?ends", ("moulded_ends",)),
        (rf"mou?lded {_LENGTH}(?: amidships)?", ("moulded",)),
        (rf"length {_LENGTH}", ("length",)),
        (rf"{_LENGTH} long", ("length",)),
    )
)
_NUMBERED = re.compile(
    rf"(?P<kind>[a-z][a-z ,-]*?) (?:nos?\.? |numbers? )?(?P<first>\d+)(?:{_TO}(?P<last>\d+))?",
    re.IGNORECASE | re.ASCII,
)


def read_sentence(text: str, woods: Iterable[str] = ()) -> Reading:
    """What the line says of a run of members; `woods` are the names a wood may be called by.

    A part that is not understood, or says again what another part has said, is in `unread`.
    """
    names = {name.casefold(): name for name in woods}
    reading = Reading()
    for part in _parts(text):
        said = _said(part, names)
        if not said or any(getattr(reading, name) for name in said):
            reading = replace(reading, unread=(*reading.unread, part))
        else:
            reading = replace(reading, **said)
    return reading


def _parts(text: str) -> list[str]:
    parts = (" ".join(part.split()).rstrip(".") for part in _BREAK.split(text))
    return [part for part in parts if part]


def _said(part: str, woods: Mapping[str, str]) -> dict[str, Any]:
    side = re.sub(r"^(to|on) (the )?", "", part.lower())
    if side in _SIDES:
        return {"side": _SIDES[side]}
    wood = re.sub(r"^(in|of) ", "", part.casefold())
    if wood in woods:
        return {"wood": woods[wood]}
    for pattern, names in _PATTERNS:
        if found := pattern.fullmatch(part):
            return dict(zip(names, found.groups(), strict=True))
    return _numbered(part)


def _numbered(part: str) -> dict[str, Any]:
    """A kind with its numbers, "floors 1 to 24", or a kind alone."""
    found = _NUMBERED.fullmatch(part)
    kind = kind_named(found["kind"] if found else part)
    if not kind:
        return {}
    if not found:
        return {"kind": kind}
    return {"kind": kind, "first": found["first"], "last": found["last"] or found["first"]}


def kind_named(words: str) -> str:
    """The code of the kind called so, in the singular or the plural; empty if none, or several."""
    words = " ".join(words.lower().split())
    codes = _kinds_by_name().get(words, set())
    return next(iter(codes)) if len(codes) == 1 else ""


@cache
def _kinds_by_name() -> Mapping[str, set[str]]:
    """Every name a kind goes by. A kind's own term outranks another kind's other names."""
    own: dict[str, set[str]] = {}
    other: dict[str, set[str]] = {}
    for code, kind in vocabulary.member_kinds().items():
        for name in _in_any_number(kind.term, kind.one):
            own.setdefault(name, set()).add(code)
        for name in _in_any_number(*kind.alt_terms):
            other.setdefault(name, set()).add(code)
    return MappingProxyType({**other, **own})


def _in_any_number(*names: str) -> set[str]:
    plain = {re.sub(r" \(.*\)", "", name).lower() for name in names}
    return plain | {f"{name}s" for name in plain} | {name.removesuffix("s") for name in plain}
