"""What matching is told: the free lengths of boards, and what replacements need of them.

Sizes in mm, moistures in percent. Boards, woods and replacements are named by any whole number.
"""

from __future__ import annotations

from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite
from restoration.calc.sawn_green import MOULDED, SIDED, usual_face
from timber_stock.wood.ring_limits import FLAT, QUARTER, RIFT

Place = tuple[float, float]
HEARTS = ("clear", "in", "unknown")
TURNED = {QUARTER: FLAT, FLAT: QUARTER}


@dataclass(frozen=True)
class Offer:
    """One free length of a board: from and to, from its butt end, checks at the ends cut away.

    heart: clear, in or unknown, as the record has it. butt_heart_mm and top_heart_mm: where the
    heart lies from the middle of the section (along the width, across the thickness) at the two
    ends of the board, where that was measured. rings: the ring direction on its wide face as
    recorded. percent: its last moisture reading; None where none was taken. money_per_mm3: what
    it is worth, in the yard's currency; None where nobody said.
    """

    board: int
    wood: int
    thickness_mm: float
    width_mm: float
    board_length_mm: float
    from_mm: float
    to_mm: float
    heart: str = "unknown"
    butt_heart_mm: Place | None = None
    top_heart_mm: Place | None = None
    rings: str = "unknown"
    has_sapwood: bool = False
    state: str = "green"
    percent: float | None = None
    money_per_mm3: float | None = None

    def __post_init__(self) -> None:
        for name in ("thickness_mm", "width_mm", "board_length_mm"):
            above_zero(getattr(self, name), name.replace("_mm", "").replace("_", " "))
        if finite(self.from_mm, "start") < 0 or finite(self.to_mm, "end") <= self.from_mm:
            raise ValueError("A length runs from a lower to a higher distance from the butt end.")
        if self.heart not in HEARTS:
            raise ValueError(f"{self.heart!r} says nothing of the heart.")

    @property
    def length_mm(self) -> float:
        return self.to_mm - self.from_mm

    @property
    def section_mm2(self) -> float:
        return self.thickness_mm * self.width_mm


@dataclass(frozen=True)
class Need:
    """What one replacement needs: its finished size, its wood and what the wood must be.

    woods: the one asked for, then the others acceptable. rings_face: sided, moulded or empty for
    the wide one. service_percent: how dry it comes where it serves; None where that is not said.
    ask_mm: the section to ask of the saw, for wood that still shrinks; None where not reckoned.
    """

    key: int
    woods: tuple[int, ...]
    sided_mm: float
    moulded_mm: float
    length_mm: float
    clear_of_heart: bool = True
    sapwood_allowed: bool = False
    rings: str = "any"
    rings_face: str = ""
    seasoning: str = "green"
    moisture_percent: float | None = None
    service_percent: float | None = None
    ask_mm: tuple[float, float] | None = None

    def __post_init__(self) -> None:
        for name in ("sided_mm", "moulded_mm", "length_mm"):
            above_zero(getattr(self, name), name.replace("_mm", ""))
        if not self.woods:
            raise ValueError("Say at least one wood that will do.")
        if self.rings not in ("any", QUARTER, RIFT, FLAT):
            raise ValueError(f"{self.rings!r} is no ring direction.")
        if self.rings_face not in ("", SIDED, MOULDED):
            raise ValueError("The rings are judged on the sided face or on the moulded.")

    @property
    def rings_on_wide_face(self) -> str:
        """The word for the same rings on the wide face, as boards are recorded."""
        wide = usual_face(self.sided_mm, self.moulded_mm)
        if self.sided_mm == self.moulded_mm or self.rings_face in ("", wide):
            return self.rings
        return TURNED.get(self.rings, self.rings)

    @property
    def volume_mm3(self) -> float:
        return self.sided_mm * self.moulded_mm * self.length_mm
