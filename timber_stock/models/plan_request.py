"""A log and the timbers wanted of it, written as a sawing request (see `sawing.read_request`).

The request's frame: X towards 3 o'clock and Y towards 12 as one faces the butt; z from the butt as
it will be once its end checks are trimmed off. A heart at the top, which a person reads facing the
top, is mirrored into that frame (`Log.top_heart_mm`).

Sweep. A request knows only straight logs, so a swept one is written as the straight log that lies
wholly inside it: its centre line half the sweep over towards the bow, both diameters less by the
sweep (times the ovalness of the end, so that it holds for an oval too). The heart then runs within
half the sweep of its straight line, and so does rot: that much is added to every heart clearance
and to every hole. Knots keep their places; they are off by as much.
"""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw, Wanted

from .cutting_list import CuttingItem
from .log import Log
from .log_defect import Defect, LogDefect


def request_for(log: Log, items: Iterable[CuttingItem], saw: Saw) -> dict[str, Any]:
    """The request as plain data, ready for JSON; each timber's id is its mark on the list."""
    return {
        "log": log_as_asked(log),
        "saw": asdict(saw),
        "wanted": [timber_as_asked(item, log.sweep_mm / 2) for item in items],
    }


def log_as_asked(log: Log) -> dict[str, Any]:
    """The log between its trims, as the straight log that lies inside it."""
    length_mm = log.length_mm - log.butt_trim_mm - log.top_trim_mm
    ends = {"butt": log.butt_trim_mm, "top": log.length_mm - log.top_trim_mm}
    asked: dict[str, Any] = {"length_mm": length_mm, "sapwood_mm": log.sapwood_mm or 0.0}
    for end, at_mm in ends.items():
        asked[f"{end}_diameter_mm"] = _straight_across(log, at_mm)
        asked[f"{end}_pith_mm"] = list(
            _between(log, log.butt_heart_mm(), log.top_heart_mm(), at_mm)
        )
    defects = list(log.defects.all()) if log.pk else []
    knots = [_knot(log, d, length_mm) for d in defects if d.kind == Defect.KNOT]
    holes = [_hole(log, d, length_mm) for d in defects if d.kind != Defect.KNOT]
    asked["knots"] = [knot for knot in knots if knot]
    asked["rot"] = [hole for hole in holes if hole]
    return asked


def timber_as_asked(item: CuttingItem, heart_room_mm: float = 0.0) -> dict[str, Any]:
    """One line of the list; `heart_room_mm` is added where a clearance is asked at all."""
    clearance = item.heart_clearance_mm
    return {
        "id": item.label,
        "thickness_mm": item.thickness_mm,
        "width_mm": item.width_mm,
        "length_mm": item.length_mm,
        "quantity": item.quantity,
        "worth": item.worth,
        "heart_clearance_mm": None if clearance is None else clearance + heart_room_mm,
        "rings": item.rings() or None,
        "sapwood_allowed": item.sapwood_allowed,
        "knot_free": item.knot_free,
    }


USUAL_SAW = Saw(kerf_mm=3.0, crosscut_kerf_mm=9.0)


def timbers_asked(items: Iterable[CuttingItem], saw: Saw = USUAL_SAW) -> tuple[Wanted, ...]:
    """The lines as the planner reads them, checked as it checks them, of a log as large as need be.

    The usual kerfs (3 mm is usual for a wide band saw, from memory) serve where none is known and
    nothing is sawn.
    """
    asked = parse_request(
        {
            "log": {
                "length_mm": 1e5, "butt_diameter_mm": [9e5, 9e5], "top_diameter_mm": [9e5, 9e5],
                "butt_pith_mm": [0, 0], "top_pith_mm": [0, 0],
            },
            "saw": asdict(saw),
            "wanted": [timber_as_asked(item) for item in items],
        }
    )  # fmt: skip
    return asked.wanted


def _between(
    log: Log, butt: tuple[float, float], top: tuple[float, float], at_mm: float
) -> tuple[float, float]:
    share = at_mm / log.length_mm
    return butt[0] + (top[0] - butt[0]) * share, butt[1] + (top[1] - butt[1]) * share


def _straight_across(log: Log, at_mm: float) -> list[float]:
    """Both diameters at one place, of the straight log inside a swept one."""
    butt, top = log.across("butt"), log.across("top")
    ovalness = max(max(end) / min(end) for end in (butt, top))
    across = [d - log.sweep_mm * ovalness for d in _between(log, butt, top, at_mm)]
    if min(across) <= 0:
        raise ValueError(
            f"{log.tag} bows by {log.sweep_mm:g} mm, as much as it is thick: no straight timber "
            "lies in its whole length. Enter it as two shorter logs."
        )
    return across


def _knot(log: Log, knot: LogDefect, length_mm: float) -> dict[str, float] | None:
    """A knot; one in the trimmed end counts at the cut when its cone reaches over it."""
    at_mm = knot.from_butt_mm - log.butt_trim_mm
    beyond_mm = max(0.0, -at_mm, at_mm - length_mm)
    if beyond_mm and beyond_mm >= knot.radius_mm():
        return None
    return {
        "from_butt_mm": min(max(at_mm, 0.0), length_mm),
        "clock_deg": (90 - 30 * (knot.clock or 12)) % 360,
        "half_angle_deg": min(knot.half_angle_deg(), 80.0),
    }


def _hole(log: Log, defect: LogDefect, length_mm: float) -> dict[str, float] | None:
    first = max(0.0, defect.from_butt_mm - log.butt_trim_mm)
    last = min(length_mm, defect.end_mm() - log.butt_trim_mm)
    if last <= first:
        return None
    x_mm, y_mm = defect.centre_mm()
    return {
        "x_mm": x_mm,
        "y_mm": y_mm,
        "radius_mm": defect.radius_mm() + log.sweep_mm / 2,
        "from_mm": first,
        "to_mm": last,
    }
