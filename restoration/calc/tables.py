"""Reads the reference tables in `fixtures/`, which hold the published figures as data."""

import csv
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "fixtures"


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of `fixtures/<name>.csv` as dictionaries of text, in the order of the file."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))
