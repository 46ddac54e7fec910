"""An outline, and the lines beside it, from a table of offsets that a yard has taken.

Three ways of taking them: by station, the heights of the upper and the lower edge there; by
station, the half breadth either side of a centreline; or the corners of the outline in order
round it. Along is the pattern's x, heights and breadths its y.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from restoration.calc.curves import Curve
from restoration.calc.pasted_table import PastedRow, rows
from restoration.calc.pattern import LINE_KINDS, PatternLine, Point
from restoration.calc.pattern_cells import Reader

WAYS = {
    "edges": "Upper and lower edge by station",
    "half_breadths": "Half breadth by station",
    "corners": "Corners in order round it",
}
COLUMNS = {
    "edges": ("along", "upper edge", "lower edge"),
    "half_breadths": ("along", "half breadth"),
    "corners": ("along", "across"),
}
MOST_ROWS = 5000
SAME_MM = 0.005
_OTHER_WORDS = {
    "station": "along", "place": "along", "x": "along", "y": "across", "upper": "upper edge",
    "top": "upper edge", "lower": "lower edge", "bottom": "lower edge", "half": "half breadth",
    "breadth": "half breadth", "hb": "half breadth",
    "rabbet": "rabbet", "rebate": "rabbet", "inner": "inner_rabbet", "bearding": "bearding",
    "centre": "centre", "center": "centre", "centreline": "centre", "centerline": "centre",
    "cl": "centre", "waterline": "waterline", "wl": "waterline", "lwl": "waterline",
    "scarf": "scarf", "other": "other",
}  # fmt: skip


@dataclass(frozen=True)
class Taken:
    """What a table of offsets gives: an outline and the lines that had a column of their own."""

    outline_mm: tuple[Point, ...]
    lines: tuple[PatternLine, ...] = ()


def outline_from_table(text: str, *, way: str, bare_unit: str, fair: bool = False) -> Taken:
    """The outline that a typed or pasted table describes.

    `way` is a key of WAYS. `bare_unit`, a key of BARE_UNITS, is what a figure without a unit is
    in. A heading row may name the columns, in any order, and give lines a column of their own
    (rabbet, bearding, centreline, ...); without one they stand in the order of COLUMNS. `fair`
    joins the stations by a curve that stays between its neighbours (see `curves`) instead of by
    straight lines; corners are always joined straight.

    Raises CannotBeRead with a sentence for every cell that cannot be read, ValueError for a table
    too short or too long.
    """
    if way not in WAYS:
        raise ValueError(f"Offsets are taken one of three ways: {', '.join(WAYS.values())}.")
    reader = Reader("Offsets", bare_unit)
    columns, table = _headed(text, way, reader)
    if way == "corners":
        return Taken(_corners(table, columns, reader))
    return _by_station(table, columns, reader, fair)


def line_kind(words: str) -> str | None:
    """The kind of line that a heading or a cell names, None where it names none."""
    plain = " ".join(words.lower().replace("_", " ").replace("-", " ").split())
    for kind, label in LINE_KINDS.items():
        if plain in (label, kind.replace("_", " "), label.removesuffix(" line")):
            return kind
    word = _OTHER_WORDS.get(plain.split()[0]) if plain else None
    return word if word in LINE_KINDS else None


def _headed(text: str, way: str, reader: Reader) -> tuple[list[str], list[PastedRow]]:
    table = [row for row in rows(text) if not row.is_blank()]
    if len(table) > MOST_ROWS:
        raise ValueError(f"A table of offsets has {MOST_ROWS:,} rows at most.")
    columns = list(COLUMNS[way])
    if table and table[0].is_heading():
        columns = _columns(table.pop(0), way, reader)
    if not table:
        reader.faults.append("Offsets: there is no row with figures in it.")
    reader.done()
    for row in table:
        reader.no_more_than(row, [_said(name) for name in columns])
    return columns, table


def _columns(heading: PastedRow, way: str, reader: Reader) -> list[str]:
    found = [_column(cell, way) for cell in heading.cells]
    for cell, name in zip(heading.cells, found, strict=True):
        if not name:
            reader.fault(heading, f"the heading “{cell[:40]}” is not one that is known.")
        elif found.count(name) > 1:
            reader.fault(heading, f"the heading “{cell[:40]}” stands there twice.")
    for name in COLUMNS[way]:
        if name not in found:
            reader.fault(heading, f"no column is headed “{name}”.")
    return found


def _column(cell: str, way: str) -> str:
    """The name of a column, or "": of its own way, or of a kind of line."""
    plain = cell.lower().replace("-", " ").split()
    own = " ".join(plain)
    if own not in COLUMNS[way]:
        own = _OTHER_WORDS.get(plain[0], "") if plain else ""
    if own in COLUMNS[way]:
        return own
    return "" if way == "corners" else line_kind(cell) or ""


def _corners(table: Sequence[PastedRow], columns: list[str], reader: Reader) -> tuple[Point, ...]:
    along, across = columns.index("along"), columns.index("across")
    read = [
        (reader.wanted(row, along, "along"), reader.wanted(row, across, "across")) for row in table
    ]
    reader.done()
    return _without_repeats([(x, y) for x, y in read if x is not None and y is not None])


def _by_station(
    table: Sequence[PastedRow], columns: list[str], reader: Reader, fair: bool
) -> Taken:
    places = _places(table, columns, reader)
    read = {
        name: [reader.length(row, number, _said(name)) for row in table]
        for number, name in enumerate(columns)
        if name != "along"
    }
    if "half breadth" in read:
        _half_breadths(table, read, reader)
    _check_ends(table, read, reader)
    _check_edges(table, read, reader)
    reader.done()
    drawn = {name: _joined(places, values, name, fair) for name, values in read.items()}
    outline = (*drawn.pop("lower edge"), *reversed(drawn.pop("upper edge")))
    lines = [PatternLine(kind, points) for kind, points in drawn.items() if len(points) > 1]
    return Taken(_without_repeats(outline), tuple(lines))


def _said(column: str) -> str:
    return LINE_KINDS.get(column, column)


def _places(table: Sequence[PastedRow], columns: list[str], reader: Reader) -> list[float]:
    number = columns.index("along")
    read = [reader.wanted(row, number, "along") for row in table]
    for (before, after), row in zip(pairwise(read), table[1:], strict=True):
        if before is not None and after is not None and after <= before:
            reader.fault(row, "it does not lie further along than the row before it.")
    return [place or 0.0 for place in read]


def _half_breadths(
    table: Sequence[PastedRow], read: dict[str, list[float | None]], reader: Reader
) -> None:
    """The breadth either side of the centreline, and the centreline itself."""
    breadths = read.pop("half breadth")
    for row, breadth in zip(table, breadths, strict=True):
        if breadth is not None and breadth < 0:
            reader.fault(row, "a half breadth is nought or more: it is taken to both sides.")
    reader.done()
    read["upper edge"] = breadths
    read["lower edge"] = [None if breadth is None else -breadth for breadth in breadths]
    read.setdefault("centre", [0.0] * len(breadths))


def _check_ends(
    table: Sequence[PastedRow], read: dict[str, list[float | None]], reader: Reader
) -> None:
    if reader.faults:
        return
    if len(table) < 2:
        reader.fault(table[0], "a table by station needs two rows or more.")
    for end in (0, -1):
        if any(read[edge][end] is None for edge in ("upper edge", "lower edge")):
            reader.fault(table[end], "the first and the last row need both edges.")


def _check_edges(
    table: Sequence[PastedRow], read: dict[str, list[float | None]], reader: Reader
) -> None:
    for row, upper, lower in zip(table, read["upper edge"], read["lower edge"], strict=True):
        if upper is not None and lower is not None and upper < lower:
            reader.fault(row, "the upper edge lies below the lower edge.")


def _joined(
    places: Sequence[float], values: Sequence[float | None], name: str, fair: bool
) -> tuple[Point, ...]:
    points = tuple((x, y) for x, y in zip(places, values, strict=True) if y is not None)
    if not fair or len(points) < 3:
        return points
    return Curve(_said(name), points).polyline()


def _without_repeats(points: Sequence[Point]) -> tuple[Point, ...]:
    """Without a corner given twice running, the last against the first included."""
    kept: list[Point] = []
    for point in points:
        if not kept or _apart(kept[-1], point):
            kept.append(point)
    while len(kept) > 1 and not _apart(kept[0], kept[-1]):
        kept.pop()
    return tuple(kept)


def _apart(one: Point, other: Point) -> bool:
    return max(abs(one[0] - other[0]), abs(one[1] - other[1])) > SAME_MM
