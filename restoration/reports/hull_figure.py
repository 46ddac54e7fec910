"""The hull sheet of a report, drawn from what it keeps: the same shapes for every format."""

from dataclasses import dataclass, replace

from restoration.drawings.hull import fold_out
from restoration.drawings.hull.assumed import said
from restoration.drawings.hull.paper import Sheet
from restoration.drawings.hull.pieces import Piece, place_all
from restoration.drawings.hull.sheet import draw_sheet
from restoration.drawings.hull.title_block import Title
from restoration.reports.content import ReportContent
from restoration.reports.pdf.words import day, length

STAND_OUT = ("3", "2", "1", "NE")


def hull_sheet(content: ReportContent) -> Sheet | None:
    """None where the report has none: she had no length yet, or it was issued without."""
    if content.hull is None:
        return None
    heading = f"Hull sheet: survey of {day(content.survey.surveyed_on)}"
    figure = Figure(content.hull.pieces, heading, _legend(content), _listed(content))
    return drawn(content, figure, "Every member has its mark and class.")


@dataclass(frozen=True)
class Figure:
    """What a sheet shows and says: legend rows are state, figure, words and how many."""

    pieces: tuple[Piece, ...]
    heading: str
    legend: tuple[tuple[str, str, str, int], ...]
    listed: tuple[tuple[str, tuple[str, ...]], ...]
    notes: tuple[str, ...] = ()


def drawn(content: ReportContent, figure: Figure, says: str) -> Sheet:
    """The hull that the report keeps, with these pieces on it; `says` is added to its words."""
    facts = content.hull
    told = {member.mark for member in content.members if member.finding}
    # A mark leads to its finding only where the report has one.
    pieces = [p if p.mark in told else replace(p, href="") for p in figure.pieces]
    placed = place_all(pieces, facts.lines, facts.stations, facts.hull)
    notes = (*figure.notes, *said(facts.assumed, placed)["notes"])
    return draw_sheet(
        facts.lines,
        facts.stations,
        placed,
        _title(content, figure, notes),
        says=f"Hull sheet of {content.vessel.name}. {figure.heading}. {says}",
    )


def _title(content: ReportContent, figure: Figure, notes: tuple[str, ...]) -> Title:
    v, units = content.vessel, content.units
    sizes = (("LOA", v.loa_mm), ("LWL", v.lwl_mm), ("Beam", v.beam_mm), ("Draught", v.draught_mm))
    return Title(
        name=v.name,
        code=v.code,
        heading=figure.heading,
        yard=content.yard.name,
        drawn_on=day(content.standing.on),
        particulars=tuple((name, length(mm, units, "–")) for name, mm in sizes),
        legend=figure.legend,
        listed=figure.listed,
        notes=notes,
        feet=units != "metric",
        paper=fold_out.of(content.paper),
    )


def _legend(content: ReportContent) -> tuple[tuple[str, str, str, int], ...]:
    states = [piece.state for piece in content.hull.pieces]
    classes = [("", "–", "no finding")]
    classes += [(c.grade, c.grade, c.label) for c in content.words.conditions]
    classes.append(("right", "new", "replaced since"))
    return tuple((state, figure, words, states.count(state)) for state, figure, words in classes)


def _listed(content: ReportContent) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The members that stand out, the worst first."""
    words = {c.grade: c.label for c in content.words.conditions}
    pieces = content.hull.pieces
    return tuple(
        (
            (f"CLASS {state}, {words[state]}" if state.isdigit() else words[state]).upper(),
            tuple(piece.mark for piece in pieces if piece.state == state),
        )
        for state in STAND_OUT
    )
