"""Where a board's heart lies, as entered or as its ring direction has it, and what speaks against
the words that stand in the record."""

from dataclasses import dataclass

from timber_stock.wood.outline import Point
from timber_stock.wood.ring_limits import BOXED, FLAT, QUARTER, RIFT
from timber_stock.wood.section_sheet import SectionSheet, assumed_pith_mm

from .board import Board, Heart, Rings, State

DIRECTIONS = {Rings.QUARTER: QUARTER, Rings.RIFT: RIFT, Rings.FLAT: FLAT}


@dataclass(frozen=True)
class HeartPlace:
    """The heart from the middle of the section; the top is None where it lies as at the butt."""

    butt_mm: Point
    top_mm: Point | None
    assumed_from: str = ""


def heart_place(board: Board) -> HeartPlace:
    """As entered; else as the recorded words have it. ValueError where neither says enough."""
    if butt := board.butt_heart_mm():
        return HeartPlace(butt, board.top_heart_mm())
    direction = BOXED if board.heart == Heart.IN else DIRECTIONS.get(board.rings)
    if direction is None:
        raise ValueError(
            "Neither where its heart lies nor its ring direction is recorded, so it cannot be told "
            "what its section will do."
        )
    words = board.get_heart_display() if direction == BOXED else board.get_rings_display()
    place = assumed_pith_mm(board.width_mm, board.thickness_mm, direction)
    return HeartPlace(place, None, words)


def measured_at_percent(board: Board, readings) -> float | None:
    """How dry it was when it was measured; None is green.

    A board sawn here was measured green. One bought sawn is as it was first read; without a
    reading a ValueError asks for one.
    """
    if board.sawing_id or board.state == State.GREEN:
        return None
    if not readings:
        raise ValueError(
            "It was bought sawn, and no reading says how dry it was then: enter one, and its "
            "movement is reckoned from that."
        )
    return min(readings, key=lambda one: one.reading.read_on).percent


def against_the_record(board: Board, sheet: SectionSheet) -> list[str]:
    """Where the heart as entered says otherwise than the words; the words stay as written."""
    said = []
    recorded = DIRECTIONS.get(board.rings)
    if recorded and not sheet.boxed_heart and recorded not in sheet.directions:
        found = " at the butt, ".join(WORDS[word] for word in sheet.directions)
        said.append(
            f"Recorded as {board.get_rings_display()}; where its heart is entered the rings stand "
            f"at {sheet.mean_deg:.0f}° in the mean, {found} by {sheet.limits.name}."
        )
    if sheet.boxed_heart and board.heart == Heart.CLEAR:
        said.append("Recorded as clear of heart; where its heart is entered, it has the heart in.")
    if not sheet.boxed_heart and board.heart == Heart.IN:
        said.append("Recorded with the heart in; where its heart is entered, it is clear of it.")
    return said


WORDS = {QUARTER: "quarter-sawn", RIFT: "rift", FLAT: "flat-sawn", BOXED: "boxed heart"}
