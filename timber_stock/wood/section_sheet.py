"""All that is said beforehand of one straight timber: its rings, its heart, its dried shape."""

from __future__ import annotations

import math
from dataclasses import dataclass

from timber_stock.wood.checked import positive
from timber_stock.wood.movement import Movement
from timber_stock.wood.outline import Point, rectangle_mm
from timber_stock.wood.ring_limits import BOXED, RingDirection, RingLimits, ring_direction
from timber_stock.wood.rings import RingAngles
from timber_stock.wood.rings_along import RingsAlong, rings_along
from timber_stock.wood.scenario import BEARINGS_DEG, Scenario, scenario
from timber_stock.wood.section_change import Twist, twist

NAMES_OF_ENDS = ("butt", "top")
FACES = ("lower", "right", "upper", "left")
"""The faces of a section that lies with its width along x, in the order of `centred_mm`."""

ASSUMPTIONS = (
    "Rings are taken as circles about the heart, shrinkage as the same all over, and the whole "
    "section as come to one moisture; wood stops shrinking at 30 % and above. Knots, spiral "
    "grain, reaction wood, set and drying stress are left out.",
    "It is the free shape. A timber held by its bolts and neighbours moves less and works on them.",
)


@dataclass(frozen=True)
class FaceChange:
    """What one face does: its cup, positive hollow, and how far a square held on it is out."""

    name: str
    cup_mm: float
    out_of_square_mm: float


@dataclass(frozen=True)
class End:
    """One end of the timber (or both, when the heart lies alike at both)."""

    name: str
    shape: Scenario
    direction: RingDirection

    @property
    def angles(self) -> RingAngles:
        """To the face the ring direction is judged on."""
        return self.direction.angles

    @property
    def faces(self) -> tuple[FaceChange, ...]:
        change = self.shape.change
        told = zip(FACES, change.cup_mm, change.out_of_square_mm, strict=True)
        return tuple(FaceChange(*each) for each in told)

    @property
    def wide_faces(self) -> tuple[FaceChange, FaceChange]:
        first = self.shape.change.wide_face
        return self.faces[first], self.faces[first + 2]

    @property
    def check_face(self) -> str:
        """The face at which a check opens; nothing when none does."""
        face = self.shape.dried.check_face
        return "" if face is None else FACES[face]


@dataclass(frozen=True)
class SectionSheet:
    """A straight timber of one section. `along` and `twist` are None when its ends are alike."""

    ends: tuple[End, ...]
    movement: Movement
    limits: RingLimits
    along: RingsAlong | None
    twist: Twist | None

    @property
    def boxed_heart(self) -> bool:
        """Whether the heart runs inside the timber anywhere in its length."""
        return (self.along or self.ends[0].angles).boxed_heart

    @property
    def mean_deg(self) -> float:
        return (self.along or self.ends[0].angles).mean_deg

    @property
    def least_deg(self) -> float:
        return (self.along or self.ends[0].angles).least_deg

    @property
    def greatest_deg(self) -> float:
        return (self.along or self.ends[0].angles).greatest_deg

    @property
    def heart_clearance_mm(self) -> float:
        return (self.along or self.ends[0].angles).heart_clearance_mm

    @property
    def assumptions(self) -> tuple[str, ...]:
        return ASSUMPTIONS

    @property
    def directions(self) -> tuple[str, ...]:
        """quarter, rift, flat or boxed heart: one word, or two when the ends differ."""
        return tuple(dict.fromkeys(end.direction.direction for end in self.ends))


def section_sheet(
    outline_mm: tuple[Point, ...],
    butt_pith_mm: Point,
    top_pith_mm: Point | None,
    moved: Movement,
    limits: RingLimits,
    face_deg: float | None = None,
) -> SectionSheet:
    """Reckon a rectangle with the pith at one point, or at one point at each end.

    outline_mm and the piths in mm in one frame fixed to the timber, as seen from the butt.
    face_deg: direction of the face the rings are judged on; left out, the wide face.
    Raises ValueError as `distortion.dry_section` does.
    """
    alike = top_pith_mm is None or math.dist(butt_pith_mm, top_pith_mm) < 1e-6
    piths = (butt_pith_mm,) if top_pith_mm is None or alike else (butt_pith_mm, top_pith_mm)
    ends = tuple(
        End(
            "both" if alike else name,
            scenario(name, outline_mm, pith, moved.radial_percent, moved.tangential_percent),
            ring_direction(outline_mm, pith, limits, face_deg),
        )
        for name, pith in zip(NAMES_OF_ENDS, piths, strict=False)
    )
    return SectionSheet(
        ends=ends,
        movement=moved,
        limits=limits,
        along=rings_along(outline_mm, *piths, face_deg) if len(piths) == 2 else None,
        twist=twist(ends[0].shape.dried, ends[1].shape.dried) if len(ends) == 2 else None,
    )


def centred_mm(width_mm: float, thickness_mm: float) -> tuple[Point, ...]:
    """The rectangle as every sheet has it: its middle at x = y = 0 and its width along x."""
    return rectangle_mm((-width_mm / 2, -thickness_mm / 2), width_mm, thickness_mm)


def seen_from_section_mm(point_mm: Point, middle_mm: Point, turned_deg: float) -> Point:
    """A point of the log's end as it lies from the middle of a section turned in that end.

    turned_deg: how far the section's width is turned counter-clockwise from the log's x axis.
    """
    away = complex(point_mm[0] - middle_mm[0], point_mm[1] - middle_mm[1])
    seen = away * complex(math.cos(math.radians(turned_deg)), -math.sin(math.radians(turned_deg)))
    return (seen.real, seen.imag)


def rectangle_about_mm(
    middle_mm: Point, width_mm: float, thickness_mm: float, turned_deg: float = 0.0
) -> tuple[Point, ...]:
    """A rectangle about its middle, turned counter-clockwise, in the frame of the log's end."""
    turn = complex(math.cos(math.radians(turned_deg)), math.sin(math.radians(turned_deg)))
    low = complex(*middle_mm) - complex(width_mm, thickness_mm) / 2 * turn
    return rectangle_mm((low.real, low.imag), width_mm, thickness_mm, turned_deg)


def assumed_pith_mm(width_mm: float, thickness_mm: float, direction: str) -> Point:
    """Where the heart is put when only the ring direction to the wide face is known.

    As `pith_for_direction_mm`, with the larger of width_mm (along x) and thickness_mm (along y) as
    the face the direction is judged on.
    """
    if width_mm >= thickness_mm:
        return pith_for_direction_mm(width_mm, thickness_mm, direction)
    along, off = pith_for_direction_mm(thickness_mm, width_mm, direction)
    return (off, along)


def pith_for_direction_mm(face_mm: float, depth_mm: float, direction: str) -> Point:
    """A heart from which a section shows this ring direction to its face, mm from its middle.

    face_mm along x, depth_mm along y. direction: quarter, rift, flat or boxed heart. A diagonal of
    the section away: square to the depth for quarter, halfway for rift, square to the face for
    flat; in the middle when boxed. An assumption, to be shown as one. Raises ValueError for any
    other word or a size not above nought.
    """
    face, depth = positive(face_mm, "The width in mm"), positive(depth_mm, "The thickness in mm")
    if direction == BOXED:
        return (0.0, 0.0)
    if direction not in BEARINGS_DEG:
        raise ValueError(f"From {direction!r} it cannot be told where the heart lies.")
    bearing, away = math.radians(BEARINGS_DEG[direction]), math.hypot(face, depth)
    return (-away * math.cos(bearing), -away * math.sin(bearing))
