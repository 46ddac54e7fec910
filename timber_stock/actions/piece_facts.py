"""What a timber sawn to a plan is known to be: its heart side, ring direction and sapwood."""

from dataclasses import replace

from timber_stock.models.board import Heart, Rings
from timber_stock.models.plan_state import Told
from timber_stock.sawing.as_cut import Part
from timber_stock.sawing.judge_layout import judge_timber
from timber_stock.sawing.request import Request
from timber_stock.sawing.rest import hearts_in_section
from timber_stock.wood.ring_limits import USUAL

HEART_FIELDS = (
    "butt_heart_across_mm", "butt_heart_off_mm", "top_heart_across_mm", "top_heart_off_mm",
)  # fmt: skip


def heart_and_rings(told: Told, part: Part) -> dict:
    """The words that stock keeps for a piece, from its place in the log as the plan has it."""
    bolt, placed = told.layout[part.bolt], told.placed(part)
    timber = replace(told.request.wanted[placed.line], sapwood_allowed=False)
    alone = Request(told.request.log, told.request.saw, (timber,))
    judged = judge_timber(alone, bolt, replace(placed, line=0))
    word = USUAL.word(judged.ring_mean_deg)
    return {
        "heart": Heart.CLEAR if judged.heart_clearance_mm > 0 else Heart.IN,
        "rings": {"quarter": Rings.QUARTER, "rift": Rings.RIFT, "flat": Rings.FLAT}[word],
        "has_sapwood": judged.rooms.get("sapwood", 0.0) < 0,
    }


def hearts_of(told: Told, part: Part) -> dict[str, float]:
    """Where the heart lies from the middle of the piece's section, at its butt and its top end."""
    roll = told.layout[part.bolt].roll_deg
    butt, top = hearts_in_section(told.request, roll, part.sawn, told.placed(part).wide_x)
    return dict(zip(HEART_FIELDS, (*butt, *top), strict=True))
