"""The saw sheet as a paper: the cuts in stages, each stage drawn as it lies on the bed."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from restoration import timber
from restoration.models import Yard
from restoration.reports.paper import (
    Block,
    Caution,
    Facts,
    Figure,
    Head,
    Heading,
    Line,
    Paper,
    SideBySide,
    Table,
    Words,
)
from restoration.reports.pdf.words import day, length, listed
from timber_stock.drawings.cut_numbers import NUMBER_CLASS
from timber_stock.drawings.sheet_sections import StageDrawn, stage_drawn
from timber_stock.sawing.saw_sheet import SheetCut, Stage, saw_sheet
from timber_stock.templatetags.sawing import rolled, sawn

KIND = "Saw sheet"
HEIGHTS = (
    "Heights are of the low side of the cut above the bed; the kerf is above it. Stand the log as "
    "its mark says before the first cut of each bolt. A log or cant can roll or fall while it is "
    "turned: dog it, stand clear, and follow the mill's own rules."
)
AS_IT_LIES = (
    "As it lies, seen from the butt. Cuts carry their numbers; shaded timbers are free when this "
    "stage is done."
)
SLAB = "A slab comes off."
NO_CUTS = "This plan has no cuts."
CROWDED = 14  # numbers of cuts in a drawing


@dataclass(frozen=True)
class _Sheet:
    """The plan with what is looked up in it while its stages are told."""

    plan: timber.SawingPlan
    told: timber.PlanTold
    units: str
    made: Mapping[int, float]
    for_whom: Mapping[str, str]
    tags: Mapping[int, str]


def saw_sheet_paper(plan: timber.SawingPlan, *, units: str, on: date) -> Paper:
    sheet = _Sheet(
        plan, timber.plan_as_it_stands(plan), units, timber.cuts_made_of(plan),
        {line["id"]: line.get("for", "") for line in plan.request["wanted"]},
        timber.tags_sawn_again(plan),
    )  # fmt: skip
    stages = saw_sheet(sheet.told.request, sheet.told.layout, plan.cuts(), sheet.made)
    yard = Yard.current()
    blocks: list[Block] = [_particulars(sheet), Caution(HEIGHTS)]
    if plan.is_superseded():
        number = plan.superseded_by.number
        said = f"Plan {number} has taken the place of this sheet: saw from that."
        blocks.insert(0, Words(said, "strong"))
    for number, stage in enumerate(stages, 1):
        blocks += _stage(sheet, stage, number)
    return Paper(
        kind=KIND,
        of=f"log {plan.log.tag}, plan {plan.number}",
        author=yard.name,
        foot=(("Yard", yard.name), ("Log and plan", f"{plan.log.tag}, plan {plan.number}"),
              ("Printed", day(on))),
        file_name=f"{plan.log.tag}-plan-{plan.number}-saw-sheet",
        blocks=tuple(blocks) if stages else (*blocks, Words(NO_CUTS)),
    )  # fmt: skip


def _particulars(sheet: _Sheet) -> Facts:
    log, saw, units = sheet.plan.log, sheet.plan.request["saw"], sheet.units
    trims = [
        f"{length(mm, units)} off the {end}"
        for mm, end in ((log.butt_trim_mm, "butt"), (log.top_trim_mm, "top"))
        if mm
    ]
    boxed = _holding_the_heart(sheet.plan)
    stays = f"stays in {listed(boxed)}: mark {'it' if len(boxed) == 1 else 'them'}"
    kerfs = f"{length(saw['kerf_mm'], units)}; crosscut {length(saw['crosscut_kerf_mm'], units)}"
    return Facts(
        (
            ("Wood", f"{log.species.common_name} ({log.species.botanical_name})"),
            ("Log", f"{length(log.length_mm, units)} long; butt "
             f"{length(log.butt_diameter_mm, units)}, top {length(log.top_diameter_mm, units)}"),
            ("Kerf", kerfs),
            ("Trim first", " and ".join(trims) or "nothing"),
            ("The heart", stays if boxed else "goes into the waste"),
            ("Cuts made", f"{len(sheet.made)} of {len(sheet.plan.cuts())}"),
        )
    )  # fmt: skip


def _holding_the_heart(plan: timber.SawingPlan) -> list[str]:
    timbers = [one for bolt in plan.plan["bolts"] for one in bolt["timbers"]]
    return sorted({one["id"] for one in timbers if one["heart_clearance_mm"] <= 0})


def _stage(sheet: _Sheet, stage: Stage, number: int) -> list[Block]:
    drawn = stage_drawn(sheet.told, stage, number)
    is_short = len(drawn) == 1 and len(stage.cuts) <= 9
    a_row = drawings_a_row(drawn)
    share = 0.42 if is_short else {1: 0.56, 2: 0.48, 3: 0.31}[a_row]
    figures = tuple(
        Figure(one.svg, _caption(sheet, one.from_mm, n, len(drawn)), share)
        for n, one in enumerate(drawn)
    )
    done = all(cut.step in sheet.made for cut in stage.cuts)
    title = f"Stage {number}{_of_what(sheet, stage)}{' – done' if done else ''}"
    cuts = Table(_heads(number), tuple(_cut(sheet, cut) for cut in stage.cuts), is_large=True)
    doing = Words(_doing(stage), "strong")
    if is_short:
        return [Heading(title, f"stage_{number}"), doing, SideBySide(figures, (cuts,))]
    rows = [SideBySide(figures[n : n + a_row]) for n in range(0, len(figures), a_row)]
    return [Heading(title, f"stage_{number}"), doing, *rows, cuts]


def drawings_a_row(drawn: Sequence[StageDrawn]) -> int:
    """Three at most; two where one of them has so many cuts that three would be too small."""
    crowd = max((one.svg.count(NUMBER_CLASS) for one in drawn), default=0)
    return min(max(len(drawn), 1), 2 if crowd > CROWDED else 3)


def _heads(number: int) -> tuple[Head, ...]:
    """They say the stage again where a table goes on overleaf."""
    return (
        Head("Cut", 13, strong=True), Head(f"Stage {number}: set the saw to", 46, strong=True),
        Head("How, and what it frees", 62), Head("Made", 18),
    )  # fmt: skip


def _of_what(sheet: _Sheet, stage: Stage) -> str:
    if stage.axis is None:
        return ": buck the log"
    if not stage.first:
        return ""
    if tag := sheet.tags.get(stage.bolt):
        return f": {tag} again"
    return f": {'piece' if sheet.plan.plan.get('rest') else 'bolt'} {stage.bolt + 1}"


def _doing(stage: Stage) -> str:
    up = rolled(stage.up_clock)
    if stage.axis is None:
        return "Crosscut before anything is sawn."
    if stage.first:
        return f"Roll it until this of the butt is up: {up}."
    if stage.turn > 0:
        return f"Turn it a quarter, anticlockwise seen from the butt: {up} is up."
    return f"Turn it back a quarter, clockwise seen from the butt: {up} is up."


def _caption(sheet: _Sheet, from_mm: float, n: int, of: int) -> str:
    place = f"{sawn(from_mm, sheet.units)} from the butt" if from_mm else "at the butt"
    begin = f"Pieces that begin {place}. " if of > 1 or from_mm else ""
    return f"{begin}{AS_IT_LIES if n == 0 else ''}".strip()


def _cut(sheet: _Sheet, cut: SheetCut) -> Line:
    place = "from its butt end" if cut.crosscut else "up from the bed"
    return Line(
        (str(cut.step), f"{sawn(cut.set_mm, sheet.units)}\n{place}",
         "\n".join(_how(sheet, cut)), _came(sheet, cut)),
    )  # fmt: skip


def _how(sheet: _Sheet, cut: SheetCut) -> Sequence[str]:
    said = []
    if cut.holds:
        said.append(f"Take up the piece with {_together(cut.holds)}.")
    if cut.crosscut:
        said.append("Crosscut.")
    if cut.over:
        said.append("Turn the piece over for this cut.")
    if cut.skims:
        said.append("Only a skim: less than the kerf comes off.")
    if cut.off is not None:
        said.append(f"Off comes the piece with {_together(cut.off)}." if cut.off else SLAB)
    if not cut.frees:
        return said
    frees = f"Frees {', '.join(_freed(sheet, name) for name in cut.frees)}."
    return [*said[:-1], f"{said[-1]} {frees}"] if cut.crosscut else [*said, frees]


def _together(names: Sequence[str]) -> str:
    """Timbers of a piece; how many of a kind is never parted from its name at the end of a line."""
    return ", ".join(re.sub(r"^(\d+) ", "\\1\N{NO-BREAK SPACE}", name) for name in names)


def _freed(sheet: _Sheet, name: str) -> str:
    whom = sheet.for_whom.get(name, "")
    return f"{name} for {whom}" if whom else name


def _came(sheet: _Sheet, cut: SheetCut) -> str:
    if cut.step not in sheet.made:
        return ""
    over = sheet.made[cut.step]
    if not over:
        return "made"
    return f"{length(abs(over), sheet.units)} {'high' if over > 0 else 'low'}"
