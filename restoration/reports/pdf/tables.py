"""Schedules: tables that repeat their heads and never break a row that a page can hold."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from reportlab.platypus import Flowable, TableStyle

from restoration.reports.pdf.parts import WholeRows, marked, text
from restoration.reports.pdf.type import HAIR, INK, LINE, STRONG, THIN

Cell = str | Flowable | list[Flowable]
FEWEST_TO_KEEP, LETTERS_KEPT = 4, 400


@dataclass(frozen=True)
class Column:
    """A column's head, its share of the width, and whether it holds figures (set right)."""

    head: str
    share: float
    figures: bool = False


@dataclass
class Row:
    """Cells; a `note` runs under them across the whole table and stays with them."""

    cells: Sequence[Cell]
    note: str = ""
    is_total: bool = False
    style: list[tuple] = field(default_factory=list)


def schedule(columns: Sequence[Column], rows: Sequence[Row], width: float) -> Flowable:
    """A ruled table under a head that every page repeats."""
    share = width / sum(column.share for column in columns)
    data: list[list[Cell]] = [[text(c.head, "head_cell", right=c.figures) for c in columns]]
    rules: list[tuple] = [*_RULES, ("LINEBELOW", (0, 0), (-1, 0), STRONG, INK)]
    starts = [_add(data, rules, row, columns) for row in rows]
    rules += _never_alone(rows, [*starts, len(data)])
    table = WholeRows(
        data,
        colWidths=[column.share * share for column in columns],
        repeatRows=1,
        spaceBefore=2,
        spaceAfter=8,
    )
    table.setStyle(TableStyle(rules))
    return table


def _never_alone(rows: Sequence[Row], starts: Sequence[int]) -> list[tuple]:
    """Two rows at least under a head, and two at least on the page where the table ends; but long
    ones may stand alone, for two of them may be taller than a page."""
    if len(rows) < FEWEST_TO_KEEP:
        return []
    return [
        ("NOSPLIT", (0, starts[n]), (-1, starts[n + 2] - 1))
        for n in (0, len(rows) - 2)
        if all(_letters(row) <= LETTERS_KEPT for row in rows[n : n + 2])
    ]


def _letters(row: Row) -> int:
    return len(row.note) + sum(len(cell) for cell in row.cells if isinstance(cell, str))


def _add(data: list, rules: list[tuple], row: Row, columns: Sequence[Column]) -> int:
    """The row, and its note under it; the place in the table where it begins."""
    at = len(data)
    data.append([_cell(c, column) for c, column in zip(row.cells, columns, strict=True)])
    if row.note:
        data.append([marked(row.note, "cell"), *[""] * (len(columns) - 1)])
        rules += [
            ("SPAN", (0, at + 1), (-1, at + 1)),
            ("NOSPLIT", (0, at), (-1, at + 1)),
            ("TOPPADDING", (0, at + 1), (-1, at + 1), 0),
            ("BOTTOMPADDING", (0, at + 1), (-1, at + 1), 5),
        ]
    last = len(data) - 1
    rules.append(("LINEBELOW", (0, last), (-1, last), HAIR, LINE))
    if row.is_total:
        rules.append(("LINEABOVE", (0, at), (-1, at), THIN, INK))
    return at


def _cell(cell: Cell, column: Column) -> Cell:
    return text(cell, "cell", right=column.figures) if isinstance(cell, str) else cell


_RULES = [
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 3),
    ("RIGHTPADDING", (0, 0), (-1, -1), 4),
    ("TOPPADDING", (0, 0), (-1, -1), 3),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 3.5),
]
