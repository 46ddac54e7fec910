"""The words for condition, urgency and recommended measure, and for how sure a cause is.

The classes follow EN 16096:2012, Conservation of cultural property, condition survey and
report of built cultural heritage, adapted to a hull: `STANDING` says how far, and must be
printed wherever the classes are. The three are independent, set by the surveyor and never
computed: a member in condition 1 can be of urgency 3.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeVar

Code = TypeVar("Code", int, str)

STANDING = (
    "Condition, urgency and recommended measure are graded after EN 16096:2012, condition "
    "survey and report of built cultural heritage. Its scope does not name vessels, so this is "
    "an adaptation; the wording of the classes here is from memory and is to be checked against "
    "the standard before it is quoted. What each class means for a hull member is our own "
    "reading. A member that could not be examined is marked so and is never class 0. The "
    "surveyor sets every class."
)


@dataclass(frozen=True)
class Grade:
    """One class: its code, a short word, the standard's wording, and a sentence for a hull.

    `wording` is EN 16096:2012 from memory, `meaning` our own; both stand as `STANDING` says.
    """

    code: str
    label: str
    wording: str
    meaning: str


CONDITIONS: Mapping[str, Grade] = MappingProxyType(
    {
        "0": Grade(
            "CC0",
            "no symptoms",
            "no symptoms",
            "Examined, nothing found by the methods used.",
        ),
        "1": Grade(
            "CC1",
            "minor",
            "minor symptoms",
            "Surface or small local signs, no loss of section or hold.",
        ),
        "2": Grade(
            "CC2",
            "moderate",
            "moderately strong symptoms",
            "Local loss of section, softness, cracked frame, wasted fastening in the sample.",
        ),
        "3": Grade(
            "CC3",
            "major",
            "major symptoms",
            "Loss of function, decay through the section, fracture, failed bolts.",
        ),
        "NE": Grade(
            "NE",
            "not examined",
            "",
            "Not examined: nothing is known of its condition from this survey.",
        ),
    }
)

URGENCIES: Mapping[int, Grade] = MappingProxyType(
    {
        0: Grade("UC0", "long term", "long term", "Nothing presses; look again in due course."),
        1: Grade("UC1", "intermediate", "intermediate term", "Plan it; it can wait its turn."),
        2: Grade("UC2", "short term", "short term", "Do it soon, before it spreads or fails."),
        3: Grade("UC3", "urgent", "urgent and immediate", "Do it now, before she is used."),
    }
)

MEASURES: Mapping[int, Grade] = MappingProxyType(
    {
        0: Grade("RC0", "none", "no measures", "Leave it as it is."),
        1: Grade(
            "RC1",
            "maintenance",
            "maintenance or preventive conservation",
            "Upkeep: clean, dry, paint, ventilate, watch.",
        ),
        2: Grade(
            "RC2",
            "moderate repair",
            "moderate repair, or further investigation",
            "Repair in part, or open up and find out more first.",
        ),
        3: Grade(
            "RC3",
            "major intervention",
            "major intervention, based on diagnosis",
            "Renew or rebuild, once the cause is known.",
        ),
    }
)


def condition(code: str) -> Grade:
    """The condition class ``0`` to ``3`` or ``NE``; ValueError for any other."""
    return _graded(CONDITIONS, code, "Condition is class 0, 1, 2, 3 or NE for not examined")


def urgency(code: int) -> Grade:
    """The urgency class 0 to 3; ValueError for any other."""
    return _graded(URGENCIES, code, "Urgency is class 0, 1, 2 or 3")


def measure(code: int) -> Grade:
    """The recommended measure 0 to 3; ValueError for any other."""
    return _graded(MEASURES, code, "Recommended measure is class 0, 1, 2 or 3")


def _graded(grades: Mapping[Code, Grade], code: Code, allowed: str) -> Grade:
    if code not in grades:
        raise ValueError(f"{allowed}; “{code}” is none of these.")
    return grades[code]
