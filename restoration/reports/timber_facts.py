"""What a report says of replacements and of the timber for them: plain facts, as all of it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


@dataclass(frozen=True)
class Replacement:
    """An open specification. `stage` says how far it has come, in words."""

    mark: str
    term: str
    group: str
    surveyed_on: date
    wood: str
    other_woods: tuple[str, ...]
    sided_mm: float
    moulded_mm: float
    length_mm: float
    rings: str
    rings_face: str
    clear_of_heart: bool
    sapwood_allowed: bool
    seasoning: str
    moisture_percent: float | None
    fastenings: str
    note: str
    hours: Decimal | None
    cost: Decimal | None
    stage: str
    is_fitted: bool


@dataclass(frozen=True)
class TimberStep:
    """One piece on the way from log to member: the log, a flitch, a board.

    A log has its diameters at `butt_mm` and `top_mm`, a piece its `thickness_mm` and `width_mm`.
    """

    tag: str
    word: str
    wood: str
    length_mm: float
    butt_mm: float | None
    top_mm: float | None
    thickness_mm: float | None
    width_mm: float | None
    heart: str
    rings: str
    came: str
    came_on: date | None


@dataclass(frozen=True)
class TimberThread:
    """A length of a board given to a member, and the steps from the log down to that board."""

    mark: str
    term: str
    stage: str
    from_mm: float
    to_mm: float
    allotted_on: date
    allotted_by: str
    cut_on: date | None
    cut_by: str
    fitted_on: date | None
    fitted_by: str
    steps: tuple[TimberStep, ...]
