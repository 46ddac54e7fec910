"""The members of a hull in the order one walks them: by group, then by kind, then along her."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Protocol, TypeVar

from restoration.calc import vocabulary

# Our headings for the groups of the member table.
GROUP_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "backbone": "Backbone",
        "transverse": "Framing",
        "longitudinal": "Longitudinals",
        "shell": "Planking and ceiling",
        "deck": "Deck",
    }
)


class OfAKind(Protocol):
    """Anything that has a kind of member by its code."""

    kind: str


Some = TypeVar("Some", bound=OfAKind)


def kinds_by_group() -> dict[str, list[vocabulary.MemberKind]]:
    """The kinds of member under their group's heading, each in the order of the table."""
    kinds = vocabulary.member_kinds().values()
    return {
        title: [kind for kind in kinds if kind.group == group]
        for group, title in GROUP_TITLES.items()
    }


def by_group(members: Iterable[Some]) -> dict[str, list[tuple[vocabulary.MemberKind, list[Some]]]]:
    """Members under their group's heading and then their kind, each kind's in the order given.

    Groups and kinds of which there is none are left out.
    """
    of_kind: dict[str, list[Some]] = {}
    for member in members:
        of_kind.setdefault(member.kind, []).append(member)
    found = {
        title: [(kind, of_kind[kind.code]) for kind in kinds if kind.code in of_kind]
        for title, kinds in kinds_by_group().items()
    }
    return {title: kinds for title, kinds in found.items() if kinds}
