"""Plank butts and replacement planks against published rules. Prompts: a naval architect decides.

Main source: US Army TB 55-1900-201-45/1, marine condition survey, paragraphs 2-12 and 2-13 (here
"the bulletin"). Other yardsticks are given by name and never mixed into the bulletin's answer.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from restoration.calc.checks import above_zero, finite, whole_number
from restoration.calc.rule_check import Conflict, Rule, RuleCheck, check
from timber_stock.measure import mm_from_inches

BULLETIN = "US Army TB 55-1900-201-45/1, marine condition survey"
LAKE = "Rules for construction and classification of lake vessels, Board of Lake Underwriters, 1866"
OLD_YACHT = "Old Lloyd's yacht rules, as a magazine paragraph sums them up"
CLINKER = "Rules of thumb for clinker and plywood boats, 2011"

ADJACENT = Rule(
    "Butts in neighbouring strakes", "at least", 3, "frame spaces", BULLETIN + ", 2-13", "read"
)
SAME_BAY = Rule(
    "Solid strakes between butts in one bay", "at least", 3, "strakes", BULLETIN + ", 2-13", "read"
)
ADJACENT_UNUSUAL = Rule(
    "Butts in neighbouring strakes, unusual frame spacing",
    "at least",
    mm_from_inches(60),
    "mm",
    BULLETIN + ", 2-13",
    "read",
)
ONE_BETWEEN_UNUSUAL = Rule(
    "Butts with one strake between, unusual frame spacing",
    "at least",
    mm_from_inches(48),
    "mm",
    LAKE,
    "read, for lake ships of 1866; the bulletin's text was cut off at this point",
)
OLD_YACHT_ADJACENT = Rule(
    "Butts or scarfs in neighbouring planks",
    "at least",
    1200,
    "mm",
    OLD_YACHT,
    "read at second hand",
)
CLINKER_APART = Rule(
    "Plank joints three planks or three frame spaces apart",
    "at least",
    3,
    "frame spaces",
    CLINKER,
    "read; a practitioner's rule of thumb",
)
NEW_PLANK = Rule(
    "Length of a new plank", "at least", 6, "frame spaces", BULLETIN + ", 2-12", "read"
)
OLD_PLANK = Rule(
    "Length of old plank left", "at least", 6, "frame spaces", BULLETIN + ", 2-12", "read"
)
SHORTEST_PLANK = Rule(
    "Length of a new plank where the rule is relaxed",
    "at least",
    mm_from_inches(60),
    "mm",
    BULLETIN + ", 2-12",
    "read",
)
SHIMS = Rule("Shims behind the plank", "at most", 0, "shims", BULLETIN + ", 2-12", "read")
CLEAR_OF_FRAMES = Rule(
    "Butt clear of the frames, on a butt block", "at least", 0, "mm", BULLETIN + ", 2-13", "read"
)
RULES = (
    ADJACENT,
    SAME_BAY,
    ADJACENT_UNUSUAL,
    ONE_BETWEEN_UNUSUAL,
    OLD_YACHT_ADJACENT,
    CLINKER_APART,
    NEW_PLANK,
    OLD_PLANK,
    SHORTEST_PLANK,
    SHIMS,
    CLEAR_OF_FRAMES,
)

CONFLICTS = (
    Conflict(
        "How far apart plank butts must be",
        f"3 frame spaces in neighbouring strakes ({BULLETIN}, 2-13)",
        f"1.2 m ({OLD_YACHT}); three planks or three frame spaces, in clinker ({CLINKER})",
        "the bulletin; the others are checked only where they are asked for by name",
    ),
)


@dataclass(frozen=True)
class Butt:
    """A plank butt: its strake counted from the garboard (1) up, and its place along the hull."""

    mark: str
    side: str
    strake: int
    at_mm: float


def check_butts(
    butts: Sequence[Butt],
    frames_mm: Sequence[float],
    frame_sided_mm: float | None = None,
    usual_spacing: bool = True,
) -> tuple[RuleCheck, ...]:
    """Every butt, and every pair on one side to which a rule of the bulletin applies.

    frames_mm: centres of the frames along the hull, rising. frame_sided_mm: given, each butt is
    checked to stand clear of the frames. usual_spacing: whether the surveyor holds the frame
    spacing to be usual for the craft (the bulletin's rule in feet is for where it is not). Frame
    spaces are counted by the frames that stand between two butts. Raises ValueError for frames
    out of order, a butt beyond them, or a strake below 1.
    """
    bays = {butt: _bay(butt, frames_mm) for butt in butts}
    found = []
    if frame_sided_mm is not None:
        half = above_zero(frame_sided_mm, "sided dimension of the frames") / 2
        for butt in butts:
            clear = min(abs(butt.at_mm - frame) for frame in frames_mm) - half
            found.append(check(CLEAR_OF_FRAMES, butt.mark, clear))
    for one, other in _pairs(butts):
        apart = abs(bays[one] - bays[other])
        found.extend(_pair_checks(one, other, apart, usual_spacing))
    return tuple(found)


def _pairs(butts: Sequence[Butt]) -> list[tuple[Butt, Butt]]:
    """Pairs in different strakes of one side: two butts of one strake are its plank's length."""
    pairs = combinations(butts, 2)
    return [(a, b) for a, b in pairs if a.side == b.side and a.strake != b.strake]


def _bay(butt: Butt, frames_mm: Sequence[float]) -> int:
    if len(frames_mm) < 2 or any(b <= a for a, b in pairwise(frames_mm)):
        raise ValueError("The frames must be given from forward to aft, two or more of them.")
    if whole_number(butt.strake, "strake of a butt") < 1:
        raise ValueError(f"The strake of butt {butt.mark} is counted from the garboard as 1.")
    at = finite(butt.at_mm, "place of a butt")
    if not frames_mm[0] <= at <= frames_mm[-1]:
        raise ValueError(f"Butt {butt.mark} lies beyond the first or the last frame.")
    return bisect_right(frames_mm, at)


def _pair_checks(one: Butt, other: Butt, bays_apart: int, usual_spacing: bool) -> list[RuleCheck]:
    about = f"{one.mark} and {other.mark}"
    strakes_apart = abs(one.strake - other.strake)
    distance = abs(one.at_mm - other.at_mm)
    found = []
    if strakes_apart == 1 and usual_spacing:
        found.append(check(ADJACENT, about, bays_apart))
    if strakes_apart == 1 and not usual_spacing:
        found.append(check(ADJACENT_UNUSUAL, about, distance))
    if strakes_apart == 2 and not usual_spacing:
        found.append(check(ONE_BETWEEN_UNUSUAL, about, distance))
    if bays_apart == 0:
        found.append(check(SAME_BAY, about, strakes_apart - 1))
    return found


def check_butts_old_yacht(butts: Sequence[Butt]) -> tuple[RuleCheck, ...]:
    """Neighbouring planks' butts by the old yacht rule: a second-hand yardstick."""
    return tuple(
        check(OLD_YACHT_ADJACENT, f"{a.mark} and {b.mark}", abs(a.at_mm - b.at_mm))
        for a, b in _pairs(butts)
        if abs(a.strake - b.strake) == 1
    )


def check_joints_clinker(
    butts: Sequence[Butt], frames_mm: Sequence[float]
) -> tuple[RuleCheck, ...]:
    """Plank joints of a clinker boat nearer than three planks: by the rule of thumb."""
    bays = {butt: _bay(butt, frames_mm) for butt in butts}
    return tuple(
        check(CLINKER_APART, f"{a.mark} and {b.mark}", abs(bays[a] - bays[b]))
        for a, b in _pairs(butts)
        if abs(a.strake - b.strake) < 3
    )


def check_new_plank(
    length_mm: float,
    frame_spacing_mm: float,
    left_mm: Sequence[float] = (),
    relaxed: bool = False,
    shims: int = 0,
) -> tuple[RuleCheck, ...]:
    """A replacement plank, the lengths of old plank left beside it, and shims behind it.

    relaxed: whether special conditions let the length go below six frame spaces; the lower limit
    is then checked in its place. Raises ValueError for lengths or a spacing not above 0.
    """
    spacing = above_zero(frame_spacing_mm, "frame spacing")
    length = above_zero(length_mm, "length of the new plank")
    rule, measure = (SHORTEST_PLANK, length) if relaxed else (NEW_PLANK, length / spacing)
    left = [above_zero(old, "length of old plank left") / spacing for old in left_mm]
    if whole_number(shims, "number of shims") < 0:
        raise ValueError("The number of shims cannot be below 0.")
    return (
        check(rule, "new plank", measure),
        *(check(OLD_PLANK, "old plank left", spaces) for spaces in left),
        check(SHIMS, "new plank", shims),
    )
