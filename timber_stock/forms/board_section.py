from dataclasses import dataclass

from timber_stock.models import Board
from timber_stock.models.board_section import (
    HeartPlace,
    against_the_record,
    heart_place,
    measured_at_percent,
)
from timber_stock.wood.movement import movement
from timber_stock.wood.ring_limits import AUTHORITIES
from timber_stock.wood.section_sheet import SectionSheet, centred_mm, section_sheet
from timber_stock.wood.species import Species as Wood

from .dried import DryingForm


@dataclass(frozen=True)
class BoardAnswer:
    sheet: SectionSheet
    heart: HeartPlace
    place: object
    against: list[str]


class BoardSectionForm(DryingForm):
    """What the section of one board will do: asked on its own page."""

    prefix = "section"

    def __init__(self, *args, board: Board, figures: Wood, readings, limits: str, **options):
        begin = {"place": "topsides", "limits": limits, "exaggeration": "5"}
        asked = {**{f"section-{name}": value for name, value in begin.items()}, **args[0]}
        super().__init__(asked, *args[1:], **options)
        del self.fields["wood"]
        self.board, self.figures, self.readings = board, figures, readings

    def reckon(self, asked) -> BoardAnswer:
        board = self.board
        percent, place = self.settled(asked)
        heart = heart_place(board)
        moved = movement(self.figures, percent, measured_at_percent(board, self.readings))
        sheet = section_sheet(
            centred_mm(board.width_mm, board.thickness_mm),
            heart.butt_mm,
            heart.top_mm,
            moved,
            AUTHORITIES[asked["limits"]],
        )
        against = [] if heart.assumed_from else against_the_record(board, sheet)
        return BoardAnswer(sheet, heart, place, against)
