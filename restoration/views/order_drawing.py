"""One turn of an order of work on the hull sheet: who is out, who is back, who is to come."""

from collections.abc import Sequence

from restoration.actions.order_facts import OrderFacts
from restoration.drawings.hull.pieces import Piece
from restoration.models import Member, Turn
from restoration.views.hull_drawing import Shown, draw
from restoration.views.hull_sizes import size_of, sizes
from restoration.views.hull_state import piece_of
from timber_stock.web.pages import own_units

OUT, BACK, LATER = "out", "back", "later"
WORDS = {OUT: "out in this turn", BACK: "back from an earlier turn", LATER: "out in a later turn"}
NOTES = ("Figures in boxes are turns.", "Faint: stays in and touches none that is out.")
MOST_TOLD = 2
STAYS = "holds: neighbour of one out, in no turn"


def turn_drawing(request, facts: OrderFacts, turn: Turn, against: Sequence[str]) -> dict:
    """For the page of a turn: the drawing, and the sizes to look at it in.

    `against`: what in this turn is not as asked, for the printed sheet to say too.
    """
    holding = holding_of(facts, turn)
    pieces = [_piece(facts, turn, member, member in holding) for member in facts.members]
    shown = Shown(
        pieces=pieces,
        heading=f"Order of work: turn {turn.number} of {len(facts.turns)}",
        legend=_legend(turn),
        listed=_listed(facts, turn, holding),
        notes=(*_not_as_asked(against), *NOTES),
        near="S" if request.GET.get("side") == "S" else "P",
        size=size_of(request),
    )
    first = turn.listed[0].member_id if turn.listed else None
    return {"sizes": sizes(request, first)} | draw(facts.order.vessel, shown, own_units(request))


def _not_as_asked(against: Sequence[str]) -> list[str]:
    """The foot of the sheet has room for a few; the page and the printed order have them all."""
    told = [f"Not as asked: {said}" for said in against[:MOST_TOLD]]
    left = len(against) - len(told)
    return [*told, f"And {left} more not as asked: see the order of work."] if left else told


def holding_of(facts: OrderFacts, turn: Turn) -> list[Member]:
    """The neighbours of those out, which must stay in meanwhile, along the hull."""
    gone = {place.member.mark for place in turn.listed}
    marks = {
        other
        for each in facts.all_neighbours
        for one, other in ((each.one, each.other), (each.other, each.one))
        if one in gone and other not in gone
    }
    return [member for member in facts.members if member.mark in marks]


def _piece(facts: OrderFacts, turn: Turn, member: Member, holds: bool) -> Piece:
    at = facts.turn_of.get(member.pk)
    if at is None:
        title = f"{member.mark}, {member.one()}: stays in"
        return piece_of(member, title=title, faint=not holds)
    state = _state(at.number, turn.number)
    title = f"{member.mark}, {member.one()}: turn {at.number}, {WORDS[state]}"
    return piece_of(member, state=state, badge=str(at.number), title=title)


def _state(number: int, now: int) -> str:
    return OUT if number == now else BACK if number < now else LATER


def _legend(turn: Turn) -> list[tuple[str, str, str]]:
    figures = {OUT: str(turn.number), BACK: f"<{turn.number}", LATER: f">{turn.number}"}
    return [*((state, figures[state], words) for state, words in WORDS.items()), ("", "–", STAYS)]


def _listed(facts: OrderFacts, turn: Turn, holding: list[Member]) -> list:
    def marks(state: str) -> tuple[str, ...]:
        return tuple(
            member.mark for member in facts.out
            if _state(facts.turn_of[member.pk].number, turn.number) == state
        )  # fmt: skip

    # Those of another turn hold too: the list below the drawing counts them, so this one does.
    holds = tuple(member.mark for member in holding)
    heads = [("OUT IN THIS TURN", marks(OUT)), ("MUST HOLD MEANWHILE", holds)]
    return [*heads, ("BACK", marks(BACK)), ("TO COME", marks(LATER))]
