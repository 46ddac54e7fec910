"""A face as plain lists and numbers, to be kept as JSON, and read back from them."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from restoration.calc.nesting_sheet import Defect, Sheet, Station, checked_sheet


def sheet_to_data(sheet: Sheet) -> dict[str, Any]:
    """The face as `sheet_from_data` reads it."""
    return asdict(sheet)


def sheet_from_data(data: dict[str, Any]) -> Sheet:
    """A face kept by `sheet_to_data`; ValueError where it is no such thing, or one refused."""
    try:
        told = dict(data)
        stations = tuple(Station(**station) for station in told.pop("stations"))
        defects = tuple(
            Defect(
                str(defect["kind"]),
                tuple((float(x), float(y)) for x, y in defect["points_mm"]),
                float(defect["clearance_mm"]),
            )
            for defect in told.pop("defects")
        )
        sheet = Sheet(stations=stations, defects=defects, **told)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise ValueError("What was kept is not the face of a board: enter it again.") from error
    return checked_sheet(sheet)
