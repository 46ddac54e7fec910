"""What a pattern needs from the wood, all of it together."""

from __future__ import annotations

from dataclasses import dataclass, replace

from restoration.calc.pattern import Pattern, outline_polygon
from restoration.calc.pattern_needs_bolts import HeartLine, HoleCheck, check_holes
from restoration.calc.pattern_needs_crook import Crook, natural_crook
from restoration.calc.pattern_needs_midline import Midline, line_as_midline, midline
from restoration.calc.pattern_needs_runout import RunOut, run_out, straightest_deg
from restoration.calc.pattern_needs_sizes import (
    Blank,
    blank_along,
    folded_deg,
    smallest_flitch,
    smallest_rectangle,
)
from timber_stock.wood.checked import between

CENTRE_SHARE = 0.6
"""A centreline shorter than this share of the middle line runs across the timber, not along it."""


@dataclass(frozen=True)
class Way:
    """One way of laying the pattern on straight-grained timber, or several that come to the same.

    `keys` are of drawn, straightest, rectangle and flitch. `grain_deg` is the direction of the
    grain on the pattern, `blank` the piece it comes out of, `runs` the run-out along the middle
    line, None where no such line can be told.
    """

    keys: tuple[str, ...]
    words: str
    grain_deg: float
    blank: Blank
    runs: RunOut | None

    @property
    def key(self) -> str:
        return self.keys[0]


@dataclass(frozen=True)
class Needs:
    """`ways` in the order drawn, straightest, rectangle, flitch; equal ones are told once."""

    ways: tuple[Way, ...]
    line: Midline | None
    no_line: str
    crook: Crook | None
    holes: tuple[HoleCheck, ...]
    area_mm2: float
    sided_mm: float

    @property
    def volume_mm3(self) -> float:
        return self.area_mm2 * self.sided_mm

    def yield_of(self, blank: Blank) -> float:
        """The share of a blank that becomes the timber, 0 to 1."""
        return self.area_mm2 / blank.area_mm2


def needs_of(pattern: Pattern, heart: HeartLine | None = None) -> Needs:
    """What the pattern (as `pattern.checked` lets it through) needs from the wood."""
    line, why = _line_of(pattern)
    return Needs(
        ways=tuple(_ways(pattern, line)),
        line=line,
        no_line=why,
        crook=natural_crook(line, pattern.outline_mm) if line else None,
        holes=tuple(check_holes(pattern, pattern.grain_deg, heart)),
        area_mm2=float(outline_polygon(pattern).area),
        sided_mm=between(pattern.sided_mm, 0.1, 5000, "The siding", " mm"),
    )


def _line_of(pattern: Pattern) -> tuple[Midline | None, str]:
    """The centreline where one is drawn along the timber, else the middle of its outline."""
    try:
        found = midline(pattern.outline_mm)
    except ValueError as error:
        return None, str(error)
    for drawn in pattern.lines:
        if drawn.kind == "centre":
            line = line_as_midline(drawn.points_mm, found.width_mm)
            if line.length_mm > CENTRE_SHARE * found.length_mm:
                return line, ""
    return found, ""


def _ways(pattern: Pattern, line: Midline | None) -> list[Way]:
    outline = pattern.outline_mm
    rectangle, flitch = smallest_rectangle(outline), smallest_flitch(outline)
    asked: list[tuple[str, str, float, Blank | None]] = [
        ("drawn", "grain as drawn on the pattern", pattern.grain_deg, None)
    ]
    if line:
        best = straightest_deg(line)
        asked.append(("straightest", "grain laid for the least run-out", best, None))
    asked += [
        ("rectangle", "smallest rectangle, grain along it", rectangle.turned_deg, rectangle),
        ("flitch", "narrowest flitch, grain along it", flitch.turned_deg, flitch),
    ]
    ways: list[Way] = []
    for key, words, grain, blank in asked:
        same = next((w for w in ways if abs(folded_deg(w.grain_deg - grain)) < 0.05), None)
        if same:
            both = replace(same, keys=(*same.keys, key), words=f"{same.words}; {words}")
            ways[ways.index(same)] = both
            continue
        runs = run_out(line, grain) if line else None
        ways.append(Way((key,), words, grain, blank or blank_along(outline, grain), runs))
    return ways
