"""What the sawyer works from: the cuts of a plan in stages, each with its height from the bed.

A stage is what is cut before anything is turned. Heights are told for the pieces as they really
lie: where an earlier cut came high or low, the later ones are set from the face it left.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from timber_stock.sawing.as_cut import LOG, Cutting, Part, replay
from timber_stock.sawing.cut_order import is_turned_over, lowest_mm
from timber_stock.sawing.guillotine import X, Y, Z
from timber_stock.sawing.layout import Layout
from timber_stock.sawing.request import Request


@dataclass(frozen=True)
class SheetCut:
    """One line of the sheet. `set_mm` is what the saw is set to: the height of the low side of the
    kerf above the bed, or for a crosscut the length from the piece's butt end."""

    step: int
    cutting: Cutting
    set_mm: float
    kerf_mm: float
    over: bool  # the piece is turned over for this cut
    frees: tuple[str, ...]
    skims: bool  # takes less than a kerf off
    holds: tuple[str, ...] = ()  # what is in the piece, where another piece is taken up for it
    off: tuple[str, ...] | None = None  # in what comes off above the cut; () for a slab

    @property
    def crosscut(self) -> bool:
        return self.cutting.axis == Z

    def over_mm(self, came_mm: float) -> float:
        """By how much a cut measured at `came_mm` lies high of the plan, in the saw's own frame."""
        return (self.set_mm - came_mm) if self.over else (came_mm - self.set_mm)


@dataclass
class Stage:
    """Cuts made without turning. `axis` is up, None for bucking; `turn` is +1 for a quarter turn
    anticlockwise seen from the butt, -1 clockwise, 0 where nothing is turned."""

    bolt: int
    axis: int | None
    turn: int
    up_clock: float
    first: bool
    cuts: list[SheetCut] = field(default_factory=list)


def saw_sheet(
    request: Request,
    layout: Layout,
    cuts: Sequence[Mapping[str, Any]],
    over_mm: Mapping[int, float] | None = None,
) -> list[Stage]:
    """The cuts in stages. `over_mm` tells how the cuts made so far came, by their steps."""
    told = replay(request, layout, cuts, over_mm)
    stages: list[Stage] = []
    lying = None
    for cut, cutting in zip(cuts, told, strict=True):
        stage = _stage_for(layout, cut, cutting, stages)
        line = _sheet_cut(request, layout, cut, cutting)
        if lying not in (None, (cut["bolt"], cut["piece"])) and not _is_whole(layout, cutting):
            line = replace(line, holds=_holds(request, layout, cutting.before))
        lying = (cut["bolt"], cut["piece"])
        stage.cuts.append(line)
    return stages


def _is_whole(layout: Layout, cutting: Cutting) -> bool:
    """Whether all that its bolt is to give still lies in the piece: then there is no other."""
    return len(cutting.before.timbers) == len(layout[cutting.before.bolt].timbers)


def up_clock(roll_deg: float, axis: int) -> float:
    """Which hour of the log's own butt is up: 12 when it lies as measured; hours, 0 < h <= 12."""
    hours = ((roll_deg + (90.0 if axis == X else 0.0)) / 30.0) % 12.0
    return hours or 12.0


def _stage_for(
    layout: Layout, cut: Mapping[str, Any], cutting: Cutting, stages: list[Stage]
) -> Stage:
    bolt = int(cut["bolt"])
    last = stages[-1] if stages else None
    if cut["piece"] == LOG:
        if last is None or last.axis is not None:
            stages.append(Stage(bolt, None, 0, 12.0, first=True))
        return stages[-1]
    same = last is not None and last.axis is not None and last.bolt == bolt
    before = last.axis if same and last is not None else None
    axis = cutting.axis if cutting.axis != Z else (before if before is not None else Y)
    if before == axis:
        return stages[-1]
    turn = 0 if before is None else (1 if axis == X else -1)
    clock = up_clock(layout[bolt].roll_deg, axis)
    stages.append(Stage(bolt, axis, turn, clock, first=before is None))
    return stages[-1]


def _sheet_cut(
    request: Request, layout: Layout, cut: Mapping[str, Any], cutting: Cutting
) -> SheetCut:
    at = float(cut["at_mm"])
    part, axis = cutting.before, cutting.axis
    names = tuple(_name(request, layout, freed) for freed in cutting.freed)
    if axis == Z:
        start = part.sawn[Z][0]
        kerf = request.saw.crosscut_kerf_mm
        return SheetCut(cutting.step, cutting, at - start, kerf, False, names, False)
    kerf = request.saw.kerf_mm
    height = at - lowest_mm(request.log, layout[part.bolt], part.sawn, axis)
    high = part.sawn[axis][1]
    low_side, high_side = at - part.sawn[axis][0], high - at - kerf
    over = is_turned_over(height, high_side)
    set_mm = high_side if over else height
    skims = min(low_side, high_side) < 0
    off = None if names else _off(request, layout, cutting, over)
    return SheetCut(cutting.step, cutting, set_mm, kerf, over, names, skims, off=off)


def _off(request: Request, layout: Layout, cutting: Cutting, over: bool) -> tuple[str, ...] | None:
    """What is in the piece that comes off above a cut along the log; None where nothing does."""
    before, axis = cutting.before, cutting.axis
    sides = sorted(
        (part for part in cutting.after if _is_of(part, before)), key=lambda p: p.planned[axis]
    )
    if len(sides) < 2:
        return None
    return _holds(request, layout, sides[0] if over else sides[-1])


def _is_of(part: Part, whole: Part) -> bool:
    return part.bolt == whole.bolt and all(
        outer[0] <= inner[0] and inner[1] <= outer[1]
        for inner, outer in zip(part.planned, whole.planned, strict=True)
    )


def _holds(request: Request, layout: Layout, part: Part) -> tuple[str, ...]:
    """What is planned in a piece: each timber once, with its number where there are several."""
    names = Counter(
        request.wanted[layout[part.bolt].timbers[i].line].id for i in sorted(part.timbers)
    )
    return tuple(name if count == 1 else f"{count} {name}" for name, count in names.items())


def _name(request: Request, layout: Layout, part: Part) -> str:
    return request.wanted[layout[part.bolt].timbers[part.timbers[0]].line].id
