"""Read a sawing request from JSON or a mapping, refusing every fault with one plain sentence."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from timber_stock.sawing.request import Knot, Log, Request, Rings, Rot, Saw, Settings, Wanted

MOST_LINES = 1000  # lines on one cutting list
MOST_DEFECTS = 64
MOST_PARTS = 8  # that must be free of knots, in one timber
MOST_TIMBERS = 5000  # pieces wanted in all; a log holds a few dozen


def read_request(text: str) -> Request:
    """Parse the JSON text of a request; ValueError with one sentence for anything wrong in it."""
    try:
        found = json.loads(text, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        raise ValueError(
            f"The request is not JSON: {error.msg} at line {error.lineno}, column {error.colno}."
        ) from None
    except RecursionError:
        raise ValueError("The request is not a sawing request: it is nested too deep.") from None
    return parse_request(found)


def parse_request(found: object) -> Request:
    """A request from a mapping; ValueError with one sentence for anything wrong in it."""
    request = _mapping(found, "The request")
    saw = _mapping(request.get("saw"), "The saw")
    lines = _list(request.get("wanted"), "The list of wanted timbers")
    if len(lines) > MOST_LINES:
        raise ValueError(
            f"The cutting list has {len(lines)} lines; one log is planned for at most {MOST_LINES}."
        )
    wanted = tuple(_wanted(line, i + 1) for i, line in enumerate(lines))
    _check_list(wanted)
    return Request(
        log=_log(_mapping(request.get("log"), "The log")),
        saw=Saw(_kerf(saw, "kerf_mm"), _kerf(saw, "crosscut_kerf_mm")),
        wanted=wanted,
        settings=_settings(request.get("settings")),
    )


def _no_constant(name: str) -> float:
    raise ValueError(f"The request holds {name}, which is not a number that can be measured.")


def _mapping(found: object, what: str) -> Mapping[str, Any]:
    if not isinstance(found, Mapping):
        raise ValueError(f"{what} is missing or is not a set of named values.")
    return found


def _list(found: object, what: str) -> list[Any]:
    if not isinstance(found, list | tuple):
        raise ValueError(f"{what} is missing or is not a list.")
    return list(found)


def _number(
    found: Mapping[str, Any],
    key: str,
    what: str,
    least: float = -math.inf,
    most: float = math.inf,
) -> float:
    return _as_number(found.get(key), f"{what}: {key}", least, most)


def _as_number(value: object, name: str, least: float = -math.inf, most: float = math.inf) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"{name} must be a number, not {str(value)[:40]!r}.")
    try:
        number = float(value)
    except OverflowError:
        raise ValueError(f"{name} is too large to be a measurement.") from None
    if not math.isfinite(number):
        raise ValueError(f"{name} is not a number that can be measured.")
    if not least <= number <= most:
        span = f"{least:g} or more" if most == math.inf else f"between {least:g} and {most:g}"
        raise ValueError(f"{name} is {number:g}; it must be {span}.")
    return number


def _pair(found: Mapping[str, Any], key: str, least: float = -math.inf) -> tuple[float, float]:
    values = _list(found.get(key), f"The log: {key}")
    if len(values) != 2:
        raise ValueError(f"The log: {key} must be two numbers, one for X and one for Y.")
    first, second = (_as_number(v, f"The log: {key}", least, 1e6) for v in values)
    return first, second


def _kerf(saw: Mapping[str, Any], key: str) -> float:
    kerf = _number(saw, key, "The saw", most=100)
    if kerf <= 0:
        raise ValueError(
            f"The saw: {key} is {kerf:g}; every saw takes some wood, so give the width of its cut."
        )
    return kerf


def _log(found: Mapping[str, Any]) -> Log:
    log = Log(
        length_mm=_number(found, "length_mm", "The log", 1, 1e5),
        butt_diameter_mm=_pair(found, "butt_diameter_mm", 1),
        top_diameter_mm=_pair(found, "top_diameter_mm", 1),
        butt_pith_mm=_pair(found, "butt_pith_mm"),
        top_pith_mm=_pair(found, "top_pith_mm"),
        sapwood_mm=_number({"sapwood_mm": 0, **found}, "sapwood_mm", "The log", 0, 1e5),
        knots=tuple(_knot(k) for k in _list(found.get("knots", []), "The log's list of knots")),
        rot=tuple(_rot(r) for r in _list(found.get("rot", []), "The log's list of rot")),
    )
    if max(len(log.knots), len(log.rot)) > MOST_DEFECTS:
        raise ValueError(
            f"The log has more than {MOST_DEFECTS} knots or places of rot; give only those that "
            "decide where timbers may lie."
        )
    _pith_inside("butt", log.butt_pith_mm, log.butt_diameter_mm)
    _pith_inside("top", log.top_pith_mm, log.top_diameter_mm)
    for knot in log.knots:
        if knot.from_butt_mm > log.length_mm:
            raise ValueError(
                f"A knot is {knot.from_butt_mm:g} mm from the butt of a log only "
                f"{log.length_mm:g} mm long."
            )
    return log


def _pith_inside(end: str, pith: tuple[float, float], diameter: tuple[float, float]) -> None:
    if math.hypot(2 * pith[0] / diameter[0], 2 * pith[1] / diameter[1]) >= 1:
        raise ValueError(
            f"The pith at the {end} ({pith[0]:g}, {pith[1]:g}) lies outside the log, which is "
            f"{diameter[0]:g} by {diameter[1]:g} mm there; measure it from the middle of the end."
        )


def _knot(found: object) -> Knot:
    knot = _mapping(found, "A knot")
    return Knot(
        from_butt_mm=_number(knot, "from_butt_mm", "A knot", 0),
        clock_deg=_number(knot, "clock_deg", "A knot", -720, 720),
        half_angle_deg=_number(knot, "half_angle_deg", "A knot", 0.01, 80),
    )


def _rot(found: object) -> Rot:
    rot = _mapping(found, "A place of rot")
    place = Rot(
        x_mm=_number(rot, "x_mm", "Rot"),
        y_mm=_number(rot, "y_mm", "Rot"),
        radius_mm=_number(rot, "radius_mm", "Rot", 0),
        from_mm=_number(rot, "from_mm", "Rot"),
        to_mm=_number(rot, "to_mm", "Rot"),
    )
    if place.to_mm < place.from_mm:
        raise ValueError(
            f"Rot runs from {place.from_mm:g} to {place.to_mm:g} mm; give the lesser first."
        )
    return place


def _wanted(found: object, line: int) -> Wanted:
    row = _mapping(found, f"Line {line} of the cutting list")
    name = row.get("id")
    if not isinstance(name, str) or not name.strip():
        raise ValueError(f"Line {line} of the cutting list has no id.")
    clearance = row.get("heart_clearance_mm")
    allowed = row.get("sapwood_allowed", False)
    if not isinstance(allowed, bool):
        raise ValueError(f"{name}: sapwood_allowed must be true or false.")
    timber = Wanted(
        id=name,
        thickness_mm=_number(row, "thickness_mm", name, 1, 1e5),
        width_mm=_number(row, "width_mm", name, 1, 1e5),
        length_mm=_number(row, "length_mm", name, 1, 1e5),
        quantity=_quantity(row.get("quantity"), name),
        worth=_number(row, "worth", name, 0, 1e9),
        heart_clearance_mm=None
        if clearance is None
        else _as_number(clearance, f"{name}: heart_clearance_mm", 0),
        rings=_rings(row.get("rings"), name),
        sapwood_allowed=allowed,
        knot_free=tuple(
            _part(p, name) for p in _list(row.get("knot_free", []), f"{name}: knot_free")
        ),
    )
    if len(timber.knot_free) > MOST_PARTS:
        raise ValueError(f"{name}: knot_free has more than {MOST_PARTS} parts.")
    if timber.thickness_mm > timber.width_mm:
        raise ValueError(
            f"{name}: the thickness, {timber.thickness_mm:g} mm, is more than the width, "
            f"{timber.width_mm:g} mm; give the lesser as the thickness."
        )
    return timber


def _quantity(value: object, name: str) -> int:
    number = _as_number(value, f"{name}: quantity", 0)
    if number != int(number):
        raise ValueError(f"{name}: quantity is {number:g}; it must be a whole number.")
    return int(number)


def _rings(found: object, name: str) -> Rings:
    if found is None:
        return Rings()
    given = _mapping(found, f"{name}: rings")
    keys = ("mean_min_deg", "worst_min_deg", "mean_max_deg", "worst_max_deg")
    limits = {
        key: _number(given, key, f"{name}: rings", 0, 90)
        for key in keys
        if given.get(key) is not None
    }
    return Rings(**limits)


def _part(found: object, name: str) -> tuple[float, float]:
    ends = _list(found, f"{name}: knot_free")
    if len(ends) != 2:
        raise ValueError(f"{name}: each part of knot_free is two fractions, from and to.")
    first, last = (_as_number(end, f"{name}: knot_free", 0, 1) for end in ends)
    if last < first:
        raise ValueError(
            f"{name}: knot_free runs from {first:g} to {last:g}; give the lesser first."
        )
    return first, last


def _check_list(wanted: tuple[Wanted, ...]) -> None:
    seen: set[str] = set()
    for timber in wanted:
        if timber.id in seen:
            raise ValueError(f"Two lines of the cutting list have the same id, {timber.id!r}.")
        seen.add(timber.id)
    total = sum(timber.quantity for timber in wanted)
    if total > MOST_TIMBERS:
        raise ValueError(
            f"The cutting list asks for {total} timbers; one log is planned for at most "
            f"{MOST_TIMBERS}."
        )


def _settings(found: object) -> Settings:
    if found is None:
        return Settings()
    given = _mapping(found, "The settings")
    most = given.get("most_turns")
    quartered = given.get("quartered", False)
    if not isinstance(quartered, bool):
        raise ValueError("The settings: quartered must be true or false.")
    defaults = {"margin_mm": 0.0, "margin_deg": 0.0, "turn_cost_mm3": 0.0, **given}
    return Settings(
        margin_mm=_number(defaults, "margin_mm", "The settings", 0, 1e3),
        margin_deg=_number(defaults, "margin_deg", "The settings", 0, 45),
        turn_cost_mm3=_number(defaults, "turn_cost_mm3", "The settings", 0),
        most_turns=None
        if most is None
        else int(_as_number(most, "The settings: most_turns", 1, 99)),
        quartered=quartered,
    )
