"""How much of its load each fastening of a row keeps by the NDS, for a row shares it unevenly.

The timbers stretch between one fastening and the next, so those at the ends of a row along the load
carry more than those in its middle: the longer the row, the further apart and the thicker the
fastenings, and the slighter the timbers, the less it holds for each. The equation and the rules for
what is a row are from memory; it agrees to its two places with the table printed beside it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.checks import above_zero, whole_number
from restoration.calc.dowel_bearing import SMALL_MM
from restoration.calc.fastening_face import Face, Hole
from restoration.calc.fastening_rows import Row, rows_along
from restoration.calc.fastening_sources import MEMORY, NDS, Published
from restoration.calc.fastening_timbers import Timber
from timber_stock.measure import MM_PER_INCH
from timber_stock.wood.weights import NEWTONS_PER_POUND

SOURCE = Published(f"{NDS}, group action factor", MEMORY)
CAUTION = (
    "The factor for groups is for rows evenly spaced and holes bored true and together: one bolt "
    "that is slack leaves its share to the others. A split through a whole row is not in it."
)
SLIP_LB_PER_IN = 180_000.0
"""Of a fastening of 1 in between wood and wood; it goes with the diameter to the power of 1.5."""
LARGEST_MM = MM_PER_INCH


@dataclass(frozen=True)
class GroupAction:
    """What a line of like fastenings keeps of its load: `factor` 1 is all of it, None not known.

    rows: how many stand in each row along the load. why_not: a sentence where there is no factor.
    """

    rows: tuple[int, ...]
    factor: float | None
    why_not: str = ""

    @property
    def said(self) -> str:
        """In a sentence or two; "" where no two stand in one row along the load."""
        longest = max(self.rows, default=0)
        if longest <= 1:
            return ""
        many = len(self.rows)
        rows = "One row" if many == 1 else f"{many} rows"
        rows += f" of {longest}" if min(self.rows) == longest else f" of up to {longest}"
        if self.factor is None:
            return f"{rows} along the load: the factor for groups is not reckoned. {self.why_not}"
        return (
            f"{rows} along the load: each keeps {100 * self.factor:.0f} % of what one alone holds."
        )


def group_action_factor(
    number: int, apart_mm: float, diameter_mm: float, main_n: float, side_n: float
) -> float:
    """Cg of one row, more than 0 and at most 1: 1 for one fastening or one under 1/4 in.

    Cg = m (1 - m**2n) / (n ((1 + R m**n)(1 + m) - 1 + m**2n)) x (1 + R)/(1 - m), with
    m = u - sqrt(u**2 - 1), u = 1 + slip x s/2 x (1/main + 1/side), R the lesser of main/side and
    side/main. apart_mm: s, from one fastening to the next. main_n, side_n: stiffness of the
    timbers, modulus of elasticity times area of the whole section, N; the side ones together where
    there are two. ValueError for no fastening, sizes not above 0, and fastenings over 1 in.
    """
    n = whole_number(number, "number in the row")
    if n < 1:
        raise ValueError("A row has one fastening or more.")
    diameter = above_zero(diameter_mm, "diameter")
    main, side = above_zero(main_n, "stiffness"), above_zero(side_n, "stiffness")
    if diameter > LARGEST_MM + 1e-6:
        raise ValueError("The factor for groups is held for fastenings of up to 1 in (25.4 mm).")
    if n == 1 or diameter < SMALL_MM - 1e-6:
        return 1.0
    apart = above_zero(apart_mm, "distance in the row")
    return _factor(n, _slip(diameter) * apart / 2 * (1 / main + 1 / side), main, side)


def _factor(n: int, over: float, main: float, side: float) -> float:
    """`over` is what u has over 1: the stretch of the timbers against the slip of a fastening."""
    m = 1 + over - math.sqrt(over * (2 + over))
    if 1 - m < 1e-7:
        return 1.0
    ratio, end = min(main / side, side / main), math.pow(m, n)
    shared = n * ((1 + ratio * end) * (1 + m) - 1 + end**2)
    return min(1.0, m * (1 - end**2) / shared * (1 + ratio) / (1 - m))


def _slip(diameter_mm: float) -> float:
    """Load that shifts one fastening, N for each mm."""
    pounds = SLIP_LB_PER_IN * math.pow(diameter_mm / MM_PER_INCH, 1.5)
    return pounds * NEWTONS_PER_POUND / MM_PER_INCH


def group_action(
    holes: Sequence[Hole], face: Face, head: Timber, point: Timber, load_deg: float,
    *, dry: bool, planes: int = 1,
) -> GroupAction:  # fmt: skip
    """What a line of like fastenings on a face keeps of its load; the uneven are taken for the
    widest gap of their row. Nothing is raised: where it cannot be reckoned, why not is said."""
    rows = joined(rows_along(holes, load_deg))
    counts = tuple(len(row) for row in rows)
    if max(counts, default=0) <= 1 or holes[0].diameter_mm < SMALL_MM - 1e-6:
        return GroupAction(counts, 1.0)
    try:
        main, side = (_stiffness_n(each, face, rows, load_deg, dry) for each in (point, head))
        kept = _kept(rows, holes[0].diameter_mm, main, planes * side)
    except ValueError as error:
        return GroupAction(counts, None, str(error))
    return GroupAction(counts, kept / len(holes))


def _kept(rows: Sequence[Row], diameter_mm: float, main_n: float, side_n: float) -> float:
    """How many fastenings alone all the rows together are worth."""
    return sum(
        len(row)
        * group_action_factor(len(row), max(row.gaps_mm, default=1.0), diameter_mm, main_n, side_n)
        for row in rows
    )


def joined(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Staggered rows that stand closer than a quarter of the way from a hole of the one to the
    nearest of the other, along them, count as one row. Two at a time, from one side."""
    found: list[Row] = []
    free = False
    for row in sorted(rows, key=lambda each: each.across_mm):
        if free and _are_one(found[-1], row):
            found[-1] = Row(row.across_mm, tuple(sorted((*found[-1].along_mm, *row.along_mm))))
            free = False
        else:
            found.append(row)
            free = True
    return tuple(found)


def _are_one(one: Row, other: Row) -> bool:
    nearest = min(abs(a - b) for a in one.along_mm for b in other.along_mm)
    return abs(other.across_mm - one.across_mm) < nearest / 4


def _stiffness_n(
    timber: Timber, face: Face, rows: Sequence[Row], load_deg: float, dry: bool
) -> float:
    """Modulus of elasticity times area, N: of the whole section for a load along the grain, of a
    strip as wide as the group for one across it, the lesser of both between."""
    wide = face.width_mm if timber.is_end("start") else face.length_mm
    angle = timber.load_angle_deg(load_deg)
    if angle > 90 - 1e-6:
        wide = _group_width_mm(rows)
    elif angle > 1e-6:
        wide = min(wide, _group_width_mm(rows))
    return 1000 * _elasticity_gpa(timber, dry) * wide * timber.thickness_mm


def _group_width_mm(rows: Sequence[Row]) -> float:
    """From the first row to the last; of a single row its own least spacing, as the NDS has it."""
    places = [row.across_mm for row in rows]
    over = max(places) - min(places)
    return over if over > 0 else min(rows[0].gaps_mm)


def _elasticity_gpa(timber: Timber, dry: bool) -> float:
    wood = timber.wood
    if not timber.is_wood:
        raise ValueError(f"{timber.name} is not of wood: the factor held is for wood to wood.")
    known = None if wood is None else wood.elasticity_12_gpa if dry else wood.elasticity_green_gpa
    if known is None:
        name = timber.name if wood is None else wood.name
        state = "dry" if dry else "green"
        raise ValueError(
            f"How stiff {state} {name} is, is not known: enter the yard's own modulus of "
            "elasticity of this wood."
        )
    return known
