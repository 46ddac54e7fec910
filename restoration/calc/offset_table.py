"""The hull sheet's curves from offsets that the yard has measured or lifted off a plan."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from restoration.calc.curves import Curve, Point
from restoration.calc.lines import Lines
from timber_stock.measure import format_length


@dataclass(frozen=True)
class OffsetRow:
    """One row of the table, mm: place along the hull, heights from the waterline, half breadths.

    None where nothing was measured; keel, sheer and deck are needed in the first and last row.
    """

    along_mm: float
    keel_mm: float | None = None
    rabbet_mm: float | None = None
    sheer_mm: float | None = None
    deck_half_breadth_mm: float | None = None
    waterline_half_breadth_mm: float | None = None


def lines_from_offsets(table: Sequence[OffsetRow]) -> Lines:
    """Lines through every offset of the table, from forward to aft.

    A rabbet that was not measured is taken along the keel's lowest edge; a waterline that was not
    measured has the half breadth of the deck where the keel is under water. Both are then named
    as assumed. Raises ValueError for fewer than three rows, a table that doubles back, a first or
    last row that lacks keel, sheer or deck, or a sheer below the keel.
    """
    if len(table) < 3:
        raise ValueError("An offset table needs three rows or more.")
    _refuse_doubling_back(table)
    for name in ("keel", "sheer", "deck_half_breadth"):
        _refuse_open_ends(table, name)
    profile = Curve("keel profile", _column(table, "keel"))
    deck = Curve("deck edge", _column(table, "deck_half_breadth"))
    rabbet, waterline = _column(table, "rabbet"), _column(table, "waterline_half_breadth")
    return Lines(
        sheer=Curve("sheer", _column(table, "sheer")),
        profile=profile,
        rabbet=Curve("rabbet", _full_length(rabbet, profile)),
        deck=deck,
        waterline=Curve("waterline", waterline or _under_water(profile, deck)),
        assumed=tuple(
            name for name, given in (("rabbet", rabbet), ("waterline", waterline)) if not given
        ),
    )


def _refuse_doubling_back(table: Sequence[OffsetRow]) -> None:
    for number, (before, after) in enumerate(pairwise(table), start=2):
        if after.along_mm <= before.along_mm:
            raise ValueError(
                f"The offset table doubles back in row {number}: {_both_ways(after.along_mm)} "
                f"comes after {_both_ways(before.along_mm)}. Each row must lie further aft than "
                "the one before."
            )


def _both_ways(mm: float) -> str:
    return f"{format_length(mm)} ({format_length(mm, 'metric')})"


def _refuse_open_ends(table: Sequence[OffsetRow], name: str) -> None:
    for row, end in ((table[0], "first"), (table[-1], "last")):
        if getattr(row, f"{name}_mm") is None:
            raise ValueError(f"The {end} row of the offset table has no {name.replace('_', ' ')}.")


def _column(table: Sequence[OffsetRow], name: str) -> tuple[Point, ...]:
    found = ((row.along_mm, getattr(row, f"{name}_mm")) for row in table)
    return tuple((along, value) for along, value in found if value is not None)


def _full_length(rabbet: tuple[Point, ...], profile: Curve) -> tuple[Point, ...]:
    """The rabbet from end to end: where its ends were not measured it meets the keel's edge."""
    if not rabbet:
        return profile.points
    first, last = profile.points[0], profile.points[-1]
    fore = () if rabbet[0][0] == first[0] else (first,)
    aft = () if rabbet[-1][0] == last[0] else (last,)
    return (*fore, *rabbet, *aft)


def _under_water(profile: Curve, deck: Curve) -> tuple[Point, ...]:
    wet = [along for along, height in profile.points if height <= 0]
    if len(wet) < 2:
        raise ValueError("The keel of the offset table is nowhere under water: check its signs.")
    return tuple((along, deck.at(along)) for along in wet)
