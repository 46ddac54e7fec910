"""What draws a fastening out of the wood its point is in: two published opinions and the EN's.

The Wood Handbook gives an average *breaking* load, the NDS a load that may be *allowed* (about a
fifth of it), EN 1995-1-1 a *characteristic* one. They are not the same thing and never mixed.
"""

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero
from restoration.calc.fastening_sources import EN, HANDBOOK, MEMORY, NDS, READ, Published
from timber_stock.measure import MM_PER_INCH
from timber_stock.wood.weights import NEWTONS_PER_POUND

LIGHTEST, HEAVIEST = 0.2, 1.2
END_GRAIN = {"screw": 0.75, "lag": 0.75}
"""Share of the side-grain load that holds in end grain; nails and drifts are not to be relied on.
Wood Handbook, chapter 8: lag screws read, wood screws read second-hand."""


@dataclass(frozen=True)
class Law:
    """load = constant x G**g x D**d x L: N with mm (Wood Handbook), or lb with inches (NDS)."""

    constant: float
    gravity_power: float
    diameter_power: float
    source: Published

    def load(self, gravity: float, diameter: float, length: float) -> float:
        wood = math.pow(gravity, self.gravity_power)
        return self.constant * wood * math.pow(diameter, self.diameter_power) * length


def _handbook(constant: float, gravity: float, diameter: float, equation: str) -> Law:
    return Law(constant, gravity, diameter, Published(f"{HANDBOOK}, Eq. {equation}", READ))


def _allowed(constant: float, gravity: float, diameter: float, known: str) -> Law:
    return Law(constant, gravity, diameter, Published(f"{NDS}, withdrawal", known))


BREAKING: dict[str, Law] = {
    "nail": _handbook(54.12, 2.5, 1.0, "8-1"),
    "spike": _handbook(54.12, 2.5, 1.0, "8-1"),
    "annular": _handbook(77.57, 2.0, 1.0, "8-2a"),
    "drift": _handbook(45.51, 2.0, 1.0, "8-9"),
    "screw": _handbook(108.25, 2.0, 1.0, "8-10"),
    "lag": _handbook(125.4, 1.5, 0.75, "8-14"),
}
"""Side grain, N and mm; G of ovendry weight on the volume at 12 %. A drift bolt in a hole 3.2 mm
(1/8 in) under its size; screws and lag screws by the length of thread that is in the wood; annular
nails by the diameter at the root of their rings and the length that is ringed."""

ALLOWED: dict[str, Law] = {
    "nail": _allowed(1380, 2.5, 1.0, READ),
    "spike": _allowed(1380, 2.5, 1.0, READ),
    "drift": _allowed(1200, 2.0, 1.0, MEMORY),
    "screw": _allowed(2850, 2.0, 1.0, READ),
    "lag": _allowed(1800, 1.5, 0.75, READ),
}
"""Side grain, lb and inches; G of ovendry weight on ovendry volume. Dry wood, usual duration."""
ALLOWED_SOURCE = Published(f"{NDS}, withdrawal", MEMORY)
NOT_ALLOWED = {
    "annular": (
        "The NDS gives withdrawal of ringed nails only for some made of steel to a standard; for "
        "those of boats nothing is held here that may be allowed."
    ),
}


def breaking_withdrawal_n(
    kind: str, gravity: float, diameter_mm: float, holding_mm: float, end_grain: bool = False
) -> float:
    """Average load that draws the fastening from side grain, N (Wood Handbook, chapter 8).

    kind: a key of BREAKING. gravity: specific gravity on the volume at 12 % (green wood: on the
    green volume), 0.2 to 1.2. diameter_mm: of an annular nail at the root of its rings.
    holding_mm: length in the point's timber; of thread, for screws. ValueError for other kinds, for
    figures out of range and for what does not hold in end grain.
    """
    share = _share(kind, end_grain)
    g = _gravity(gravity)
    diameter, length = _sizes(diameter_mm, holding_mm)
    return share * BREAKING[kind].load(g, diameter, length)


def allowed_withdrawal_n(
    kind: str, gravity: float, diameter_mm: float, holding_mm: float, end_grain: bool = False
) -> float:
    """Reference withdrawal load, N (NDS), in dry wood at the usual ten years' duration.

    gravity: on ovendry weight and ovendry volume; the rest, and refusals, as
    `breaking_withdrawal_n`; annular nails are refused too. In end grain: lag screws three quarters
    (from memory), others nothing.
    """
    if kind in NOT_ALLOWED:
        raise ValueError(NOT_ALLOWED[kind])
    if end_grain and kind != "lag":
        _share(kind, False)
        return 0.0
    share = _share(kind, end_grain)
    diameter, length = _sizes(diameter_mm, holding_mm)
    g = _gravity(gravity)
    pounds = ALLOWED[kind].load(g, diameter / MM_PER_INCH, length / MM_PER_INCH)
    return share * pounds * NEWTONS_PER_POUND


EN_WITHDRAWAL = Published(f"{EN}, 8.3.2 (smooth nails) and 8.7.2 (screws)", MEMORY)


def characteristic_withdrawal_n(
    kind: str, density_kg_m3: float, diameter_mm: float, holding_mm: float
) -> float:
    """Characteristic withdrawal from side grain, N (EN 1995-1-1, the whole from memory).

    Screws of 6 to 12 mm, thread 6 d or more in the wood: 0.52 d**-0.5 l**-0.1 rho**0.8 d l kd with
    kd = min(d/8, 1). Smooth nails, 8 d or more: 20e-6 rho**2 d l, reduced below 12 d.
    density_kg_m3: characteristic. ValueError outside these limits and for drift bolts, for which
    the standard gives nothing.
    """
    diameter, length = _sizes(diameter_mm, holding_mm)
    density = above_zero(density_kg_m3, "characteristic density")
    if kind in ("screw", "lag"):
        return _en_screw(density, diameter, length)
    if kind in ("nail", "spike"):
        if length < 8 * diameter:
            raise ValueError("EN 1995-1-1 counts no nail that is less than 8 diameters in.")
        depth = min(1.0, length / (4 * diameter) - 2)
        return 20e-6 * density**2 * diameter * length * depth
    if kind == "annular":
        raise ValueError("EN 1995-1-1 has the hold of ringed nails from tests of their maker.")
    raise ValueError("EN 1995-1-1 gives no withdrawal for this kind of fastening.")


def _en_screw(density: float, diameter: float, length: float) -> float:
    if not 6 <= diameter <= 12:
        raise ValueError("EN 1995-1-1 gives withdrawal for screws of 6 to 12 mm only.")
    if length < 6 * diameter:
        raise ValueError("EN 1995-1-1 counts no screw with less than 6 diameters of thread in.")
    strength = 0.52 * math.pow(diameter, -0.5) * math.pow(length, -0.1) * math.pow(density, 0.8)
    return strength * diameter * length * min(diameter / 8, 1.0)


def _share(kind: str, end_grain: bool) -> float:
    if kind not in BREAKING:
        raise ValueError(f"No published withdrawal load is held here for “{kind}”.")
    if not end_grain:
        return 1.0
    if kind not in END_GRAIN:
        raise ValueError("A nail, spike or drift in end grain is not to be relied on to hold.")
    return END_GRAIN[kind]


def _sizes(diameter_mm: float, holding_mm: float) -> tuple[float, float]:
    return above_zero(diameter_mm, "diameter"), above_zero(holding_mm, "length in the wood")


def _gravity(gravity: float) -> float:
    g = above_zero(gravity, "specific gravity")
    if not LIGHTEST <= g <= HEAVIEST:
        raise ValueError(f"A specific gravity of {g:g} is no wood's these equations are for.")
    return g
