"""Two surveys of one hull side by side: what got worse, what was put right, what nobody saw.

Condition classes are those of `grading`: 0 to 3, NE for not examined, None for no finding. They
are compared as they were set; nothing is judged here. Which causes go on by themselves is our own
reading of the groups of causes: rot, borers and corrosion go on, a blow or a check does not.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from restoration.calc.vocabulary import cause

OUTCOMES: Mapping[str, str] = MappingProxyType(
    {
        "worse": "got worse",
        "found": "found bad, not graded before",
        "right": "put right: replacement fitted since",
        "better": "graded better, no replacement on record",
        "dropped": "graded before, not looked at again",
        "unseen": "looked at in neither",
        "same": "as it was",
    }
)
"""What became of a member from one survey to the other, in the order in which it matters."""

GOES_ON = ("biological", "electrochemical", "electrochemical/chemical")


@dataclass(frozen=True)
class Seen:
    """What two surveys, `earlier` and `later`, say of one member, and when it was replaced."""

    earlier: str | None
    later: str | None
    fitted_on: date | None = None


def class_of(condition: str | None) -> int | None:
    """The class as a number; None where the member was not examined or has no finding."""
    return int(condition) if condition in ("0", "1", "2", "3") else None


def outcome(seen: Seen, earlier_on: date, later_on: date) -> str:
    """Which of `OUTCOMES` a member has, between two surveys of these days.

    A replacement counts from the day of the earlier survey on. Where the later survey looked at
    the replacement itself and found symptoms, they count as found, not as put right. Raises
    ValueError where the earlier survey is the later one.
    """
    if earlier_on > later_on:
        raise ValueError("The earlier of two surveys cannot be dated after the later.")
    was, now = class_of(seen.earlier), class_of(seen.later)
    if seen.fitted_on is not None and seen.fitted_on >= earlier_on:
        looked_at_new = now is not None and seen.fitted_on <= later_on
        return "found" if looked_at_new and now else "right"
    return _compared(was, now)


def _compared(was: int | None, now: int | None) -> str:
    if was is None and now is None:
        return "unseen"
    if now is None:
        return "dropped"
    if was is None:
        return "found" if now else "same"
    if now == was:
        return "same"
    return "worse" if now > was else "better"


def in_short(seen: Seen) -> str:
    """The two classes as a badge: 1→3, –→2, NE→0."""
    return f"{seen.earlier or '–'}→{seen.later or '–'}"


def goes_on(condition: str | None, causes: Iterable[str]) -> bool:
    """Whether a defect is one that goes on by itself: class 1 or worse, of rot or corrosion.

    causes: codes of the table of causes, whatever their certainty. Raises ValueError for a code
    that is not in it.
    """
    groups = [cause(code).group for code in causes]
    return bool(class_of(condition)) and any(group in GOES_ON for group in groups)
