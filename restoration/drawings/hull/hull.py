"""A hull and her pieces together: what the shape of one member must know of the others."""

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.lines import Lines
from restoration.drawings.hull.grid import Grid, grid_of
from restoration.drawings.hull.pieces import Placed

# Sizes to draw by where nobody has entered one, mm: assumptions of our own, for the drawing only.
DRAWN_SIDED = {
    "frame": 40, "frame_steamed": 32, "frame_sawn": 60, "frame_laminated": 40, "floor_timber": 55,
    "deck_beam": 50, "keel_bolt": 24, "bulkhead": 25, "hanging_knee": 45, "transom": 40,
}  # fmt: skip
DRAWN_MOULDED = {
    "keel": 180, "stem": 150, "stem_foot": 170, "apron": 90, "horn_timber": 130, "stern_post": 160,
    "deadwood": 200, "floor_timber": 130, "keelson": 150, "hog": 60, "false_keel": 60,
    "worm_shoe": 30, "deck_beam": 65, "hanging_knee": 180,
    "bilge_stringer": 60, "clamp": 80, "shelf": 50, "stem_knee": 150, "stern_knee": 160,
}  # fmt: skip
STRAKES = ("garboard", "broad_strake", "planking", "binder", "sheer_strake")
LEAST_BALLAST = 0.3
"""At its ends the ballast reaches so far from the outer edge towards the rabbet, or further."""


@dataclass(frozen=True)
class Hull:
    """Her grid; the least size at which a thing is still seen; levels of strakes by side."""

    grid: Grid
    least_mm: float
    levels: dict[str, dict[tuple[int, int], int]]
    ballast: tuple[float, float, float, float] | None
    keel_moulded_mm: float
    stem_moulded_mm: float

    def sided(self, placed: Placed) -> float:
        size = placed.piece.sided_mm or DRAWN_SIDED.get(placed.kind, 50)
        return max(size, self.least_mm)

    def moulded(self, placed: Placed) -> float:
        size = placed.piece.moulded_mm or DRAWN_MOULDED.get(placed.kind, 90)
        return max(size, self.least_mm)

    def keel_foot(self, at: float) -> float:
        """Underside of the wood keel: the outer edge, or the top of the ballast under it."""
        edge = self.grid.keel(at)
        if self.ballast is None:
            return edge
        start, low, end, high = self.ballast
        return max(edge, low + (high - low) * (at - start) / (end - start))

    def keel_top(self, at: float) -> float:
        return max(self.keel_foot(at) + self.keel_moulded_mm, self.grid.rabbet(at))

    def side(self, at: float, share: float) -> float:
        """Height a share of the way up the side, from the rabbet to the sheer."""
        top, foot = self.grid.sheer(at), self.grid.rabbet(at)
        return foot + (top - foot) * share

    def strake(self, placed: Placed) -> tuple[float, float]:
        """Between which shares of the side, from the rabbet up, a strake is drawn."""
        levels = self.levels.get(placed.side) or self.levels.get("P") or {(0, 0): 0}
        level = levels.get(_level(placed), 0)
        return level / len(levels), (level + 1) / len(levels)


def hull_of(lines: Lines, placed: Sequence[Placed], least_mm: float) -> Hull:
    grid = grid_of(lines)
    sides = {each.side for each in placed if each.kind in STRAKES}
    return Hull(
        grid=grid,
        least_mm=least_mm,
        levels={side: _levels(placed, side) for side in sides},
        ballast=_ballast(grid, placed),
        keel_moulded_mm=_moulded(placed, "keel"),
        stem_moulded_mm=_moulded(placed, "stem"),
    )


def _levels(placed: Sequence[Placed], side: str) -> dict[tuple[int, int], int]:
    """Strakes from the garboard up; planks of one number lie end to end in one strake."""
    found = {_level(each) for each in placed if each.kind in STRAKES and each.side == side}
    return {strake: level for level, strake in enumerate(sorted(found))}


def _level(placed: Placed) -> tuple[int, int]:
    number = placed.piece.number or 0
    return STRAKES.index(placed.kind), number if placed.kind == "planking" else 0


def _moulded(placed: Sequence[Placed], kind: str) -> float:
    sizes = (each.piece.moulded_mm for each in placed if each.kind == kind)
    return next((size for size in sizes if size), float(DRAWN_MOULDED[kind]))


def _ballast(grid: Grid, placed: Sequence[Placed]) -> tuple[float, float, float, float] | None:
    """The top of the ballast as a straight line: from where and how high, to where and how high.

    The keel that lies on it has about a quarter of its depth above the rabbet.
    """
    found = next((each for each in placed if each.kind == "ballast_keel"), None)
    if found is None or found.end_mm <= found.start_mm:
        return None
    under = 0.75 * _moulded(placed, "keel")

    def top(at: float) -> float:
        foot, rabbet = grid.keel(at), grid.rabbet(at)
        return max(rabbet - under, foot + LEAST_BALLAST * (rabbet - foot))

    return found.start_mm, top(found.start_mm), found.end_mm, top(found.end_mm)
