"""Sister frames against published guidance. Prompts: a naval architect decides.

Sources: US Army TB 55-1900-201-45/1, marine condition survey, paragraph 2-15 ("the bulletin"),
and later US guidance on framing repairs as a marine surveyors' lexicon reproduces it.
"""

from collections.abc import Collection
from dataclasses import dataclass, replace

from restoration.calc.checks import above_zero, not_below_zero, whole_number
from restoration.calc.rule_check import Conflict, Rule, RuleCheck, check
from timber_stock.measure import mm_from_inches

BULLETIN = "US Army TB 55-1900-201-45/1, marine condition survey"
LEXICON = "Entry 'Framing Repairs, Wood' in a marine surveyors' online lexicon (US guidance)"

ADJACENT_DAMAGED = Rule(
    "Damaged frames side by side that may be sistered",
    "at most",
    2,
    "frames",
    BULLETIN + ", 2-15a",
    "read",
)
BESIDE_DECAY = Rule(
    "Sister beside a decayed frame", "at most", 0, "frames", BULLETIN + ", 2-15d", "read"
)
REACH = Rule(
    "Reach past the damage, each way", "at least", mm_from_inches(18), "mm", LEXICON, "read"
)
PLANK_WIDTHS = 4
REACH_IN_PLANKS = Rule(
    "Reach past the damage, each way, in plank widths (about)",
    "at least",
    PLANK_WIDTHS,
    "plank widths",
    LEXICON,
    "read; put as an alternative to 18 in",
)
SIZE = Rule(
    "Section of the sister to that of the frame", "equal to", 1, "times", LEXICON, "read; disputed"
)
RULES = (ADJACENT_DAMAGED, BESIDE_DECAY, REACH, REACH_IN_PLANKS, SIZE)

CONFLICTS = (
    Conflict(
        "Size of a sister frame",
        f"equal to the frame or larger ({BULLETIN}, 2-15b)",
        f"equal, and not larger, because a deeper sister bends worse ({LEXICON})",
        "equal; a larger one is shown as disputed",
    ),
    Conflict(
        "Whether to sister at all",
        f"allowed for scattered breaks, replacement preferred ({BULLETIN}, 2-15a)",
        "unsound: replace or repair in place (note on an article against sister frames; only its "
        "abstract was read; an opinion)",
        "neither: the surveyor decides",
    ),
)
ADVICE = (
    "Replacement is preferred to a sister. Make it as long as possible; stagger the ends of "
    "several sisters (from memory); do not force one into a hard spot, let it run fair and shim "
    "it; fasten it like the damaged frame. A short partial sister is temporary."
)


@dataclass(frozen=True)
class SisterFrame:
    """A sister frame as proposed. Sizes in mm; reach is the shorter of the two past the damage."""

    frame: int
    reach_mm: float
    sided_mm: float
    moulded_mm: float
    frame_sided_mm: float
    frame_moulded_mm: float
    plank_width_mm: float | None = None


def adjacent_damaged(frame: int, damaged: Collection[int]) -> int:
    """How many damaged frames stand side by side with this one, itself included if damaged."""
    if frame not in damaged:
        return 0
    first = last = frame
    while first - 1 in damaged:
        first -= 1
    while last + 1 in damaged:
        last += 1
    return last - first + 1


def check_sister(
    sister: SisterFrame, damaged: Collection[int], decayed: Collection[int]
) -> tuple[RuleCheck, ...]:
    """A sister frame against the rules, given the numbers of the damaged and decayed frames.

    A decayed frame counts as damaged. Raises ValueError for a size that is not above 0.
    """
    about = f"frame {whole_number(sister.frame, 'number of the frame')}"
    reach = not_below_zero(sister.reach_mm, "reach past the damage")
    run = adjacent_damaged(sister.frame, {*damaged, *decayed})
    found = [
        check(ADJACENT_DAMAGED, about, run),
        check(BESIDE_DECAY, about, int(sister.frame in decayed)),
        check(REACH, about, reach),
    ]
    if sister.plank_width_mm is not None:
        width = above_zero(sister.plank_width_mm, "plank width")
        found.append(check(REACH_IN_PLANKS, about, reach / width))
    return (*found, *_sizes(sister, about))


def _sizes(sister: SisterFrame, about: str) -> list[RuleCheck]:
    pairs = {
        "sided": (sister.sided_mm, sister.frame_sided_mm),
        "moulded": (sister.moulded_mm, sister.frame_moulded_mm),
    }
    found = []
    for way, (new, old) in pairs.items():
        ratio = above_zero(new, f"{way} dimension of the sister") / above_zero(
            old, f"{way} dimension of the frame"
        )
        held = check(SIZE, f"{about}, {way}", ratio)
        larger = ratio > 1 and not held.kept
        found.append(replace(held, kept=None) if larger else held)
    return found
