"""The cells of a pattern's tables, each read for itself; what cannot be read is said by row."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from restoration.calc.pasted_table import PastedRow
from timber_stock.measure import parse_length_mm

BARE_UNITS = {"in": "inches", "mm": "millimetres", "cm": "centimetres", "m": "metres", "ft": "feet"}
"""What a figure without a unit may be in."""
MOST_FAULTS = 12
_BARE = re.compile(r"\d+([.,]\d+)?")
_DEGREES = re.compile(r"(\d+(?:[.,]\d+)?)(?: ?(?:°|deg|degrees))?")
_ROW = re.compile(r", row (\d+): ")
_MINUS, _PLUS = "-−–", "+"


class CannotBeRead(ValueError):
    """Some cells of a table: a sentence for each in `sentences`."""

    def __init__(self, sentences: Sequence[str]):
        self.sentences = tuple(sentences)
        super().__init__(" ".join(self.sentences))


@dataclass
class Reader:
    """Reads the cells of one table and remembers every fault, so that all are said at once."""

    table: str
    bare_unit: str
    faults: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        if self.bare_unit not in BARE_UNITS:
            raise ValueError(f"A bare figure is in {', '.join(BARE_UNITS.values())}.")

    def fault(self, row: PastedRow, what: str) -> None:
        self.faults.append(f"{self.table}, row {row.number}: {what}")

    def length(
        self, row: PastedRow, column: int, name: str, *, signed: bool = True
    ) -> float | None:
        """The length in a cell, mm; None where it is blank or unreadable (then a fault is kept)."""
        text = row.cells[column] if column < len(row.cells) else ""
        if not text:
            return None
        try:
            return signed_mm(text, self.bare_unit) if signed else _mm(text, self.bare_unit)
        except ValueError as error:
            self.fault(row, f"{name}: {error}")
            return None

    def wanted(
        self, row: PastedRow, column: int, name: str, *, signed: bool = True
    ) -> float | None:
        """As `length`, and a blank cell is a fault too."""
        if column >= len(row.cells) or not row.cells[column]:
            self.fault(row, f"{name} is missing.")
            return None
        return self.length(row, column, name, signed=signed)

    def degrees(self, row: PastedRow, column: int, name: str) -> float | None:
        text = row.cells[column] if column < len(row.cells) else ""
        sign, rest = _signed(text)
        found = _DEGREES.fullmatch(rest)
        if found is None:
            self.fault(row, f"{name}: “{text[:40]}” is not degrees. Write 3.5 or −3.5.")
            return None
        return sign * float(found[1].replace(",", "."))

    def no_more_than(self, row: PastedRow, columns: Sequence[str]) -> None:
        if len(row.cells) > len(columns):
            self.fault(
                row,
                f"{len(row.cells)} cells where there are {len(columns)} columns "
                f"({', '.join(columns)}). Between feet and inches goes no comma.",
            )

    def done(self) -> None:
        """Raises CannotBeRead where there was a fault."""
        if self.faults:
            more = len(self.faults) - MOST_FAULTS
            rest = [f"{self.table}: {more} more rows or cells like these."] if more > 0 else []
            in_order = sorted(self.faults, key=_row_of)
            raise CannotBeRead([*in_order[:MOST_FAULTS], *rest])


def _row_of(sentence: str) -> int:
    """The row a fault is of; what is of the whole table comes first."""
    found = _ROW.search(sentence)
    return int(found[1]) if found else 0


def signed_mm(text: str, bare_unit: str) -> float:
    """A length with its sign, − for below or behind the zero line, mm. ValueError as measure's."""
    sign, rest = _signed(text)
    return sign * _mm(rest, bare_unit)


def _signed(text: str) -> tuple[int, str]:
    plain = text.strip()
    if plain[:1] in _MINUS and plain:
        return -1, plain[1:].strip()
    return 1, plain[1:].strip() if plain[:1] == _PLUS else plain


def _mm(text: str, bare_unit: str) -> float:
    bare = _BARE.fullmatch(text.strip()) and bare_unit not in ("in", "mm")
    return parse_length_mm(
        f"{text} {bare_unit}" if bare else text, "mm" if bare_unit != "in" else "in"
    )
