"""The face two timbers of a joint share, and the holes on it.

Frame: x in mm from the face's start along its length, y from its left edge across it, as drawn
with the length running down the sheet and seen from the head's side.
"""

from __future__ import annotations

from dataclasses import dataclass

from restoration.calc.checks import above_zero

LONGEST_FACE_MM = 15_000.0
SIDES = ("start", "finish", "left", "right")


@dataclass(frozen=True)
class Face:
    """The face the two timbers share, mm."""

    length_mm: float
    width_mm: float

    def __post_init__(self) -> None:
        for size, name in ((self.length_mm, "length"), (self.width_mm, "width")):
            if above_zero(size, f"{name} of the face") > LONGEST_FACE_MM:
                raise ValueError(f"A face of {size / 1000:g} m is larger than any joint.")

    def away_mm(self, hole: Hole) -> dict[str, float]:
        """How far the middle of a hole lies from each side."""
        x, y = hole.x_mm, hole.y_mm
        return dict(zip(SIDES, (x, self.length_mm - x, y, self.width_mm - y), strict=True))


@dataclass(frozen=True)
class Hole:
    """One hole, by the number it bears on the drawing."""

    number: int
    x_mm: float
    y_mm: float
    kind: str
    diameter_mm: float
    bearing_mm: float
