"""The end of a log: its outline, its pith, and what may be cut inside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from timber_stock.wood.checked import finite, positive
from timber_stock.wood.outline import Outline, Point, as_complex, corners_of


@dataclass(frozen=True)
class LogEnd:
    """An elliptical log end, under bark, centred on x = y = 0; all lengths in mm.

    Raises ValueError for a diameter that is not above nought, a pith outside the log, or sapwood
    that leaves no heartwood.
    """

    diameter_x_mm: float
    diameter_y_mm: float
    pith_mm: Point = (0.0, 0.0)
    sapwood_mm: float = 0.0

    def __post_init__(self) -> None:
        least = min(
            positive(self.diameter_x_mm, "The diameter of the log in mm"),
            positive(self.diameter_y_mm, "The diameter of the log in mm"),
        )
        sapwood = finite(self.sapwood_mm, "The sapwood in mm")
        if not 0 <= sapwood < least / 2:
            raise ValueError(
                f"The sapwood is {sapwood:g} mm; it must lie between 0 and {least / 2:g} mm, "
                "half the least diameter."
            )
        pith = as_complex(self.pith_mm, "The pith")
        if self._reach(pith, 0.0) >= 1:
            raise ValueError(
                f"The pith is given at ({pith.real:g}, {pith.imag:g}) mm, outside a log of "
                f"{self.diameter_x_mm:g} by {self.diameter_y_mm:g} mm: measure it from the centre."
            )

    def _reach(self, point: complex, rind_mm: float) -> float:
        """1 on the outline less the rind, below 1 inside it, above 1 outside."""
        half_x, half_y = self.diameter_x_mm / 2 - rind_mm, self.diameter_y_mm / 2 - rind_mm
        return float(np.hypot(point.real / half_x, point.imag / half_y))

    def holds(self, outline_mm: Outline) -> bool:
        """Whether the whole section lies inside the log, under bark (a billionth is forgiven)."""
        return all(self._reach(c, 0.0) <= 1 + 1e-9 for c in corners_of(outline_mm).tolist())

    def clear_of_sapwood(self, outline_mm: Outline) -> bool:
        """Whether the whole section lies in the heartwood."""
        corners = corners_of(outline_mm).tolist()
        return all(self._reach(c, self.sapwood_mm) <= 1 + 1e-9 for c in corners)

    def require(self, outline_mm: Outline) -> None:
        """Raise ValueError saying which corner of the section stands outside the log, if any."""
        for number, corner in enumerate(corners_of(outline_mm).tolist(), start=1):
            if self._reach(corner, 0.0) > 1 + 1e-9:
                raise ValueError(
                    f"The section does not fit the log: its corner {number} at ({corner.real:g}, "
                    f"{corner.imag:g}) mm lies outside an end of {self.diameter_x_mm:g} by "
                    f"{self.diameter_y_mm:g} mm."
                )
