"""What waits for what: whether a wait would close a circle."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from typing import TypeVar

Thing = TypeVar("Thing", bound=Hashable)


def circle(waits: Mapping[Thing, Iterable[Thing]], thing: Thing, after: Thing) -> tuple[Thing, ...]:
    """The circle closed if `thing` waited for `after` too, from `thing` round to itself.

    `waits` says of each what it waits for already. Nothing where no circle closes; else the
    shortest way round, each after the one behind it: (F12, F13, F12) is F12 after F13 after F12.
    """
    if thing == after:
        return (thing, thing)
    came_from: dict[Thing, Thing] = {}
    reached = [after]
    for here in reached:
        for onward in waits.get(here, ()):
            if onward == thing:
                return (thing, *_back_to(after, here, came_from), thing)
            if onward != after and onward not in came_from:
                came_from[onward] = here
                reached.append(onward)
    return ()


def _back_to(start: Thing, end: Thing, came_from: Mapping[Thing, Thing]) -> tuple[Thing, ...]:
    path = [end]
    while path[-1] != start:
        path.append(came_from[path[-1]])
    return tuple(reversed(path))


def refusal(names: Sequence[str]) -> str:
    """F12 would wait for itself: F12 after F13 after F12."""
    if len(names) < 2 or names[0] != names[-1]:
        raise ValueError("A circle ends where it begins.")
    return f"{names[0]} would wait for itself: {' after '.join(names)}."
