"""The size to ask of the saw for one member, so that it finishes right where it will serve.

Each side is reckoned at the ring angle that shrinks it most while the piece still passes for the
direction asked, so that no piece that passes comes out small. Published form of the target size
in `timber_stock.wood.target_size`; what is taken from both ends of a class of ring angles is
ours (derived).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero
from timber_stock.wood.ring_limits import BOXED, FLAT, QUARTER, RIFT, RingLimits
from timber_stock.wood.section_sheet import pith_for_direction_mm
from timber_stock.wood.shrinkage import shrinkage_at_angle_percent
from timber_stock.wood.target_size import TargetSize, green_size_at, target_size

SIDED, MOULDED = "sided", "moulded"
UNDERSIZE_PERCENT = 5.0  # of the pieces may come small, where nothing else is said (ours)


@dataclass(frozen=True)
class Wanted:
    """A member's finished section at service moisture, and how its rings are to run.

    `directions` are those that are accepted (quarter, rift, flat, boxed heart); `face` is the face
    they are judged on: the one that measures the sided size, or the moulded.
    """

    sided_mm: float
    moulded_mm: float
    directions: tuple[str, ...]
    face: str

    def __post_init__(self) -> None:
        above_zero(self.sided_mm, "sided size in mm")
        above_zero(self.moulded_mm, "moulded size in mm")
        if self.face not in (SIDED, MOULDED):
            raise ValueError("The rings are judged on the sided face or on the moulded.")
        if not self.directions:
            raise ValueError("Say at least one ring direction that is accepted.")

    def across_mm(self, side: str) -> float:
        return self.sided_mm if side == SIDED else self.moulded_mm


@dataclass(frozen=True)
class Allowances:
    """What is added at the saw: planing in all, the saw's standard deviation, share left small."""

    planing_mm: float
    sawing_sd_mm: float
    undersize_percent: float


@dataclass(frozen=True)
class SawnSide:
    """One side: what it shrinks at most, at which ring angle to the judged face, and its sizes.

    `true_mm` is what cup and leaning take from a piece that is planed dry; `ask_mm` is the sum,
    rounded up to a mark of the rule. `work_to_mm` is the size when it goes in.
    """

    name: str
    shrinkage_percent: float
    at_deg: float
    size: TargetSize
    true_mm: float
    ask_mm: float
    work_to_mm: float

    @property
    def exact_mm(self) -> float:
        return self.size.target_mm + self.true_mm


def usual_face(sided_mm: float, moulded_mm: float) -> str:
    """The wide face, on which rings are judged when nothing else is said."""
    return SIDED if sided_mm > moulded_mm else MOULDED


def accepted_directions(rings: str, heart_may_be_in: bool) -> tuple[str, ...]:
    """Ring directions that meet a wish: any, quarter, rift or flat; boxed heart where it may be."""
    wished = (QUARTER, RIFT, FLAT) if rings == "any" else (rings,)
    return (*wished, BOXED) if heart_may_be_in else wished


def angles_of(direction: str, limits: RingLimits) -> tuple[float, float]:
    """The least and greatest ring angle that pass for a direction by one authority, degrees."""
    ranges = {
        QUARTER: (limits.quarter_from_deg, 90.0),
        RIFT: (limits.flat_below_deg, limits.quarter_from_deg),
        FLAT: (0.0, limits.flat_below_deg),
        BOXED: (0.0, 90.0),
    }
    if direction not in ranges:
        raise ValueError(f"{direction!r} is no ring direction.")
    return ranges[direction]


def sawn_side(
    wanted: Wanted,
    side: str,
    shrinkages: tuple[float, float],
    limits: RingLimits,
    allowances: Allowances,
    step_mm: float,
    planed_dry: bool = False,
    fitted_shrinkages: tuple[float, float] = (0.0, 0.0),
) -> SawnSide:
    """What to ask for along one side (sided or moulded), and what makes it up.

    shrinkages: radial and tangential, percent, green to service moisture. fitted_shrinkages: the
    same from green to the moisture at which the piece goes in; nought when it goes in green.
    step_mm: the mark the saw is set to; the sum is rounded up to it. planed_dry adds what the
    cupped and leaning section loses when it is planed true (`green_size_at`), where that is more
    than straight rings would have it. Raises ValueError as `target_size` does.
    """
    finished = wanted.across_mm(side)
    shrinks, angle = _most(wanted, side, shrinkages, limits)
    size = target_size(
        finished, shrinks, allowances.planing_mm, allowances.sawing_sd_mm,
        allowances.undersize_percent,
    )  # fmt: skip
    extra = _to_plane_true(wanted, side, shrinkages, allowances, size) if planed_dry else 0.0
    step = above_zero(step_mm, "mark the saw is set to, in mm,")
    before = shrinkage_at_angle_percent(*fitted_shrinkages, _line(wanted, side, angle))
    return SawnSide(
        name=side,
        shrinkage_percent=shrinks,
        at_deg=angle,
        size=size,
        true_mm=extra,
        ask_mm=math.ceil((size.target_mm + extra) / step - 1e-9) * step,
        work_to_mm=finished * (1.0 - before / 100.0) / (1.0 - shrinks / 100.0),
    )


def _most(
    wanted: Wanted, side: str, shrinkages: tuple[float, float], limits: RingLimits
) -> tuple[float, float]:
    """The greatest shrinkage along a side, and the ring angle to the judged face that gives it.

    Along a line it rises or falls steadily with the angle, so the ends of the range hold it.
    """
    angles = [angle for each in wanted.directions for angle in angles_of(each, limits)]
    return max(
        (shrinkage_at_angle_percent(*shrinkages, _line(wanted, side, angle)), angle)
        for angle in angles
    )


def _line(wanted: Wanted, side: str, angle_deg: float) -> float:
    """The angle between the rings and this side, from their angle to the judged face."""
    return angle_deg if side == wanted.face else 90.0 - angle_deg


def _to_plane_true(
    wanted: Wanted,
    side: str,
    shrinkages: tuple[float, float],
    allowances: Allowances,
    size: TargetSize,
) -> float:
    """More than straight rings give, for a section that cups and leans; a boxed heart is left out,
    for its check cannot be planed away."""
    other = MOULDED if wanted.face == SIDED else SIDED
    face, depth = wanted.across_mm(wanted.face), wanted.across_mm(other)
    most = 0.0
    for direction in wanted.directions:
        if direction == BOXED:
            continue
        pith = pith_for_direction_mm(face, depth, direction)
        green = green_size_at(face, depth, (0.0, 0.0), pith, *shrinkages, allowances.planing_mm)
        most = max(most, green[0] if side == wanted.face else green[1])
    return max(0.0, most - size.critical_mm)
