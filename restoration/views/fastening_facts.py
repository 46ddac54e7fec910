"""What the pages of a layout show, gathered from its rows and reckoned by the pure modules."""

from collections.abc import Sequence
from dataclasses import dataclass

from restoration import timber
from restoration.calc import keel_bolts
from restoration.calc.fastening_face import Face, Hole
from restoration.calc.fastening_group import counted
from restoration.calc.fastening_holes import Bore, bores
from restoration.calc.fastening_layout import Distance, distances
from restoration.calc.fastening_rows import rows_along
from restoration.calc.fastening_size import THROUGH
from restoration.calc.fastening_sources import CAUTION
from restoration.calc.fastening_strength import (
    Joint,
    Opinion,
    lateral_opinions,
    pull_opinions,
)
from restoration.calc.fastening_timbers import Timber, WoodFigures, wood_figures
from restoration.calc.group_action import GroupAction, group_action
from restoration.calc.plank_screws import PlankScrew, screw_for_plank
from restoration.models import FasteningPlan, Member, PlannedFastening


@dataclass(frozen=True)
class Woods:
    """The two timbers of a layout, and why a wood of them is without figures, if it is."""

    head: Timber
    point: Timber
    unknown: tuple[str, ...]

    @property
    def both(self) -> tuple[Timber, Timber]:
        return self.head, self.point

    @property
    def of_wood(self) -> list[Timber]:
        """Without a member of metal, such as ballast: the rules for wood are not for it."""
        return [each for each in self.both if each.is_wood]

    @property
    def metal(self) -> frozenset[str]:
        return frozenset(each.name for each in self.both if not each.is_wood)


@dataclass(frozen=True)
class Line:
    """One line of like fastenings with all that is reckoned of it."""

    fastening: PlannedFastening
    count: int
    lateral: tuple[Opinion, ...]
    pull: tuple[Opinion, ...]
    counts_as: float
    share: float
    group: GroupAction
    bores: tuple[Bore, ...]
    table: PlankScrew | None

    @property
    def sum_refused(self) -> bool:
        """Whether a distance forbids what could otherwise be summed."""
        return bool(self.count) and not self.share and any(each.newtons for each in self.lateral)

    def together(self) -> list[tuple[Opinion, float]]:
        """The lateral opinions for all of them: NDS by the least share of distance and the group's
        factor where it is known, EN by rows.

        None where there are no holes, or one stands so near that nothing may be counted.
        """
        found = []
        for opinion in self.lateral:
            if opinion.newtons is None or not self.count or not self.share:
                continue
            by_nds = self.count * self.share * (self.group.factor or 1.0)
            many = self.counts_as if opinion.name.startswith("EN") else by_nds
            found.append((opinion, many * (opinion.long_term_n or opinion.newtons)))
        return found


def woods_of(plan: FasteningPlan) -> Woods:
    unknown: list[str] = []
    head = _timber(
        plan.head(),
        plan.head_wood,
        plan.head_thickness_mm,
        plan.head_grain_deg,
        plan.head_runs_on,
        unknown,
    )
    point = _timber(
        plan.point(),
        plan.point_wood,
        plan.point_thickness_mm,
        plan.point_grain_deg,
        plan.point_runs_on,
        unknown,
    )
    return Woods(head, point, tuple(dict.fromkeys(unknown)))  # fmt: skip


def _timber(
    member: Member, chosen, thickness_mm: float, grain_deg: float, runs_on, unknown: list[str]
) -> Timber:
    wood = chosen or member.wood
    is_wood = bool(wood) or not member.material
    figures = _figures(member, wood, unknown) if is_wood else None
    past = frozenset(runs_on)
    return Timber(member.mark, thickness_mm, grain_deg, figures, past, is_wood)


def _figures(member: Member, wood, unknown: list[str]) -> WoodFigures | None:
    if wood is None:
        unknown.append(f"The wood of {member.mark} is not said: say it in the layout.")
        return None
    try:
        return wood_figures(timber.figures_of(wood))
    except ValueError as error:
        unknown.append(str(error))
        return None


def has_ballast(plan: FasteningPlan) -> bool:
    """Whether one of the two is ballast or a keel bolt: then the rules of keel bolts are shown."""
    return _holds_ballast(plan.joint)


def cautions_of(joint) -> list[str]:
    """What stands on every page and paper of a joint's fastenings; more where they hold ballast."""
    return [CAUTION, keel_bolts.CAUTION] if _holds_ballast(joint) else [CAUTION]


def _holds_ballast(joint) -> bool:
    return bool({joint.one.kind, joint.other.kind} & {"ballast_keel", "keel_bolt"})


def distances_of(plan: FasteningPlan, woods: Woods) -> tuple[Distance, ...]:
    return distances(plan.face(), woods.of_wood, plan.holes(), plan.load_deg)


def lines_of(plan: FasteningPlan, woods: Woods, checked: Sequence[Distance]) -> list[Line]:
    holes = _by_line(plan)
    everyone = [hole for found in holes.values() for hole in found]
    rows = max((len(rows_along(everyone, each.grain_deg)) for each in woods.both), default=1)
    joint = Joint(
        woods.head, woods.point, plan.load_deg, plan.moisture, plan.planes, plan.end_grain,
        one_row=rows <= 1,
    )  # fmt: skip
    face = plan.face()
    return [
        _line(each, holes.get(each.pk, []), joint, checked, face) for each in plan.fastenings.all()
    ]


def _by_line(plan: FasteningPlan) -> dict[int, list[Hole]]:
    found: dict[int, list[Hole]] = {}
    for row, hole in plan.numbered:
        found.setdefault(row.fastening_id, []).append(hole)
    return found


def _line(
    fastening: PlannedFastening,
    holes: list[Hole],
    joint: Joint,
    checked: Sequence[Distance],
    face: Face,
) -> Line:
    size = fastening.size()
    numbers = {hole.number for hole in holes}
    shares = [each.share for each in checked if each.hole in numbers]
    angle = joint.point.load_angle_deg(joint.load_deg)
    return Line(
        fastening=fastening,
        count=len(holes),
        lateral=lateral_opinions(size, joint),
        pull=pull_opinions(size, joint),
        counts_as=counted(holes, joint.point.grain_deg, angle),
        share=min(shares, default=1.0),
        group=group_action(
            holes,
            face,
            joint.head,
            joint.point,
            joint.load_deg,
            dry=joint.state == "dry",
            planes=joint.planes,
        ),
        bores=_bores(fastening, joint.point.wood or _passed(fastening, joint)),
        table=screw_for_plank(joint.head.thickness_mm) if fastening.kind == "screw" else None,
    )


def _passed(fastening: PlannedFastening, joint: Joint) -> WoodFigures | None:
    """A bolt through ballast is bored for the timber above it all the same."""
    return joint.head.wood if fastening.kind in THROUGH else None


def _bores(fastening: PlannedFastening, wood: WoodFigures | None) -> tuple[Bore, ...]:
    if wood is None:
        return ()
    try:
        return bores(fastening.kind, fastening.diameter_mm, wood.gravity_12, wood.hardwood)
    except ValueError:
        return ()


def reach(plan: FasteningPlan) -> list[str]:
    """Sentences on fastenings that are too short, or so long that their points come out."""
    said = []
    through = plan.head_thickness_mm * plan.planes
    for fastening in plan.fastenings.all():
        size = fastening.size()
        try:
            size.in_point_mm(
                through if fastening.kind in ("bolt", "rivet") else plan.head_thickness_mm,
                plan.point_thickness_mm,
            )
        except ValueError as error:
            said.append(str(error))
            continue
        all_mm = through + plan.point_thickness_mm
        if fastening.kind not in ("bolt", "rivet") and fastening.length_mm > all_mm:
            over = fastening.length_mm - all_mm
            said.append(
                f"A {fastening.get_kind_display()} of {fastening.length_mm:.1f} mm comes out "
                f"{over:.1f} mm beyond the timber behind."
            )
    return said
