"""What a log holds: true volumes by formula, and board feet by the named log rules.

A true volume is in cubic millimetres. A log rule's board feet are an estimate of the one-inch
boards a log would give, made a century or two ago for that day's saws; the same log scales
differently by each rule, heavy timbers overrun them all, and they are never the same quantity
as the board feet of boards already sawn. Every measure is taken under the bark. The figures
are for reckoning and buying, not for lifting: a log's weight is another matter.

Each function refuses a figure that is missing, endless or below nought with a ValueError.
"""

import math
from collections.abc import Callable
from typing import NamedTuple

from timber_stock.measure import INCHES_PER_FOOT, inches_from_mm

LONGEST_SCALED_FT = 20.0
# An exact half or limit in inches comes through millimetres by this hair over or under.
SLIVER = 1e-9
SECTION_FT = 4.0
SECTION_TAPER_IN = 0.5
# The ratio that the statutes print; it is 19/21, from 1 in of board, 1/16 in of shrinkage
# and a kerf of 1/8 in against 1/4 in.
QUARTER_INCH_KERF = 0.904762
# Board feet to the foot of length for small ends of 12, 13, ... 37 in.
DECIMAL_C_FIRST_IN = 12
DECIMAL_C_BF_PER_FT = (
    *(4.900, 6.043, 7.140, 8.880, 10.000, 11.528, 13.290, 14.990, 17.499, 18.990, 20.880),
    *(23.510, 25.218, 28.677, 31.249, 34.220, 36.376, 38.040, 41.060, 44.376, 45.975, 48.990),
    *(50.000, 54.688, 57.660, 64.319),
)


def ellipse_area_mm2(diameter_mm: float, other_diameter_mm: float) -> float:
    """Area of an oval end from its two diameters in mm: pi d1 d2 / 4, in mm2."""
    _require_real(diameter_mm, other_diameter_mm)
    return math.pi * diameter_mm * other_diameter_mm / 4


def smalian_mm3(small_area_mm2: float, large_area_mm2: float, length_mm: float) -> float:
    """L (As + Al) / 2: exact for a cylinder and a paraboloid, never less than a cone.

    It overstates a flared butt, by some 3 % in a worked case. Source: university teaching page
    on cubic log volume.
    """
    _require_real(small_area_mm2, large_area_mm2, length_mm)
    return length_mm * (small_area_mm2 + large_area_mm2) / 2


def huber_mm3(middle_area_mm2: float, length_mm: float) -> float:
    """L Am, by the area half way along: exact for a cylinder and a paraboloid. From memory."""
    _require_real(middle_area_mm2, length_mm)
    return length_mm * middle_area_mm2


def newton_mm3(
    small_area_mm2: float, middle_area_mm2: float, large_area_mm2: float, length_mm: float
) -> float:
    """L (As + 4 Am + Al) / 6: exact for cylinder, cone, paraboloid and neiloid. From memory."""
    _require_real(small_area_mm2, middle_area_mm2, large_area_mm2, length_mm)
    return length_mm * (small_area_mm2 + 4 * middle_area_mm2 + large_area_mm2) / 6


def cone_frustum_mm3(small_area_mm2: float, large_area_mm2: float, length_mm: float) -> float:
    """L (As + sqrt(As Al) + Al) / 3: exact for an even taper.

    Source: university teaching page on cubic log volume.
    """
    _require_real(small_area_mm2, large_area_mm2, length_mm)
    between_mm2 = math.sqrt(small_area_mm2) * math.sqrt(large_area_mm2)
    return length_mm * (small_area_mm2 + between_mm2 + large_area_mm2) / 3


def neiloid_frustum_mm3(small_area_mm2: float, large_area_mm2: float, length_mm: float) -> float:
    """L (As + cbrt(As^2 Al) + cbrt(As Al^2) + Al) / 4: for the hollow swell of a butt.

    Source: university teaching page on cubic log volume.
    """
    _require_real(small_area_mm2, large_area_mm2, length_mm)
    small, large = math.cbrt(small_area_mm2), math.cbrt(large_area_mm2)
    return length_mm * (small**3 + small**2 * large + small * large**2 + large**3) / 4


def doyle_bf(small_diameter_mm: float, length_mm: float) -> float:
    """Doyle: (D - 4)^2 L / 16 board feet, D the small end in inches, L in feet.

    Not below 4 in, where the formula turns and rises again, nor over 20 ft. It underscales
    small logs and overscales large ones. Source: a published Doyle table, 8-36 in x 8-20 ft,
    whose every cell is this formula rounded half up.
    """
    inches, feet = _scaled(small_diameter_mm, length_mm, smallest_in=4)
    return (inches - 4) ** 2 * feet / 16


def scribner_bf(small_diameter_mm: float, length_mm: float) -> float:
    """Scribner, the formula fitted to the diagrams of 1846: (0.79 D^2 - 2 D - 4) L / 16.

    Board feet for D from 6 in, L to 20 ft. Source: Clemson Extension, guide on small timber
    volumes, table 1: the formula is within 1 bd ft of all 63 cells read. Not Decimal C.
    """
    inches, feet = _scaled(small_diameter_mm, length_mm, smallest_in=6)
    return (0.79 * inches**2 - 2 * inches - 4) * feet / 16


def scribner_decimal_c_bf(small_diameter_mm: float, length_mm: float) -> float:
    """Scribner Decimal C from its table: factor x L to the nearest 10 bd ft.

    The small end is taken to the nearest whole inch, an exact half dropped, and must come to
    12-37 in; L is at most 20 ft. The table is not the Scribner formula rounded, so outside it
    there is no answer. Source: the agency's list of factors in a public copy, agreeing with
    cells in the Farm and Garden Rule-Book and a Virginia extension table.
    """
    inches, feet = _scaled(small_diameter_mm, length_mm, smallest_in=0)
    row = math.ceil(inches - 0.5 - SLIVER) - DECIMAL_C_FIRST_IN
    if not 0 <= row < len(DECIMAL_C_BF_PER_FT):
        raise ValueError("The Scribner Decimal C table used here runs from 12 to 37 in small end.")
    return tabled(DECIMAL_C_BF_PER_FT[row] * feet, step=10)


def international_eighth_inch_bf(small_diameter_mm: float, length_mm: float) -> float:
    """International rule for a 1/8 in kerf: 0.22 D^2 - 0.71 D for each 4 ft, summed.

    Each section is 1/2 in larger than the one above it. A part of a section counts by its
    length (from memory). Board feet for D from 4 in, L to 20 ft. Source: Michigan Compiled
    Laws 290.401; Massachusetts General Laws ch. 96 s. 11A.
    """
    inches, feet = _scaled(small_diameter_mm, length_mm, smallest_in=4)
    total_bf = 0.0
    while feet > 0:
        total_bf += (0.22 * inches**2 - 0.71 * inches) * min(feet / SECTION_FT, 1.0)
        feet -= SECTION_FT
        inches += SECTION_TAPER_IN
    return total_bf


def international_quarter_inch_bf(small_diameter_mm: float, length_mm: float) -> float:
    """International rule for a 1/4 in kerf: the 1/8 in rule times 0.904762.

    Same limits. Printed tables round to the nearest 5 bd ft and differ from the formula by one
    such step now and then. Source: the same two statutes.
    """
    return QUARTER_INCH_KERF * international_eighth_inch_bf(small_diameter_mm, length_mm)


def hoppus_feet(middle_girth_mm: float, length_mm: float) -> float:
    """Hoppus feet: (quarter girth in inches)^2 x L in feet / 144, girth at mid length.

    One hoppus foot is 4/pi true cubic feet, so the figure is 78.54 % of the true volume.
    Source: encyclopaedia and woodland pages on the British measure.
    """
    _require_real(middle_girth_mm, length_mm)
    quarter_girth_in = inches_from_mm(middle_girth_mm) / 4
    return quarter_girth_in**2 * inches_from_mm(length_mm) / INCHES_PER_FOOT / 144


def tabled(exact: float, step: int = 1) -> float:
    """A rule's figure as its tables print it: the nearest `step`, halves upward."""
    _require_real(exact)
    return float(step * math.floor(exact / step + 0.5 + SLIVER))


class Rule(NamedTuple):
    """A named rule to offer: `volume` takes top, butt, middle diameters and length, all in mm.

    `unit` is ``mm3``, ``bd ft`` or ``hoppus ft``; `needs_middle` says that the diameter half
    way along must have been measured; `source` is the sentence to print beside the figure.
    """

    label: str
    volume: Callable[[float, float, float, float], float]
    unit: str
    source: str
    needs_middle: bool = False


RULES: dict[str, Rule] = {
    "smalian": Rule(
        "Smalian, by both ends",
        lambda top, butt, middle, length: smalian_mm3(_round(top), _round(butt), length),
        "mm3",
        "Smalian's formula, length times the mean of the end areas; university teaching page on "
        "cubic log volume. It overstates a flared butt.",
    ),
    "cone": Rule(
        "Cone frustum, by both ends",
        lambda top, butt, middle, length: cone_frustum_mm3(_round(top), _round(butt), length),
        "mm3",
        "The frustum of a cone, exact for an even taper; university teaching page on cubic log "
        "volume.",
    ),
    "neiloid": Rule(
        "Neiloid frustum, for a swelled butt",
        lambda top, butt, middle, length: neiloid_frustum_mm3(_round(top), _round(butt), length),
        "mm3",
        "The frustum of a neiloid; university teaching page on cubic log volume.",
    ),
    "huber": Rule(
        "Huber, by the middle",
        lambda top, butt, middle, length: huber_mm3(_round(middle), length),
        "mm3",
        "Huber's formula, length times the area half way along; from memory.",
        needs_middle=True,
    ),
    "newton": Rule(
        "Newton, by both ends and the middle",
        lambda top, butt, middle, length: newton_mm3(
            _round(top), _round(middle), _round(butt), length
        ),
        "mm3",
        "Newton's (prismoidal) formula; from memory, and exact for the cone when reckoned.",
        needs_middle=True,
    ),
    "doyle": Rule(
        "Doyle",
        lambda top, butt, middle, length: doyle_bf(top, length),
        "bd ft",
        "Doyle rule, (D - 4)² L / 16 by the small end; it reproduces every cell read of a "
        "published table. It underscales small logs.",
    ),
    "scribner": Rule(
        "Scribner (formula)",
        lambda top, butt, middle, length: scribner_bf(top, length),
        "bd ft",
        "Scribner rule by its fitted formula, (0.79 D² - 2 D - 4) L / 16, within 1 bd ft of "
        "Clemson Extension, guide on small timber volumes, table 1.",
    ),
    "scribner_decimal_c": Rule(
        "Scribner Decimal C (table)",
        lambda top, butt, middle, length: scribner_decimal_c_bf(top, length),
        "bd ft",
        "Scribner Decimal C from the agency's list of factors, in a public copy; to 10 bd ft, "
        "small ends of 12 to 37 in only.",
    ),
    "international": Rule(
        "International 1/4 in",
        lambda top, butt, middle, length: international_quarter_inch_bf(top, length),
        "bd ft",
        "International rule for a 1/4 in kerf, as fixed by Michigan Compiled Laws 290.401 and "
        "Massachusetts General Laws ch. 96 s. 11A.",
    ),
    "hoppus": Rule(
        "Hoppus",
        lambda top, butt, middle, length: hoppus_feet(math.pi * middle, length),
        "hoppus ft",
        "Hoppus measure, quarter girth squared times length, 78.54 % of the true volume; "
        "encyclopaedia and woodland pages on the British measure.",
        needs_middle=True,
    ),
}


def volume_by_rule(
    name: str,
    *,
    top_diameter_mm: float,
    butt_diameter_mm: float,
    length_mm: float,
    middle_diameter_mm: float | None = None,
) -> float:
    """The log's volume by a rule of `RULES`, in that rule's unit; every diameter in mm.

    Raises ValueError for a rule not listed, for a middle diameter that the rule needs and was
    not measured, and wherever the rule itself does.
    """
    if name not in RULES:
        raise ValueError(f"No log rule is called {name}; there are {', '.join(RULES)}.")
    rule = RULES[name]
    if rule.needs_middle and middle_diameter_mm is None:
        raise ValueError(f"{rule.label} needs the diameter measured half way along the log.")
    return rule.volume(top_diameter_mm, butt_diameter_mm, middle_diameter_mm or 0.0, length_mm)


def _round(diameter_mm: float) -> float:
    return ellipse_area_mm2(diameter_mm, diameter_mm)


def _scaled(diameter_mm: float, length_mm: float, smallest_in: float) -> tuple[float, float]:
    """The small end in inches and the length in feet, within what the rule's tables cover."""
    _require_real(diameter_mm, length_mm)
    inches = inches_from_mm(diameter_mm)
    feet = inches_from_mm(length_mm) / INCHES_PER_FOOT
    if inches < smallest_in - SLIVER:
        raise ValueError(f"This log rule begins at a small end of {smallest_in:g} in.")
    if feet > LONGEST_SCALED_FT + SLIVER:
        raise ValueError(
            "A log rule scales logs up to 20 ft, without trim; scale a longer log as two, each "
            "by its own small end."
        )
    return inches, feet


def _require_real(*figures: float) -> None:
    if not all(math.isfinite(figure) and figure >= 0 for figure in figures):
        raise ValueError("A log's measures must be numbers, nought or more.")
