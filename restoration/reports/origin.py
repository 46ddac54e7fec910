"""What the register can vouch for of a piece's origin, and what it cannot: no more is certified."""

from restoration.reports.content import TimberThread
from restoration.reports.timber_facts import TimberStep

STATES = (
    "It is a statement of origin from the yard's own records: no grade of strength, no class "
    "certificate, and no proof of lawful felling."
)


def origin(thread: TimberThread) -> tuple[str, ...]:
    """Sentences: what is vouched for, what is not on record, what it is worth."""
    piece, first = thread.steps[-1], thread.steps[0]
    vouched = f"{thread.mark} {thread.term} is taken from {piece.tag}, {piece.wood}"
    if piece is not first:
        vouched += f", which came through {_count(len(thread.steps) - 1)} out of {_named(first)}"
    lacking = _lacking(thread)
    said = [f"The yard's records show that {vouched}."]
    if lacking:
        said.append(f"Not on record: {', '.join(lacking)}.")
    return (*said, STATES)


def _named(first: TimberStep) -> str:
    came = f" ({first.came})" if first.came else ""
    return f"{first.word} {first.tag}{came}"


def _count(cuts: int) -> str:
    return "one sawing" if cuts == 1 else f"{cuts} sawings"


def _lacking(thread: TimberThread) -> list[str]:
    piece, first = thread.steps[-1], thread.steps[0]
    facts = (
        (first.word == "log", "the log it came out of"),
        (bool(first.came), "where it came from"),
        (first.came_on is not None, "when it was felled or bought"),
        (piece.heart not in ("", "not known"), "where its heart lies"),
        (piece.rings not in ("", "not known"), "its ring direction"),
        (thread.cut_on is not None, "when it was cut to the member"),
        (thread.fitted_on is not None, "when it was fitted"),
    )
    return [what for known, what in facts if not known]
