"""Repeating members laid out in one step: floors 1 to 24, frames to both sides.

Sizes between amidships and the ends run along a straight line: a builder's first assumption,
to be corrected member by member, not a rule of any construction table.
"""

from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite
from restoration.calc.member_marks import mark_of
from restoration.calc.vocabulary import member_kind

MOST = 400
HIGHEST_NUMBER = 9999
# What "side" may say, and the sides of the members that each number then gets.
SIDES = {"C": ("C",), "P": ("P",), "S": ("S",), "B": ("B",), "pair": ("P", "S")}


@dataclass(frozen=True)
class Run:
    """Members of one kind, numbered `first` to `last`, one at each number or a pair.

    Stations follow the numbers unless `station_first` says otherwise; they then go on by
    `station_spacing` (1 if neither is given) or run evenly to `station_last`. `moulded_mm` is
    amidships, the middle of the run; `moulded_ends_mm`, if given, at its first and last member.
    All sizes in mm; `rounded_to_mm` is the step to which sizes in between are rounded.
    """

    kind: str
    first: int
    last: int
    side: str = "C"
    station_first: float | None = None
    station_last: float | None = None
    station_spacing: float | None = None
    sided_mm: float | None = None
    moulded_mm: float | None = None
    moulded_ends_mm: float | None = None
    length_mm: float | None = None
    rounded_to_mm: float = 1.0


@dataclass(frozen=True)
class PlannedMember:
    """One member to be made: its mark, number, side, station and sizes in mm."""

    mark: str
    number: int
    side: str
    station: float
    sided_mm: float | None
    moulded_mm: float | None
    length_mm: float | None


def usual_side(kind: str) -> str:
    """Where members of this kind usually lie, by the member table: ``C``, ``B`` or ``pair``."""
    side = member_kind(kind).side
    if side.startswith("port+starboard"):
        return "pair"
    return "B" if side.startswith("spanning") else "C"


def lay_out(run: Run) -> list[PlannedMember]:
    """Every member of the run in order, port before starboard.

    Raises ValueError, with a sentence to show, for a kind or side that is not known, a run that
    goes backwards or makes more than 400 members, a size of nothing, and stations said twice.
    """
    _check(run)
    count = run.last - run.first + 1
    stations = _stations(run, count)
    moulded = [_moulded_mm(run, place, count) for place in range(count)]
    return [
        PlannedMember(
            mark=mark_of(run.kind, run.first + place, side),
            number=run.first + place,
            side=side,
            station=stations[place],
            sided_mm=run.sided_mm,
            moulded_mm=moulded[place],
            length_mm=run.length_mm,
        )
        for place in range(count)
        for side in SIDES[run.side]
    ]


def _check(run: Run) -> None:
    if run.side not in SIDES:
        raise ValueError(f"“{run.side}” is no side that members can lie on.")
    if not 0 <= run.first <= run.last <= HIGHEST_NUMBER:
        raise ValueError(
            f"Numbers run upwards from the first to the last, between 0 and {HIGHEST_NUMBER}; "
            f"{run.first} to {run.last} does not."
        )
    count = (run.last - run.first + 1) * len(SIDES[run.side])
    if count > MOST:
        raise ValueError(
            f"At most {MOST} members are made at once; this would make {count}. "
            "Make them in several steps."
        )
    _check_sizes(run)
    _check_stations(run)


def _check_sizes(run: Run) -> None:
    sizes = {
        "sided size": run.sided_mm,
        "moulded size": run.moulded_mm,
        "moulded size at the ends": run.moulded_ends_mm,
        "length": run.length_mm,
        "step to round to": run.rounded_to_mm,
    }
    for name, size in sizes.items():
        if size is not None:
            above_zero(size, name)
    if run.moulded_ends_mm is not None and run.moulded_mm is None:
        raise ValueError("Give the moulded size amidships too, not only at the ends.")


def _check_stations(run: Run) -> None:
    for station in (run.station_first, run.station_last, run.station_spacing):
        if station is not None:
            finite(station, "station")
    if run.station_last is not None and run.station_spacing is not None:
        raise ValueError("Give the last station or the spacing of stations, not both.")
    if run.station_spacing == 0:
        raise ValueError("A spacing of 0 would put every member at one station.")
    if run.first == run.last and run.station_last not in (None, _first_station(run)):
        raise ValueError("One member lies at one station: first and last station are the same.")


def _first_station(run: Run) -> float:
    return float(run.first) if run.station_first is None else run.station_first


def _stations(run: Run, count: int) -> list[float]:
    start = _first_station(run)
    if run.station_last is None or count == 1:
        step = 1.0 if run.station_spacing is None else run.station_spacing
        return [round(start + place * step, 3) for place in range(count)]
    reach = run.station_last - start
    return [round(start + reach * place / (count - 1), 3) for place in range(count)]


def _moulded_mm(run: Run, place: int, count: int) -> float | None:
    """Moulded at a place in the run: full at the middle one (or two), at the ends as given."""
    if run.moulded_mm is None or run.moulded_ends_mm is None:
        return run.moulded_mm
    full = 0.0 if count % 2 else 0.5
    middle = (count - 1) / 2
    if middle <= full:
        return run.moulded_mm
    out = (abs(place - middle) - full) / (middle - full)
    if out in (0.0, 1.0):
        return run.moulded_ends_mm if out else run.moulded_mm
    between = run.moulded_mm + (run.moulded_ends_mm - run.moulded_mm) * out
    return max(round(between / run.rounded_to_mm), 1) * run.rounded_to_mm
