"""One timber cut four ways from the log, to be set side by side."""

from dataclasses import dataclass

from timber_stock.models import figures_of
from timber_stock.web.fields import LengthField
from timber_stock.wood.movement import Movement, movement
from timber_stock.wood.ring_limits import AUTHORITIES, RingLimits
from timber_stock.wood.scenario import Scenario, four_ways
from timber_stock.wood.section_sheet import SectionSheet, section_sheet
from timber_stock.wood.ways import Way, told

from .dried import DryingForm


@dataclass(frozen=True)
class CompareAnswer:
    ways: tuple[Way, ...]
    movement: Movement
    place: object

    @property
    def times(self) -> float:
        """How many times as much this wood shrinks along its rings as across them."""
        radial, tangential = self.movement.figures
        return float(tangential.value) / float(radial.value)


class CompareForm(DryingForm):
    width = LengthField(label="Width, green")
    thickness = LengthField(label="Thickness, green")
    away = LengthField(
        label="Heart to its middle",
        required=False,
        help_text="for the three without it; empty: a piece's own diagonal away",
    )

    field_order = ["wood", "width", "thickness", "away"]

    def reckon(self, asked) -> CompareAnswer:
        percent, place = self.settled(asked)
        moved = movement(figures_of(asked["wood"]), percent)
        if min(asked["width"], asked["thickness"]) <= 0:
            raise ValueError("The width and thickness must be more than nothing.")
        wide, thick = sorted((asked["width"], asked["thickness"]), reverse=True)
        shapes = four_ways(
            wide,
            thick,
            moved.radial_percent,
            moved.tangential_percent,
            asked["away"],
        )
        limits = AUTHORITIES[asked["limits"]]
        ways = (Way(each.name, told(each.name), _sheet(each, moved, limits)) for each in shapes)
        return CompareAnswer(tuple(ways), moved, place)


def _sheet(shape: Scenario, moved: Movement, limits: RingLimits) -> SectionSheet:
    return section_sheet(shape.outline_mm, shape.pith_mm, None, moved, limits)


def begin_compare(units: str, limits: str) -> dict[str, str]:
    sizes = ("150 mm", "75 mm") if units == "metric" else ("6 in", "3 in")
    return {
        "width": sizes[0], "thickness": sizes[1], "away": "", "place": "topsides", "moisture": "",
        "limits": limits, "exaggeration": "5",
    }  # fmt: skip
