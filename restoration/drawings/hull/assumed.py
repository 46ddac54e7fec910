"""What a hull sheet takes for granted, in words: for the page, and as notes on the sheet."""

from collections.abc import Iterable, Sequence

from restoration.drawings.hull.pieces import Piece, Placed


def highest(pieces: Iterable[Piece]) -> float | None:
    """The highest station that any piece speaks of."""
    ends = (end for each in pieces for end in (each.station_from, each.station_to))
    return max((end for end in ends if end is not None), default=None)


def said(assumed: Sequence[str], placed: Sequence[Placed]) -> dict[str, list[str]]:
    """`assumed`, `guessed`, `astray`: names and marks; `notes`: the same as sentences."""
    guessed = [each.piece.mark for each in placed if each.assumed]
    astray = [each.piece.mark for each in placed if each.astray]
    notes = []
    if assumed:
        notes.append(f"Assumed, for want of a figure: {', '.join(assumed)}.")
    if guessed:
        notes.append(f"Dashed, at a usual place for want of a station: {', '.join(guessed)}.")
    if astray:
        notes.append(f"Their stations run off the hull: {', '.join(astray)}.")
    return {"assumed": list(assumed), "guessed": guessed, "astray": astray, "notes": notes}
