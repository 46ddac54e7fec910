"""A report's content to plain JSON and back, losing nothing: the register keeps it so."""

import dataclasses
import types
import typing
from datetime import date
from decimal import Decimal
from typing import Any

from restoration.reports.content import ReportContent


def to_json(content: ReportContent) -> dict[str, Any]:
    return _plain(content)


def from_json(kept: dict[str, Any]) -> ReportContent:
    return _built(ReportContent, kept)


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value):
        return {f.name: _plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, Decimal) else value


def _built(kind: Any, kept: Any) -> Any:
    """`kept` as the type its field declares: a dataclass, a tuple, a date, a Decimal or itself."""
    if isinstance(kind, types.UnionType):
        (kind,) = (one for one in typing.get_args(kind) if one is not type(None))
        return None if kept is None else _built(kind, kept)
    if dataclasses.is_dataclass(kind):
        hints = typing.get_type_hints(kind)
        return kind(**{name: _built(hints[name], value) for name, value in kept.items()})
    if typing.get_origin(kind) is tuple:
        return tuple(_built(typing.get_args(kind)[0], item) for item in kept)
    if kind is date:
        return date.fromisoformat(kept)
    # JSON on PostgreSQL reads 76.0 back as 76.0, but a whole number typed by hand as an int.
    return kind(kept)
