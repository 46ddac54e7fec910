"""The ways a timber may be cut, each with the sentence that says to anyone what comes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from timber_stock.wood.movement import Movement
from timber_stock.wood.ring_limits import BOXED, FLAT, QUARTER, RIFT, RingLimits
from timber_stock.wood.section_sheet import (
    End,
    SectionSheet,
    centred_mm,
    pith_for_direction_mm,
    section_sheet,
)

TOLD = {
    QUARTER: "The rings stand upright to {face}. It shrinks least across that face, stays flat and "
    "nearly square. It wants a big log and leaves more of it over.",
    RIFT: "The rings run slantwise to {face}. It stays fairly flat but leans out of square, like a "
    "diamond.",
    FLAT: "The rings lie along {face}. It shrinks most across that face and cups, hollow on the "
    "side away from the heart.",
    BOXED: "The heart is inside it. Its rings cannot close as they shrink, so it opens from one "
    "face to the heart. It comes out of the smallest log.",
}
WIDE, NARROW = "the wide face", "the narrow face, on which they are judged"


def told(direction: str, face: str = WIDE) -> str:
    """What is told of a ring direction to a face."""
    return TOLD[direction].format(face=face)


@dataclass(frozen=True)
class Way:
    """One way: quarter, rift, flat or boxed heart, what is told of it, and its reckoning."""

    name: str
    told: str
    sheet: SectionSheet

    @property
    def end(self) -> End:
        return self.sheet.ends[0]


def ways_to_cut(
    across_mm: float,
    upright_mm: float,
    directions: Sequence[str],
    moved: Movement,
    limits: RingLimits,
    upright_face: bool = False,
) -> tuple[Way, ...]:
    """One section cut so that it shows each ring direction to one of its faces.

    across_mm along x, upright_mm along y, at the moisture where `moved` begins. The directions are
    to the face along x, or to the upright one. Raises ValueError as `section_sheet` does and for a
    word that is no direction.
    """
    outline = centred_mm(across_mm, upright_mm)
    judged = upright_mm if upright_face else across_mm
    face = WIDE if judged >= max(across_mm, upright_mm) else NARROW
    return tuple(
        Way(
            name,
            told(name, face),
            section_sheet(
                outline,
                _pith(across_mm, upright_mm, name, upright_face),
                None,
                moved,
                limits,
                90.0 if upright_face else 0.0,
            ),
        )
        for name in directions
    )


def _pith(
    across_mm: float, upright_mm: float, name: str, upright_face: bool
) -> tuple[float, float]:
    if not upright_face:
        return pith_for_direction_mm(across_mm, upright_mm, name)
    along, off = pith_for_direction_mm(upright_mm, across_mm, name)
    return (off, along)
