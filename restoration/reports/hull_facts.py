"""The hull sheet of a report: what it is drawn from, as plain facts, kept with the report."""

from dataclasses import dataclass

from restoration.calc.lines import Lines, Stations
from restoration.drawings.hull.pieces import Piece


@dataclass(frozen=True)
class HullFacts:
    """Her curves, stations and members. `assumed`: the particulars nobody gave, by name."""

    hull: str
    lines: Lines
    stations: Stations
    pieces: tuple[Piece, ...]
    assumed: tuple[str, ...] = ()
