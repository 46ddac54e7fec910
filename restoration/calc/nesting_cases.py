"""Faces and pieces of our own invention to measure the laying out on: lopsided on purpose."""

import math
from dataclasses import dataclass, replace

from restoration.calc.nesting_pieces import Piece, centred, copies, rectangle
from restoration.calc.nesting_search import Request
from restoration.calc.nesting_sheet import Defect, Sheet, Station, box, oval, tapered


@dataclass(frozen=True)
class Case:
    """`curved` where the pieces are floors and knees: there the most is to be gained."""

    name: str
    request: Request
    curved: bool


def floor(key: str, long: float, rise: float, throat: float, arm: float, turn: float = 8) -> Piece:
    """A floor timber: its underside hollow, deep at the throat, tapering to the arms."""
    at = [n / 12 - 1 for n in range(25)]
    under = [(x * long / 2, rise * x * x) for x in at]
    over = [(x * long / 2, rise * x * x + throat + (arm - throat) * abs(x)) for x in reversed(at)]
    return Piece(key, f"floor {key}", centred(under + over), 60, turn_deg=turn)


def knee(key: str, reach: float, climb: float, arm: float, turn: float = 20) -> Piece:
    """A knee: two arms square to each other, the inside swept to a round throat."""
    sweep = [
        (
            arm + (reach - arm) * 0.55 * (1 - math.sin(t)),
            arm + (climb - arm) * 0.55 * (1 - math.cos(t)),
        )
        for t in (n * math.pi / 16 for n in range(9))
    ]
    corners = [
        (0, 0),
        (reach, 0),
        (reach, arm * 0.7),
        *sweep,
        (arm * 0.7, climb),
        (0, climb),
    ]
    angle = math.atan2(climb, reach)
    laid = [
        (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle))
        for x, y in corners
    ]
    return Piece(key, f"knee {key}", centred(laid), 55, turn_deg=turn)


def stem_foot(key: str) -> Piece:
    corners = [
        (0, 0), (420, 8), (700, 60), (930, 175), (1040, 330), (905, 352), (800, 245), (640, 185),
        (380, 165), (0, 170),
    ]  # fmt: skip
    return Piece(key, "stem foot", centred(corners), 70, turn_deg=6)


KNOT = Defect("knot", oval(1130, -40, 60, 45), 10)
SHAKE = Defect("shake", box(2500, 95, 620, 14), 6)
ROT = Defect("rot", oval(640, 150, 170, 90), 15)
PLAIN = Sheet(3600, 80, tapered(3600, 430, 430))
TAPER = Sheet(
    4100, 80, tapered(4100, 520, 390), butt_check_mm=140, top_check_mm=65,
    sapwood_right_mm=28, sapwood_left_mm=22, defects=(KNOT, SHAKE, ROT),
)  # fmt: skip
NATURAL = Sheet(
    3300, 75,
    (Station(0, 260, 190), Station(800, 235, 180), Station(1500, 190, 215),
     Station(2300, 150, 250), Station(3300, 95, 275)),
    butt_check_mm=90, sapwood_right_mm=25, sapwood_left_mm=25,
    defects=(Defect("knot", oval(1720, 60, 80, 70), 12),),
)  # fmt: skip
NARROW = Sheet(2750, 65, tapered(2750, 205, 190), butt_check_mm=70, top_check_mm=40)


def cases() -> tuple[Case, ...]:
    """Every case, in the order in which they are told."""
    return (
        Case("curved floors, parallel board", _request(PLAIN, _floors(9)), True),
        Case("curved floors, tapered flitch with defects", _request(TAPER, _floors(9)), True),
        Case("knees, parallel board", _request(PLAIN, _knees(12)), True),
        Case("knees, tapered flitch with defects", _request(TAPER, _knees(12)), True),
        Case("floors and knees, natural edge", _request(NATURAL, _floors(4) + _knees(5)), True),
        Case("stem foot, floors and a plank", _request(TAPER, _mixed()), False),
        Case("straight pieces, tapered flitch", _request(TAPER, _straight()), False),
        Case("straight pieces, narrow board", _request(NARROW, _narrow(), 4), False),
        Case("one straight piece as wide as the board", _request(PLAIN, _tight()), False),
    )


def _request(sheet: Sheet, pieces: tuple[Piece, ...], gap: float = 6) -> Request:
    return Request(sheet, pieces, gap)


def _floors(count: int) -> tuple[Piece, ...]:
    sizes = [(1180, 210, 150, 85), (1060, 235, 145, 80), (900, 190, 130, 75)]
    made = [floor(f"F{n + 1}", *sizes[n % 3]) for n in range(count)]
    return tuple(made)


def _knees(count: int) -> tuple[Piece, ...]:
    sizes = [(460, 380, 110), (400, 400, 95), (340, 300, 90)]
    return tuple(knee(f"K{n + 1}", *sizes[n % 3]) for n in range(count))


def _mixed() -> tuple[Piece, ...]:
    plank = replace(rectangle("P", "plank", long_mm=1650, wide_mm=120, sided_mm=32), turn_deg=3)
    return (stem_foot("S"), *_floors(3), *copies(plank, 2))


def _straight() -> tuple[Piece, ...]:
    sizes = [(1400, 140), (1150, 110), (960, 95), (700, 150), (520, 80)]
    return tuple(
        replace(made, key=f"{made.key}{turn}")
        for turn in "ab"
        for n, (long, wide) in enumerate(sizes, 1)
        for made in (rectangle(f"B{n}", f"bearer {n}", long_mm=long, wide_mm=wide, sided_mm=60),)
    )


def _narrow() -> tuple[Piece, ...]:
    sizes = [(1300, 90), (1240, 90), (800, 95), (640, 60), (600, 60)]
    return tuple(
        rectangle(f"N{n}", f"cleat {n}", long_mm=long, wide_mm=wide, sided_mm=45)
        for n, (long, wide) in enumerate(sizes, 1)
    )


def _tight() -> tuple[Piece, ...]:
    return (rectangle("W", "wide piece", long_mm=3600, wide_mm=430, sided_mm=80),)
