"""Inner lines, bolt holes and bevels from tables of their own, and back into such tables."""

from collections.abc import Sequence

from restoration.calc.pasted_table import PastedRow, rows
from restoration.calc.pattern import LINE_KINDS, Bevel, BoltHole, PatternLine, Point
from restoration.calc.pattern_cells import Reader
from restoration.calc.pattern_offsets import line_kind

LINE_COLUMNS = ("line", "along", "across")
HOLE_COLUMNS = ("along", "across", "diameter")
BEVEL_COLUMNS = ("along", "degrees")


def lines_from_table(text: str, bare_unit: str) -> tuple[PatternLine, ...]:
    """Rows of line, along, across: rows of the same line after one another make one line.

    A blank row begins a new line; where the first cell is left blank the line above goes on.
    Raises CannotBeRead.
    """
    reader = Reader("Lines", bare_unit)
    found: list[tuple[str, list[Point], PastedRow]] = []
    broken = True
    for row in rows(text):
        if row.is_blank():
            broken = True
        elif not (row.is_heading() and _is_headed(row, LINE_COLUMNS)):
            _line_row(row, reader, found, broken)
            broken = False
    for kind, points, row in found:
        if len(points) < 2 and not reader.faults:
            reader.fault(row, f"a {LINE_KINDS[kind]} needs two points or more.")
    reader.done()
    return tuple(PatternLine(kind, tuple(points)) for kind, points, _ in found)


def holes_from_table(text: str, bare_unit: str) -> tuple[BoltHole, ...]:
    """Rows of along, across, diameter. Raises CannotBeRead."""
    reader = Reader("Bolt holes", bare_unit)
    found = []
    for row in _figures(text, HOLE_COLUMNS):
        reader.no_more_than(row, HOLE_COLUMNS)
        x, y = (reader.wanted(row, n, HOLE_COLUMNS[n]) for n in (0, 1))
        diameter = reader.wanted(row, 2, "diameter", signed=False)
        if x is not None and y is not None and diameter is not None:
            found.append(BoltHole(x, y, diameter))
    reader.done()
    return tuple(found)


def bevels_from_table(text: str, bare_unit: str) -> tuple[Bevel, ...]:
    """Rows of along, degrees: standing (open) without a sign, under (shut) with −."""
    reader = Reader("Bevels", bare_unit)
    found = []
    for row in _figures(text, BEVEL_COLUMNS):
        reader.no_more_than(row, BEVEL_COLUMNS)
        x = reader.wanted(row, 0, "along")
        degrees = reader.degrees(row, 1, "degrees")
        if x is not None and degrees is not None:
            found.append(Bevel(x, degrees))
    reader.done()
    return tuple(sorted(found, key=lambda bevel: bevel.x_mm))


def _figures(text: str, columns: Sequence[str]) -> list[PastedRow]:
    found = [row for row in rows(text) if not row.is_blank()]
    return found[1:] if found and _is_headed(found[0], columns) else found


def _is_headed(row: PastedRow, columns: Sequence[str]) -> bool:
    """Whether a row only names the columns, in their usual order."""
    return row.is_heading() and [cell.lower() for cell in row.cells] == list(columns)


def _line_row(
    row: PastedRow, reader: Reader, found: list[tuple[str, list[Point], PastedRow]], broken: bool
) -> None:
    reader.no_more_than(row, LINE_COLUMNS)
    named = row.cells[0]
    kind = line_kind(named) if named else found[-1][0] if found else None
    if kind is None:
        known = ", ".join(LINE_KINDS.values())
        reader.fault(row, f"“{named[:40]}” is not a line that is known: {known}.")
        return
    x, y = reader.wanted(row, 1, "along"), reader.wanted(row, 2, "across")
    if broken or not found or found[-1][0] != kind:
        found.append((kind, [], row))
    if x is not None and y is not None:
        found[-1][1].append((x, y))


def outline_as_table(outline: Sequence[Point]) -> str:
    """The corners in order round it, as `pattern_offsets` reads them back, in mm."""
    return "\n".join(f"{_mm(x)}; {_mm(y)}" for x, y in outline)


def lines_as_table(lines: Sequence[PatternLine]) -> str:
    """As `lines_from_table` reads them back, in mm: a blank row between two lines."""
    return "\n\n".join(
        "\n".join(f"{LINE_KINDS[line.kind]}; {_mm(x)}; {_mm(y)}" for x, y in line.points_mm)
        for line in lines
    )


def holes_as_table(holes: Sequence[BoltHole]) -> str:
    """A hole a row, as `holes` are typed: along, across, through."""
    return "\n".join(f"{_mm(h.x_mm)}; {_mm(h.y_mm)}; {_mm(h.diameter_mm)}" for h in holes)


def bevels_as_table(bevels: Sequence[Bevel]) -> str:
    """A bevel a row, as they are typed: along, degrees."""
    return "\n".join(f"{_mm(bevel.x_mm)}; {bevel.degrees:.6g}" for bevel in bevels)


def _mm(value: float) -> str:
    """To a thousandth, with its unit, so that it reads the same whatever a bare figure is in."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return f"{'0' if text == '-0' else text} mm"
