"""What size to saw green so that a piece finishes right at the moisture it will serve at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, stdev, variance

from timber_stock.wood.checked import between, finite, positive
from timber_stock.wood.distortion import dry_section
from timber_stock.wood.outline import Point, as_complex, rectangle_mm
from timber_stock.wood.section_change import rectangle_change

NO_UNDERSIZE_Z = 3.09
"""Z the publication gives for no undersize pieces at all; by the normal curve one in a thousand."""

SIZE_SOURCE = (
    "Brown, Lumber Size Control, Oregon State University Extension EM 8731 (2000); the division by "
    "1 - S/100 from memory, exact where the publication takes a constant."
)


@dataclass(frozen=True)
class SawingVariation:
    """Standard deviations of sawn thickness, in the unit of the readings.

    Within boards, between boards (of the board means) and of all readings together.
    """

    within: float
    between: float
    total: float


def sawing_variation(boards: Sequence[Sequence[float]]) -> SawingVariation:
    """Sawing variation from several readings on each of several boards.

    Root mean variance within boards, standard deviation of board means, standard deviation of all
    readings. At least two boards with two readings each, else ValueError. Source: EM 8731.
    """
    if len(boards) < 2 or any(len(board) < 2 for board in boards):
        raise ValueError(
            "Sawing variation needs two boards or more with two readings or more each."
        )
    readings = [[positive(x, "A sawn size") for x in board] for board in boards]
    return SawingVariation(
        within=fmean(variance(board) for board in readings) ** 0.5,
        between=stdev(fmean(board) for board in readings),
        total=stdev(x for board in readings for x in board),
    )


def undersize_z(undersize_percent: float) -> float:
    """Standard deviations to add so that only this share of pieces, 0 to 50 %, comes out small.

    The normal quantile; 3.09 for 0 % as published. Source: EM 8731 prints it to two decimals.
    """
    share = between(undersize_percent, 0, 50, "The share of undersize pieces", " %")
    return min(NO_UNDERSIZE_Z, NormalDist().inv_cdf(1 - share / 100)) if share else NO_UNDERSIZE_Z


@dataclass(frozen=True)
class TargetSize:
    """The size to saw to and what it is made of, mm: finished + planing + shrinkage + sawing."""

    finished_mm: float
    planing_mm: float
    shrinkage_mm: float
    sawing_mm: float

    @property
    def critical_mm(self) -> float:
        """The smallest green size that still finishes, with no variation in sawing."""
        return self.finished_mm + self.planing_mm + self.shrinkage_mm

    @property
    def target_mm(self) -> float:
        return self.critical_mm + self.sawing_mm


def target_size(
    finished_mm: float,
    shrinkage_percent: float,
    planing_mm: float,
    sawing_sd_mm: float,
    undersize_percent: float = 5.0,
) -> TargetSize:
    """Green size to saw: T = (F + P)/(1 - S/100) + Z s.

    finished_mm F at service moisture; planing_mm P in all, off both faces; shrinkage_percent S from
    green to service, 0 to 50; sawing_sd_mm s, standard deviation of sawing, 0 or more;
    undersize_percent gives Z. ValueError beyond the limits. Source: `SIZE_SOURCE`.
    """
    finished = positive(finished_mm, "The finished size in mm")
    planing = between(planing_mm, 0, 1000, "The planing allowance", " mm")
    spread = between(sawing_sd_mm, 0, 100, "The standard deviation of sawing", " mm")
    s = between(shrinkage_percent, 0, 50, "Shrinkage to service moisture", " %") / 100.0
    lost = (finished + planing) * s / (1.0 - s)
    return TargetSize(finished, planing, lost, undersize_z(undersize_percent) * spread)


def green_size_at(
    finished_width_mm: float,
    finished_thickness_mm: float,
    centre_mm: Point,
    pith_mm: Point,
    radial_percent: float,
    tangential_percent: float,
    planing_mm: float = 0.0,
) -> tuple[float, float]:
    """Green width and thickness, mm, from which the finished size planes true at this place.

    The rectangle lies with its width along x about centre_mm, the pith at pith_mm; it dries by
    `dry_section`, cup and diamonding and all, and its largest true rectangle must leave the
    finished size and planing_mm. Found by trial, to a thousandth of a mm. Sawing variation comes
    on top. ValueError when no green size serves: a timber whose heart opens too wide.
    """
    wanted = (
        positive(finished_width_mm, "The finished width in mm") + finite(planing_mm, "Planing"),
        positive(finished_thickness_mm, "The finished thickness in mm") + planing_mm,
    )
    centre = as_complex(centre_mm, "The centre of the piece")
    size = wanted
    for _ in range(60):
        low = (centre.real - size[0] / 2, centre.imag - size[1] / 2)
        box = rectangle_mm(low, *size)
        change = rectangle_change(dry_section(box, pith_mm, radial_percent, tangential_percent))
        clean = (change.clean_width_mm, change.clean_thickness_mm)
        if change.wide_face == 1:
            clean = (clean[1], clean[0])
        short = (wanted[0] - clean[0], wanted[1] - clean[1])
        if max(abs(short[0]), abs(short[1])) < 1e-3:
            return size
        size = (size[0] + short[0], size[1] + short[1])
        if min(size) <= 0 or max(size) > 10 * max(wanted):
            break
    raise ValueError("No green size at this place dries to the finished one: choose another place.")
