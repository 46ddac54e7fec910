"""Keel bolts: the conditions that are published, held against those laid out. No sizing formula.

Lloyd's Register, Special Service Craft (July 2022), Pt 4 Ch 3 s 6.3, read. The rule's formula for
the diameter could not be read and is not here: what size a keel bolt must be is for class rules and
a naval architect.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from restoration.calc.checks import above_zero, not_below_zero
from restoration.calc.fastening_sources import MEMORY, READ, Published
from restoration.calc.washers import LLOYDS

CAUTION = (
    "Keel bolts hold the ballast: their failure can free it and capsize the boat. Unknown bolts "
    "are a hazard, not a pass. Support the casting by itself before any nut is slackened; nobody "
    "stands under it; refit one bolt before the next is drawn. Size and number are for class rules "
    "and a naval architect."
)
LEAST_DIAMETER_MM = 14.0
AREA_OF_TWO = 1.2
"""Of the area of one, for two that stand for it. Both figures: s 6.3 of the rules named above."""


@dataclass(frozen=True)
class Condition:
    """One published condition. `met` is None where the layout cannot tell."""

    text: str
    met: bool | None
    found: str
    source: Published


@dataclass(frozen=True)
class Prompt:
    """What is published about looking at keel bolts."""

    text: str
    source: Published


def conditions(
    diameter_mm: float,
    washer_mm: float | None,
    washer_thick_mm: float | None,
    from_middle_mm: tuple[float, ...],
) -> tuple[Condition, ...]:
    """The conditions of s 6.3 for bolts of one size.

    from_middle_mm: how far each bolt lies from the middle of the face, with a sign for the side.
    Raises ValueError for sizes not above 0.
    """
    d = above_zero(diameter_mm, "diameter of the bolt")
    return (
        Condition(
            "A keel bolt is not under 14 mm in diameter.",
            d >= LEAST_DIAMETER_MM - 1e-6, f"{d:.1f} mm", LLOYDS,
        ),
        _washer("diameter", 4 * d, washer_mm, "four times the bolt"),
        _washer(
            "thickness", min(d / 4, 8.0), washer_thick_mm,
            "a quarter of the bolt, no need of more than 8 mm",
        ),
        Condition(
            "The bolts stand on either side of the centreline in turn.",
            _alternate(from_middle_mm), "", LLOYDS,
        ),
        Condition("They stand near the bottom floor structure.", None, "", LLOYDS),
        Condition(
            "The metal resists corrosion; nuts and washers are the same or compatible.",
            None, "", LLOYDS,
        ),
        Condition("Bolts go right through where that can be done.", None, "", LLOYDS),
        Condition(
            "A square plate nut cast into the ballast is three bolts wide and one deep.",
            None, "", LLOYDS,
        ),
    )  # fmt: skip


def two_for_one_mm(single_mm: float) -> float:
    """Diameter of each of two bolts that stand for one: 1.2 times its area between them, mm."""
    return above_zero(single_mm, "diameter of the bolt") * math.sqrt(AREA_OF_TWO / 2)


def _washer(what: str, wanted_mm: float, found_mm: float | None, rule: str) -> Condition:
    text = f"The plate washer's {what} is at least {rule}."
    if found_mm is None:
        return Condition(text, None, f"not said; {wanted_mm:.1f} mm is wanted", LLOYDS)
    found = not_below_zero(found_mm, f"washer's {what}")
    return Condition(
        text, found >= wanted_mm - 0.05, f"{found:.1f} mm of {wanted_mm:.1f} mm", LLOYDS
    )


def _alternate(from_middle_mm: tuple[float, ...]) -> bool | None:
    if len(from_middle_mm) < 2:
        return None
    sides = [place > 0 for place in from_middle_mm if abs(place) > 0.5]
    turns = all(one != next_one for one, next_one in pairwise(sides))
    return len(sides) == len(from_middle_mm) and turns


PROMPTS = (
    Prompt(
        "Choose which to draw or X-ray, and say so if none was drawn.",
        Published("Wooden boat survey, a UK surveying practice", READ),
    ),
    Prompt(
        "One drawn shows necking, metal and the wood in the hole; it may snap. Refit a new one "
        "before the next is drawn.",
        Published("Surveying practices and an owner's account (2007)", READ),
    ),
    Prompt(
        "An X-ray shows wasting without drawing: a licensed operator, people about 100 ft away.",
        Published("Wooden boat survey, a UK surveying practice", READ),
    ),
    Prompt(
        "An ultrasonic echo gives length and sometimes wasting; threads and heads confuse it, so "
        "it is set on a new bolt first.",
        Published("Ultrasonic examination of bolts", MEMORY),
    ),
    Prompt(
        "A 3/4 in mild-steel bolt had lost just over 1/16 in where it passed an oak floor, a "
        "little over 16 % of its area.",
        Published("An owner's account (2007)", READ),
    ),
    Prompt(
        "The bolt should be of the same metal as the ballast or a nobler one.",
        Published("Collected extracts on keel bolts (2019), a weak source", READ),
    ),
    Prompt(
        "No published limit of wasting and no published interval for drawing them was found.",
        Published("The sources read for this register", READ),
    ),
)
