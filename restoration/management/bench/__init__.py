"""Measurements of how quick the register is, each by name, for `manage.py bench NAME`.

They report what was measured in the one run, on the machine at hand, and promise nothing. A
benchmark is a function without arguments that yields lines of what it found; it keeps nothing in
the database it is run on.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from .section import drag_sections


@dataclass(frozen=True)
class Bench:
    run: Callable[[], Iterator[str]]
    about: str


BENCHES: dict[str, Bench] = {
    "section": Bench(
        drag_sections, "a drag on the section bench: one htmx round trip, in the server"
    ),
}
