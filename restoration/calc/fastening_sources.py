"""Where the figures for fastenings come from, and how well each is known."""

from dataclasses import dataclass

CAUTION = (
    "An aid for a competent person, not design approval. Fastenings hold a hull together and a "
    "boat can be lost with them: class rules, local codes and a naval architect or licensed "
    "surveyor decide kind, size, number and place. The figures are for sound, straight-grained "
    "wood and whole metal; decay, checks, iron-sick wood and old holes leave less."
)
READ, MEMORY, SECOND_HAND, WORKED_OUT, PRACTICE = (
    "read", "from memory", "read second-hand", "worked out", "common practice",
)  # fmt: skip


@dataclass(frozen=True)
class Published:
    """A publication and how what is taken from it is known: read, from memory, ..."""

    title: str
    known: str

    def __str__(self) -> str:
        return f"{self.title} ({self.known})"


HANDBOOK = "Wood Handbook FPL-GTR-282 (2021), chapter 8"
NDS = "National Design Specification for Wood Construction (NDS)"
EN = "EN 1995-1-1"
SPACING_OF_BOLTS = f"{NDS}, placing of bolts"
SPACING_OF_SMALL = f"Commentary to the {NDS}, nails and wood screws in bored holes"
