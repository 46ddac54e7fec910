"""What size of hole a fastening wants: clearance, drive fit or lead hole, mm."""

from dataclasses import dataclass

from restoration.calc.checks import above_zero
from restoration.calc.fastening_sources import (
    HANDBOOK,
    MEMORY,
    NDS,
    PRACTICE,
    READ,
    Published,
)
from timber_stock.measure import MM_PER_INCH

DRIFT_UNDER_MM = MM_PER_INCH / 8
SCREW_ROOT, LAG_ROOT = 0.8, 0.69
"""Root diameter of a wood screw and of a lag screw, as a share of the shank: of the usual ones the
slightest for lag screws; from memory. The yard's own screws may be measured."""
DENSE = 0.6
"""Above this specific gravity a nail's hole is 0.9 of it, else 0.75 (NDS, nails, from memory)."""


@dataclass(frozen=True)
class Bore:
    """A hole between two sizes, mm; where the two are alike it is that size."""

    where: str
    least_mm: float
    most_mm: float
    source: Published
    note: str = ""


def bores(kind: str, diameter_mm: float, gravity: float, hardwood: bool) -> tuple[Bore, ...]:
    """The holes to bore for one fastening; () for kinds of which nothing is held here.

    gravity: specific gravity of the point's timber, on the volume at 12 %. Bolts: 1/32 to 1/16 in
    over, no forced fit. Drift bolts: 1/8 in under. Screws: lead 70 % of the root in softwood, 90 %
    in hardwood. Raises ValueError for a diameter or gravity not above 0.
    """
    d = above_zero(diameter_mm, "diameter")
    g = above_zero(gravity, "specific gravity")
    if kind == "bolt":
        return _bolt(d)
    if kind == "drift":
        size = d - DRIFT_UNDER_MM
        if size <= 0:
            raise ValueError("A drift bolt of 3.2 mm or less leaves no hole to bore: it is a nail.")
        return (Bore("in both timbers", size, size, Published(f"{HANDBOOK}, Eq. 8-9", READ)),)
    if kind == "screw":
        lead = d * SCREW_ROOT * (0.9 if hardwood else 0.7)
        known = Published(f"{HANDBOOK}; the root as 0.8 of the shank from memory", READ)
        return (
            Bore("shank, in the head's timber", d, d, Published("Shank hole", PRACTICE)),
            Bore("lead, in the point's timber", lead, lead, known),
        )
    if kind == "lag":
        return _lag(d, g)
    if kind in ("nail", "annular", "spike"):
        size = d * (0.9 if g > DENSE else 0.75)
        return (Bore("in both timbers", size, size, Published(f"{NDS}, nails", MEMORY)),)
    if kind == "rivet":
        close = Published("Rivet holes a close fit for the nail", PRACTICE)
        return (Bore("right through", d, d, close),)
    return ()


def _bolt(d: float) -> tuple[Bore, ...]:
    over = Published(f"{NDS}, bolts, as summarised", READ)
    fit = Published("Backbone bolts a drive fit, bedded", PRACTICE)
    return (
        Bore("clearance", d + MM_PER_INCH / 32, d + MM_PER_INCH / 16, over, "no forced fit"),
        Bore("where water must not follow it", d, d, fit, "the two do not agree: choose"),
    )


def _lag(d: float, gravity: float) -> tuple[Bore, ...]:
    low, high = (0.65, 0.85) if gravity > 0.6 else (0.6, 0.75) if gravity > 0.5 else (0.4, 0.7)
    known = Published(f"{NDS}, lag screws", MEMORY)
    return (
        Bore("shank, in the head's timber", d, d, known),
        Bore("lead, for the thread", low * d, high * d, known),
    )
