"""Measurements of how quick the register is, each by name, for `manage.py bench NAME`.

They report what was measured in the one run, on the machine at hand, and promise nothing. A
benchmark is a function that takes the command's options and yields lines of what it found; it
keeps nothing in the database it is run on.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from .matching import match_yards
from .nesting import lay_out_rivals
from .report import draw_many_findings
from .sawing import rival_plans
from .section import drag_sections


@dataclass(frozen=True)
class Bench:
    run: Callable[[Mapping], Iterator[str]]
    about: str


BENCHES: dict[str, Bench] = {
    "section": Bench(
        lambda options: drag_sections(),
        "a drag on the section bench: one htmx round trip, in the server",
    ),
    "matching": Bench(
        lambda options: match_yards(),
        "2,000 boards against 200 replacements, from the database to the proposal",
    ),
    "report": Bench(
        lambda options: draw_many_findings(),
        "a report of 300 findings and 300 photographs, against bare ReportLab",
    ),
    "nesting": Bench(
        lambda options: lay_out_rivals(),
        "pieces laid out on a flitch: rectangles alone, chance, and true shapes at several budgets",
    ),
    "sawing": Bench(
        rival_plans,
        "the sawing planner against the usual ways, chance and a general solver",
    ),
}
