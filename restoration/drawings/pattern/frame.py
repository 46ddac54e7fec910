"""Where each point of a pattern lies on the paper."""

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.pattern import Pattern, Point

SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30, 32, 40, 48, 50, 60, 80, 100, 150)


@dataclass(frozen=True)
class Frame:
    """A pattern at a scale of 1 to `scale`, its box so far in from the paper's left and top edge.

    `mirrored` turns the pattern over about its own x, for the other side.
    """

    pattern: Pattern
    scale: float
    in_left: float
    in_top: float
    mirrored: bool = False

    @property
    def box_mm(self) -> tuple[float, float, float, float]:
        """Left, low, right, high of the pattern as it lies, its lines included."""
        points = [*self.pattern.outline_mm, *(p for x in self.pattern.lines for p in x.points_mm)]
        xs, ys = [x for x, _ in points], [self._up(y) for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def wide(self) -> float:
        left, _, right, _ = self.box_mm
        return (right - left) / self.scale

    @property
    def tall(self) -> float:
        _, low, _, high = self.box_mm
        return (high - low) / self.scale

    @property
    def grain_deg(self) -> float:
        return -self.pattern.grain_deg if self.mirrored else self.pattern.grain_deg

    def to(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """On the paper: y runs down."""
        left, _, _, high = self.box_mm
        return tuple(
            (
                self.in_left + (x - left) / self.scale,
                self.in_top + (high - self._up(y)) / self.scale,
            )
            for x, y in points
        )

    def _up(self, y: float) -> float:
        return -y if self.mirrored else y


def scale_for(long_mm: float, broad_mm: float, wide: float, tall: float) -> int:
    """The largest scale at which it goes into a space on the paper."""
    fits = (s for s in SCALES if long_mm / s <= wide and broad_mm / s <= tall)
    return next(fits, SCALES[-1] * max(1, round(long_mm / SCALES[-1] / wide + 0.5)))
