"""The published tables that come with the program, read from `fixtures/wood`."""

from __future__ import annotations

import csv
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "fixtures" / "wood"

STANDINGS: dict[str, str] = {
    "R": "read in the named publication or a copy of it",
    "S": "second-hand: read in another text that quotes it",
    "B": "calculated back from another published table",
    "C": "computed from figures in the same row",
    "M": "from memory of the named publication, not read: a default to correct",
    "Y": "the yard's own figure",
    "A": "assumed: common practice, not a published figure",
}
"""How well a figure is known, by its code."""


def rows(name: str) -> list[dict[str, str]]:
    """Every row of one table, column name to text."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def number(text: str) -> float | None:
    """A cell as a number; an empty cell is no figure at all, which is not nought."""
    return float(text) if text.strip() else None


def code(word: str) -> str:
    """The one-letter standing for a word used in the tables (READ, SECOND-HAND, MEMORY)."""
    return {"READ": "R", "READ_CORRECTED": "R", "SECOND-HAND": "S", "MEMORY": "M"}[word.split()[0]]
