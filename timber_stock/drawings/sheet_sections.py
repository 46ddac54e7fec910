"""A drawing for each stage of the saw sheet: the log as it lies for it, with its cuts numbered."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Protocol

from timber_stock.sawing.as_cut import Part
from timber_stock.sawing.cut_order import lowest_mm
from timber_stock.sawing.guillotine import X, Y, Z
from timber_stock.sawing.layout import Layout
from timber_stock.sawing.request import Request
from timber_stock.sawing.saw_sheet import SheetCut, Stage

from .log_section import Section, TimberDrawn, section_svg
from .section_views import bare_section, clipped_to_bark, cut_drawn, quarter_turned, timber_drawn

INSET_MM = 1.0


class Planned(Protocol):
    request: Request
    layout: Layout


@dataclass(frozen=True)
class StageDrawn:
    """The pieces sawn in a stage that begin at one place along the log."""

    from_mm: float
    svg: str


def stage_drawn(told: Planned, stage: Stage, number: int) -> list[StageDrawn]:
    """The pieces that this stage saws, as they lie on the bed: a drawing for each place along the
    log where such pieces begin. Bucking has no section to show."""
    if stage.axis is None:
        return []
    ripping = [cut for cut in stage.cuts if not cut.crosscut]
    starts = sorted({round(cut.cutting.before.sawn[Z][0]) for cut in ripping})
    return [
        _drawn(told, stage, number, start, [c for c in ripping if _begins(c, start)])
        for start in starts
    ]


def _begins(cut: SheetCut, start: float) -> bool:
    return round(cut.cutting.before.sawn[Z][0]) == start


def _drawn(
    told: Planned, stage: Stage, number: int, start: float, cuts: list[SheetCut]
) -> StageDrawn:
    bolt, axis = told.layout[stage.bolt], Y if stage.axis is None else stage.axis
    title = f"Stage {number}: as it lies on the saw, seen from the butt"
    z = start + INSET_MM
    section = bare_section(told.request, bolt.roll_deg, z, title, f"stage{number}-{start:.0f}")
    kerf = told.request.saw.kerf_mm
    lines = [
        clipped_to_bark(section, drawn)
        for cut in cuts
        if (drawn := cut_drawn(cut.cutting, kerf, section.reach * 1.2, f"{cut.step}"))
    ]
    section = replace(
        section, cuts=lines, timbers=_timbers(told, stage, z, cuts), gone=_gone(section, cuts)
    )
    low = min(lowest_mm(told.request.log, bolt, cut.cutting.before.sawn, axis) for cut in cuts)
    turned = quarter_turned(section) if axis == X else section
    return StageDrawn(start, section_svg(replace(turned, bed=low)))


def _timbers(told: Planned, stage: Stage, z: float, cuts: list[SheetCut]) -> list[TimberDrawn]:
    """Timbers in the pieces sawn now; those set free by the end of it are shaded."""
    bolt = told.layout[stage.bolt]
    inside = {i for cut in cuts for i in cut.cutting.before.timbers}
    freed = {i for cut in stage.cuts for part in cut.cutting.freed for i in part.timbers}
    return [
        replace(timber_drawn(told.request, bolt.timbers[i], z, key=str(i)), freed=i in freed)
        for i in sorted(inside)
    ]


def _gone(section: Section, cuts: list[SheetCut]) -> list[tuple[float, float, float, float]]:
    """What is no longer there when the stage begins: all that no piece of this stage covers."""
    far = 1.5 * section.reach
    parts = _distinct(cut.cutting.before for cut in cuts)
    if not parts:
        return []
    box = [_clamped(part, far) for part in parts]
    x0, x1 = min(b[0] for b in box), max(b[1] for b in box)
    y0, y1 = min(b[2] for b in box), max(b[3] for b in box)
    return [
        (-far, -far, x0 + far, 2 * far),
        (x1, -far, far - x1, 2 * far),
        (x0, -far, x1 - x0, y0 + far),
        (x0, y1, x1 - x0, far - y1),
    ]


def _distinct(parts: Iterable[Part]) -> list[Part]:
    return list(dict.fromkeys(parts))


def _clamped(part: Part, far: float) -> tuple[float, float, float, float]:
    (x0, x1), (y0, y1) = part.sawn[X], part.sawn[Y]
    return max(x0, -far), min(x1, far), max(y0, -far), min(y1, far)
