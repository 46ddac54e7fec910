"""The stages a replacement passes on its way into the hull, and which of them comes next.

Our own list, in the order of the work as the trade does it (common practice).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass


@dataclass(frozen=True)
class Stage:
    """`word` is what a replacement is once it is there; `do` is what gets it there."""

    key: str
    word: str
    do: str


SPECIFIED = Stage("specified", "specified", "specify")
FOUND = Stage("found", "timber found", "find timber for")
SAWN = Stage("sawn", "sawn", "saw")
SHAPED = Stage("shaped", "shaped", "shape")
DRY_FITTED = Stage("dry_fitted", "dry fitted", "dry fit")
FITTED = Stage("fitted", "fitted", "fit")
FASTENED = Stage("fastened", "fastened", "fasten")

STAGES = (SPECIFIED, FOUND, SAWN, SHAPED, DRY_FITTED, FITTED, FASTENED)
BY_KEY = {stage.key: stage for stage in STAGES}
ORDER = {stage.key: number for number, stage in enumerate(STAGES)}

IN_THE_HULL = (DRY_FITTED, FITTED, FASTENED)
"""What needs her place in the hull: a replacement that waits for another may be sawn and shaped."""


def stage(key: str) -> Stage:
    if key not in BY_KEY:
        raise ValueError(f"{key!r} is no stage of the work.")
    return BY_KEY[key]


def furthest(done: Collection[str]) -> Stage:
    """The last stage that is recorded; what is specified is at least that."""
    return max((stage(key) for key in done), key=lambda each: ORDER[each.key], default=SPECIFIED)


def after(key: str) -> Stage | None:
    """The stage that comes next; None after the last."""
    number = ORDER[stage(key).key] + 1
    return STAGES[number] if number < len(STAGES) else None


def passed_over(done: Collection[str], to: str) -> tuple[Stage, ...]:
    """The stages before `to` that nobody recorded."""
    before = STAGES[1 : ORDER[stage(to).key]]
    return tuple(each for each in before if each.key not in done)


def needs_the_hull(key: str) -> bool:
    return stage(key) in IN_THE_HULL
