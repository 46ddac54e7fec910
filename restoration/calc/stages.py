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

TAKEN_OUT = Stage("taken_out", "taken out", "take out")
"""Of the old member. It stands beside the others: timber may be sawn before it or after."""

STAGES = (SPECIFIED, FOUND, SAWN, SHAPED, DRY_FITTED, FITTED, FASTENED)
BY_KEY = {stage.key: stage for stage in (*STAGES, TAKEN_OUT)}
ORDER = {stage.key: number for number, stage in enumerate(STAGES)}

IN_THE_HULL = (DRY_FITTED, FITTED, FASTENED)
"""What needs her place in the hull: a replacement that waits for another may be sawn and shaped."""

OPENS_THE_HULL = (TAKEN_OUT, *IN_THE_HULL)
"""What is only done with the old member out of the hull."""

OF_EVERY_LENGTH = (FOUND, SAWN, FITTED)


def stage(key: str) -> Stage:
    """The stage with this key; ValueError if there is none."""
    if key not in BY_KEY:
        raise ValueError(f"{key!r} is no stage of the work.")
    return BY_KEY[key]


def standing_at(done: Collection[str]) -> Stage:
    """How far it has come by what is recorded as done.

    Timber found, sawn and fitted hold for every length of it together: while one of these is
    wanting nothing after it counts. What was only passed over (shaped, dry fitted) holds up
    nothing.
    """
    for key in done:
        stage(key)
    here = SPECIFIED
    for each in STAGES[1:]:
        if each.key in done:
            here = each
        elif each in OF_EVERY_LENGTH:
            break
    return here


def after(key: str) -> Stage | None:
    """The stage that comes next; None after the last."""
    number = ORDER[stage(key).key] + 1
    return STAGES[number] if number < len(STAGES) else None


def passed_over(done: Collection[str], to: str) -> tuple[Stage, ...]:
    """The stages before `to` that nobody recorded."""
    leading = (each for each in STAGES[1:] if leads_to(each.key, to))
    return tuple(each for each in leading if each.key not in done)


def newly_passed_over(done: Collection[str], to: str) -> tuple[Stage, ...]:
    """Those passed over by going to `to` that no stage recorded before has passed over already."""
    return tuple(
        each for each in passed_over(done, to) if not any(leads_to(each.key, key) for key in done)
    )


def leads_to(one: str, other: str) -> bool:
    """Whether the first is never done after the other: the order of the stages, and the old
    member out before anything new is in its place."""
    if TAKEN_OUT.key in (one, other):
        return one == TAKEN_OUT.key and stage(other) in IN_THE_HULL
    return ORDER[stage(one).key] < ORDER[stage(other).key]


def opens_the_hull(key: str) -> bool:
    return stage(key) in OPENS_THE_HULL


def needs_the_hull(key: str) -> bool:
    return stage(key) in IN_THE_HULL
