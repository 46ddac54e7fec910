"""A table as it comes out of a notebook, a spreadsheet or a text: rows of cells, nothing read yet.

Between cells stands a tab, a semicolon, an upright, or a comma; the first of these that a row
holds is its mark, so that behind tabs and semicolons a comma is a decimal comma. A row without
any of them is parted at wide gaps, or at every gap where each part is a figure by itself.
"""

import re
from dataclasses import dataclass

MARKS = ("\t", ";", "|", ",")
_WIDE = re.compile(r"\s{2,}")
_FIGURE = re.compile(r"[-−–+]?\d+([.]\d+)?|[-−–+]?\d+-\d+-\d+\+?")


@dataclass(frozen=True)
class PastedRow:
    """`number` is the line of the text the row stands on, the first being 1."""

    number: int
    cells: tuple[str, ...]

    def is_blank(self) -> bool:
        return not any(self.cells)

    def is_heading(self) -> bool:
        """Words only: a row without a figure in it names its columns."""
        return not self.is_blank() and not any(
            sign.isdigit() for cell in self.cells for sign in cell
        )


def rows(text: str) -> list[PastedRow]:
    """Every line of the text as a row, blank ones too; without blank cells at the end of it."""
    return [PastedRow(number, _cells(line)) for number, line in enumerate(text.splitlines(), 1)]


def _cells(line: str) -> tuple[str, ...]:
    mark = next((each for each in MARKS if each in line), None)
    found = [cell.strip() for cell in (line.split(mark) if mark else _parted(line.strip()))]
    while found and not found[-1]:
        found.pop()
    return tuple(found)


def _parted(line: str) -> list[str]:
    wide = _WIDE.split(line)
    if len(wide) > 1:
        return wide
    parts = line.split()
    return parts if parts and all(_FIGURE.fullmatch(part) for part in parts) else [line]
