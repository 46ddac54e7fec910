"""A vessel's hull sheet drawn, whatever is shown on it: one place makes the title block."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.safestring import SafeString, mark_safe

from restoration.drawings.hull import fold_out
from restoration.drawings.hull.assumed import highest
from restoration.drawings.hull.assumed import said as what_is_said
from restoration.drawings.hull.paper import Sheet
from restoration.drawings.hull.pieces import Piece, place_all
from restoration.drawings.hull.sheet import draw_sheet
from restoration.drawings.hull.svg import svg
from restoration.drawings.hull.title_block import Title
from restoration.models import Vessel, Yard
from restoration.models.hull_lines import HullLines, hull_lines_of
from timber_stock.web.fields import size_for

Legend = Sequence[tuple[str, str, str]]
Listed = Sequence[tuple[str, tuple[str, ...]]]


@dataclass(frozen=True)
class Shown:
    """What the sheet shows and says: pieces, heading, what each hatch means, what stands out."""

    pieces: Sequence[Piece]
    heading: str
    legend: Legend = ()
    listed: Listed = ()
    notes: tuple[str, ...] = ()
    near: str = "P"
    size: str = ""


def draw(vessel: Vessel, shown: Shown, units: str, entered: HullLines | None = None) -> dict:
    """For a page: the drawing, and in words what was assumed; or why there is none.

    `entered` are hull lines not stored yet, to be looked at first.
    """
    try:
        sheet, said = laid_out(vessel, shown, units, entered)
    except ValueError as error:
        return {"no_drawing": str(error)}
    return {"drawing": _safe(svg(sheet, shown.size)), **said}


def laid_out(
    vessel: Vessel, shown: Shown, units: str, entered: HullLines | None = None, paper: str = "A4"
) -> tuple[Sheet, dict]:
    """The sheet as plain shapes, and what is said of it. ValueError where she cannot be drawn.

    `paper` is what it folds out of.
    """
    entered = entered or hull_lines_of(vessel)
    lines = entered.lines()
    stations = entered.stations(lines, highest(shown.pieces))
    placed = place_all(shown.pieces, lines, stations, entered.hull)
    said = what_is_said(entered.assumed(lines), placed)
    title = replace(_title(vessel, shown, units, said["notes"]), paper=fold_out.of(paper))
    sheet = draw_sheet(
        lines, stations, placed, title, near=shown.near,
        says=f"Hull sheet of {vessel.name}: {shown.heading}. Each member is a link.",
    )  # fmt: skip
    return sheet, said


def _safe(drawing: str) -> SafeString:
    return mark_safe(drawing)  # every text in it is escaped where it is written


def _title(vessel: Vessel, shown: Shown, units: str, notes: Sequence[str]) -> Title:
    sizes = (("LOA", vessel.loa_mm), ("LWL", vessel.lwl_mm), ("Beam", vessel.beam_mm),
             ("Draught", vessel.draught_mm))  # fmt: skip
    particulars = tuple((name, size_for(mm, units) if mm else "–") for name, mm in sizes)
    counted = tuple(
        (state, figure, words, sum(each.state == state for each in shown.pieces if not each.faint))
        for state, figure, words in shown.legend
    )
    return Title(
        name=vessel.name,
        code=vessel.code,
        heading=shown.heading,
        yard=Yard.current().name,
        drawn_on=date_format(timezone.localdate(), "j F Y"),
        particulars=particulars,
        legend=counted,
        listed=tuple(shown.listed),
        notes=(*shown.notes, *notes),
        feet=units != "metric",
    )
