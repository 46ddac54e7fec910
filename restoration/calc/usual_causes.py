"""Which causes to offer first for a kind of member: an order of asking, never a finding."""

import re
from collections.abc import Mapping

from restoration.calc import vocabulary

STANDING = (
    "First those named most often in this register for this kind of member, then those whose "
    "usual place in the table of causes names it. An order for the thumb, not a judgement."
)
# Words of a term that many members share, and that therefore single none of them out.
_SHARED = {"timber", "board", "steamed", "sawn", "laminated", "head", "inner", "outer"}


def usual_causes(kind: str, named: Mapping[str, int] | None = None) -> tuple[str, ...]:
    """The codes of all causes, the most usual for this kind of member first.

    named: how often each cause was named before for this kind. Equal ones stay in the table's
    order, and "not established" is always last. Raises ValueError for an unknown kind or for a
    count below nothing.
    """
    counts = named or {}
    if any(count < 0 for count in counts.values()):
        raise ValueError("A cause cannot have been named less than no times.")
    words = _words_of(vocabulary.member_kind(kind))

    def place(code: str) -> tuple[bool, int, bool]:
        cause = vocabulary.cause(code)
        return code == "UNKNOWN", -counts.get(code, 0), not _named_in(words, cause)

    return tuple(sorted(vocabulary.causes(), key=place))


def _words_of(kind: vocabulary.MemberKind) -> set[str]:
    """The words that single the kind out, each without its plural s."""
    words = re.findall(r"[a-z]+", " ".join([kind.term, kind.one, *kind.alt_terms]).lower())
    return {word.removesuffix("s") for word in words if len(word) > 3} - _SHARED


def _named_in(words: set[str], cause: vocabulary.Cause) -> bool:
    places = re.findall(r"[a-z]+", cause.likely_location.lower())
    return any(place.removesuffix("s") in words for place in places)
