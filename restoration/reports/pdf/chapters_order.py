"""The order of work: which members are out in which turn, what holds her, and her sheet with it."""

from dataclasses import replace

from reportlab.platypus import Flowable, Spacer

from restoration.drawings.hull.paper import Sheet
from restoration.drawings.hull.pieces import Piece
from restoration.reports.content import ReportContent
from restoration.reports.hull_figure import Figure, drawn
from restoration.reports.order_of_work import OrderOfWork, TurnTold
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.hull_sheet import HullSheet
from restoration.reports.pdf.keeping import stays
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.page import SIZES, folded_out
from restoration.reports.pdf.parts import bold, caution, marked, seen, subheading, text, title_block
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.words import day, number

SIDES = {"P": "port", "S": "starboard", "B": "both sides"}
STATES = {"to come": "later", "begun": "out", "done": "back"}
WORDS = {"out": "out now", "later": "to come", "back": "back: its turn is done", "": "stays in"}
HATCHED = ("out", "later", "back")


def order_of_work(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    """Nothing where no order of work was in force, or the report is older than they are."""
    order = content.order
    if order is None:
        return []
    story: list[Flowable] = [
        text(
            "Neighbouring members are never out at once, or the hull moves. They come out in "
            "turns; a turn is back in place before its neighbours go out."
        ),
        title_block(_particulars(order), width),
        Spacer(1, 6),
        *(text(said) for said in (_fixed(order), order.fewest, order.measure) if said),
        caution(order.caution, width),
        *_not_as_asked(order),
    ]
    for turn in order.turns:
        story += _turn(turn, width)
    story += _usual(order)
    story.append(text(order.neighbour_rule, "small"))
    return [*story, *_sheet_page(content)]


def _particulars(order: OrderOfWork) -> list[tuple[str, str]]:
    out = sum(len(turn.members) for turn in order.turns)
    most = "no limit" if order.most_out is None else str(order.most_out)
    return [
        ("Accepted", f"{day(order.accepted_on)}, {order.accepted_by}"),
        ("Members, turns", f"{out} in {len(order.turns)}"),
        ("Never more out at once than", most),
    ]


def _fixed(order: OrderOfWork) -> str:
    return f"Fixed by the yard: {'; '.join(order.fixed)}." if order.fixed else ""


def _not_as_asked(order: OrderOfWork) -> list[Flowable]:
    if not order.not_as_asked:
        return []
    return [*subheading("Not as asked, as it stands"), *(text(s) for s in order.not_as_asked)]


def _turn(turn: TurnTold, width: float) -> list[Flowable]:
    columns = [Column("Member", 40), Column("Side", 25), Column("Station", 25), Column("", 80)]
    rows = [
        Row([
            marked(f"{seen(out.mark, 'order of work')}{bold(out.mark)} {markup(out.term)}", "cell"),
            SIDES.get(out.side, "centreline"),
            _stations(out.station_from, out.station_to),
            f"Put here although something stood against it: {out.reason}" if out.reason else "",
        ])
        for out in turn.members
    ]  # fmt: skip
    table = [schedule(columns, rows, width)] if rows else [text("Nobody is out in this turn.")]
    own = [text(f"Shores and ribbands: {turn.note}", "small")] if turn.note else []
    return [*subheading(_title(turn)), *table, *own]


def _title(turn: TurnTold) -> str:
    begun = f", begun {day(turn.begun_on)}" if turn.begun_on else ""
    done = f", done {day(turn.done_on)}" if turn.done_on else ""
    return f"Turn {turn.number}: {len(turn.members)} out{begun}{done}"


def _usual(order: OrderOfWork) -> list[Flowable]:
    """What common practice proposes, once for all the members it is proposed for."""
    notes = order.usual_once()
    if not notes:
        return []
    lead = stays(text(order.usual_standing, "small"))
    return [
        *subheading("What usually holds her while they are out"), lead,
        *(text(f"– {', '.join(marks)}: {note}", "small") for note, marks in notes.items()),
    ]  # fmt: skip


def _stations(start: float | None, end: float | None) -> str:
    if start is None:
        return "–"
    return number(start) if end in (None, start) else f"{number(start)} to {number(end)}"


def _sheet_page(content: ReportContent) -> list[Flowable]:
    """Her sheet with the turn of each member beside its mark, on a fold-out page."""
    sheet = order_sheet(content)
    if sheet is None:
        return []
    size = SIZES.get(content.paper, SIZES["A4"])
    return folded_out(lambda wide, tall: HullSheet(sheet, wide, tall), size)


def order_sheet(content: ReportContent) -> Sheet | None:
    """None where the report has no order of work or no hull that can be drawn."""
    if content.hull is None or content.order is None:
        return None
    turns = {out.mark: turn for turn in content.order.turns for out in turn.members}
    pieces = tuple(_piece(piece, turns.get(piece.mark)) for piece in content.hull.pieces)
    states = [piece.state for piece in pieces]
    legend = tuple((s, "n" if s else "–", WORDS[s], states.count(s)) for s in (*HATCHED, ""))
    listed = tuple(
        (f"TURN {turn.number}, {turn.state.upper()}", tuple(out.mark for out in turn.members))
        for turn in content.order.turns
    )
    heading = f"Order of work, accepted {day(content.order.accepted_on)}"
    notes = ("The figure beside a mark, n, is the turn in which that member is out.",)
    figure = Figure(pieces, heading, legend, listed, notes)
    return drawn(content, figure, "Each member that comes out has the number of its turn.")


def _piece(piece: Piece, turn: TurnTold | None) -> Piece:
    """Those that stay in keep their shape and lose their mark, so that the others are read."""
    if turn is None:
        return replace(piece, state="", badge="", faint=True, title=f"{piece.mark}: stays in")
    title = f"{piece.mark}: turn {turn.number}, {turn.state}"
    state = STATES[turn.state]
    return replace(piece, state=state, badge=str(turn.number), faint=False, title=title)
