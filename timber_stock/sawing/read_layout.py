"""A layout to and from plain data, so that a plan kept or a page sent back can be judged again."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from timber_stock.sawing.layout import INFINITE, Bolt, Layout, Placed
from timber_stock.sawing.request import Request

MOST_BOLTS = 64
MOST_TIMBERS = 500
FURTHEST_MM = 1e6
OPEN = (-INFINITE, INFINITE, -INFINITE, INFINITE)


def layout_data(request: Request, layout: Layout) -> list[dict[str, Any]]:
    """What a plan's own list of bolts leaves unsaid beside what it says; a face that is still bark
    is None."""
    return [
        {
            "from_mm": bolt.from_mm,
            "to_mm": bolt.to_mm,
            "roll_deg": bolt.roll_deg,
            "roll_settled": bolt.roll_settled,
            "faces": [None if math.isinf(face) else face for face in bolt.faces],
            "timbers": [_timber_data(request, placed) for placed in bolt.timbers],
        }
        for bolt in layout
    ]


def _timber_data(request: Request, placed: Placed) -> dict[str, Any]:
    return {
        "id": request.wanted[placed.line].id,
        "x_mm": placed.x_mm,
        "y_mm": placed.y_mm,
        "from_mm": placed.from_mm,
        "wide_face": "x" if placed.wide_x else "y",
        "flipped": placed.flipped,
        "pinned": placed.pinned,
    }


def parse_layout(request: Request, found: object) -> Layout:
    """Bolts with their timbers; ValueError with one sentence for anything that is no layout."""
    bolts = _rows(found, "The layout", MOST_BOLTS)
    lines = {timber.id: line for line, timber in enumerate(request.wanted)}
    layout = tuple(_bolt(request, row, lines) for row in bolts)
    if sum(len(bolt.timbers) for bolt in layout) > MOST_TIMBERS:
        raise ValueError(f"A layout holds at most {MOST_TIMBERS} timbers.")
    return layout


def _rows(found: object, what: str, most: int) -> list[Mapping[str, Any]]:
    if not isinstance(found, list) or not all(isinstance(row, Mapping) for row in found):
        raise ValueError(f"{what} is missing or is not a list.")
    if len(found) > most:
        raise ValueError(f"{what} has {len(found)} rows; {most} are the most there can be.")
    return found


def _number(row: Mapping[str, Any], key: str, what: str) -> float:
    value = row.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"{what}: {key} must be a number.")
    if not abs(value) <= FURTHEST_MM:
        raise ValueError(f"{what}: {key} is not a number that can be measured.")
    return float(value)


def _bolt(request: Request, row: Mapping[str, Any], lines: Mapping[str, int]) -> Bolt:
    low, high = _number(row, "from_mm", "A bolt"), _number(row, "to_mm", "A bolt")
    if not -0.01 <= low < high <= request.log.length_mm + 0.01:
        raise ValueError(f"A bolt from {low:g} to {high:g} mm does not lie in the log.")
    timbers = _rows(row.get("timbers", []), "A bolt's list of timbers", MOST_TIMBERS)
    return Bolt(
        low,
        high,
        _number(row, "roll_deg", "A bolt"),
        tuple(_placed(timber, lines) for timber in timbers),
        _faces(row.get("faces")),
        bool(row.get("roll_settled", False)),
    )


def _faces(found: object) -> tuple[float, float, float, float]:
    if found is None:
        return OPEN
    if not isinstance(found, list) or len(found) != 4:
        raise ValueError("The faces of a bolt are four: x low, x high, y low, y high.")
    faces = [
        bark if face is None else _number({"face": face}, "face", "A bolt")
        for face, bark in zip(found, OPEN, strict=True)
    ]
    return faces[0], faces[1], faces[2], faces[3]


def _placed(row: Mapping[str, Any], lines: Mapping[str, int]) -> Placed:
    name = row.get("id")
    if not isinstance(name, str) or name not in lines:
        raise ValueError(f"{str(name)[:60]} is not on the cutting list of this plan.")
    return Placed(
        lines[name],
        _number(row, "x_mm", name),
        _number(row, "y_mm", name),
        _number(row, "from_mm", name),
        wide_x=row.get("wide_face") == "x",
        flipped=bool(row.get("flipped", False)),
        pinned=bool(row.get("pinned", False)),
    )
