"""Why a piece is left out of a layout, in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from restoration.calc.nesting_fit import Fits
from restoration.calc.nesting_lawful import thickness_faults
from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place
from restoration.calc.nesting_search import Request, lyings_of
from restoration.calc.nesting_sheet import usable


def why_left_out(request: Request, places: Sequence[Place]) -> dict[str, str]:
    """A sentence for each piece that is not laid out, by its key.

    Whether a piece fits at all is tried at the angles the search turns it by, and no others.
    """
    laid = {place.key for place in places}
    return {piece.key: _why(request, piece) for piece in request.pieces if piece.key not in laid}


def _why(request: Request, piece: Piece) -> str:
    sheet = request.sheet
    if said := thickness_faults(sheet, piece):
        return said[0]
    if usable(sheet, sapwood=piece.sapwood_allowed).is_empty:
        return f"{piece.label} may have no sapwood in it, and nothing else is left here."
    if _fits_alone(request, piece):
        return f"{piece.label} would fit, but no room was found for it beside the others."
    if not piece.sapwood_allowed and usable(sheet, sapwood=True) != usable(sheet, sapwood=False):
        beyond = "Turned farther off the grain, or with sapwood in it, it might."
    else:
        beyond = "Turned farther off the grain it might."
    return (
        f"{piece.label} fits nowhere on the clear face, even alone, within {piece.turn_deg:g}° of "
        f"the grain. {beyond}"
    )


def _fits_alone(request: Request, piece: Piece) -> bool:
    fits = Fits(request.sheet, (piece,), request.gap_mm, boxes=False)
    return any(
        not fits.inner(lying, piece.sapwood_allowed).is_empty
        for lying in lyings_of(fits, piece, request.sheet)
    )
