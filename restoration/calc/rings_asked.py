"""The ring direction of a replacement as limits of the ring angle to the wide face, for the saw."""

from __future__ import annotations

from restoration.calc.checks import above_zero
from restoration.calc.sawn_green import usual_face
from timber_stock.wood.ring_limits import FLAT, QUARTER, RIFT, RingLimits


def mean_limits_deg(
    rings: str, face: str, sided_mm: float, moulded_mm: float, limits: RingLimits
) -> tuple[float | None, float | None]:
    """Least and greatest mean ring angle to the wide face, degrees; None where there is no limit.

    rings: any, quarter, rift or flat; face: sided, moulded or empty for the wide one, on which the
    direction is judged by `limits`. Judged on the narrow face the angle is turned by a right angle
    (90 - angle), which holds for straight rings. ValueError for a direction that is none.
    """
    above_zero(sided_mm, "sided size in mm")
    above_zero(moulded_mm, "moulded size in mm")
    ranges: dict[str, tuple[float | None, float | None]] = {
        "any": (None, None),
        QUARTER: (limits.quarter_from_deg, None),
        RIFT: (limits.flat_below_deg, limits.quarter_from_deg),
        FLAT: (None, limits.flat_below_deg),
    }
    if rings not in ranges:
        raise ValueError(f"{rings!r} is no ring direction.")
    least, most = ranges[rings]
    if not face or sided_mm == moulded_mm or face == usual_face(sided_mm, moulded_mm):
        return least, most
    return (
        None if most is None else 90.0 - most,
        None if least is None else 90.0 - least,
    )
