"""What counts as quarter-sawn, rift and flat-sawn, by whom.

There is no single standard, so the limits are a setting and every answer names the one used. The
ring angle is that between the rings and the wide face: 90 degrees is truly quarter-sawn.
"""

from __future__ import annotations

from dataclasses import dataclass

from timber_stock.wood.checked import between
from timber_stock.wood.outline import Outline, Point
from timber_stock.wood.rings import RingAngles, face_share_at_or_above, ring_angles

QUARTER, RIFT, FLAT, BOXED = "quarter", "rift", "flat", "boxed heart"


@dataclass(frozen=True)
class RingLimits:
    """One authority's limits: flat below `flat_below_deg`, quarter from `quarter_from_deg` up.

    Between them lies rift; an authority that knows no rift has both limits alike. When
    `face_share` is given, a piece is quarter-sawn only if the rings reach `quarter_from_deg` over
    that share of its poorer wide face; otherwise the mean over the section decides.
    `standing` is R (read), S (quoted by others) or M (from memory).
    """

    name: str
    flat_below_deg: float
    quarter_from_deg: float
    face_share: float | None
    source: str
    standing: str

    def word(self, angle_deg: float) -> str:
        """quarter, rift or flat at one ring angle of 0 to 90 degrees."""
        angle = between(angle_deg, 0, 90, "The ring angle", " degrees")
        if angle >= self.quarter_from_deg:
            return QUARTER
        return RIFT if angle >= self.flat_below_deg else FLAT


AUTHORITIES: dict[str, RingLimits] = {
    "hardwood_trade": RingLimits(
        "United States hardwood trade usage", 30, 60, None,
        "NHLA chief inspector's article on ring direction (2023)", "R",
    ),
    "hardwood_rules": RingLimits(
        "NHLA rules, quartered lumber where figure is not required", 45, 45, 0.80,
        "NHLA Rules Book (2023), paragraph 35, as its chief inspector explains it (2023); "
        "that the poorer face is judged is our reading", "R",
    ),
    "forest_service": RingLimits(
        "United States Forest Service publications", 45, 45, None,
        "Quoted by others from Forest Service publications", "S",
    ),
    "architectural_woodwork": RingLimits(
        "Architectural woodwork standard", 30, 60, None,
        "Architectural Woodwork Institute limits as quoted by others", "S",
    ),
    "oak_catalogue": RingLimits(
        "A hardwood distributor's oak catalogue", 45, 75, None,
        "An American distributor's oak catalogue", "R",
    ),
    "softwood_rules": RingLimits(
        "Softwood rules: flat grain and vertical grain", 45, 45, None,
        "Softwood grading rules: flat grain read, vertical grain from memory", "M",
    ),
    "older_handbooks": RingLimits(
        "Older handbooks (the middle range called bastard sawn)", 30, 60, None,
        "Older handbooks, from memory", "M",
    ),
}  # fmt: skip

USUAL = AUTHORITIES["hardwood_trade"]


@dataclass(frozen=True)
class RingDirection:
    """How one section is classed, by whose limits, and how far its own wood departs from that.

    `direction` is quarter, rift, flat or boxed heart. `at_least` and `at_greatest` are the words
    for the least and the greatest ring angle anywhere in it.
    """

    direction: str
    at_least: str
    at_greatest: str
    angles: RingAngles
    limits: RingLimits

    @property
    def mixed(self) -> bool:
        """True when the same piece holds wood of more than one direction, as heavy timbers do."""
        return self.at_least != self.at_greatest


def ring_direction(
    outline_mm: Outline,
    pith_mm: Point,
    limits: RingLimits = USUAL,
    wide_face_deg: float | None = None,
) -> RingDirection:
    """Class a section (corners and pith in mm, wide face in degrees from x or the longest edge).

    Raises ValueError for an outline that is no simple polygon or a number that is not finite.
    """
    angles = ring_angles(outline_mm, pith_mm, wide_face_deg)
    word = limits.word(angles.mean_deg)
    if limits.face_share is not None:
        share = face_share_at_or_above(outline_mm, pith_mm, limits.quarter_from_deg, wide_face_deg)
        word = QUARTER if share >= limits.face_share else FLAT
    return RingDirection(
        direction=BOXED if angles.boxed_heart else word,
        at_least=limits.word(angles.least_deg),
        at_greatest=limits.word(angles.greatest_deg),
        angles=angles,
        limits=limits,
    )
