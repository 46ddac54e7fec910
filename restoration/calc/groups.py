"""The members of a hull in the order one walks them: by group, then by kind, then along her."""

from collections.abc import Mapping
from types import MappingProxyType

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


def kinds_by_group() -> dict[str, list[vocabulary.MemberKind]]:
    """The kinds of member under their group's heading, each in the order of the table."""
    kinds = vocabulary.member_kinds().values()
    return {
        title: [kind for kind in kinds if kind.group == group]
        for group, title in GROUP_TITLES.items()
    }
