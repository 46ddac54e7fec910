"""The timbers a fastening goes through: what of their wood the strength equations ask for.

Three specific gravities are in use, all of the same ovendry weight: on the green volume, on the
volume at 12 % (Wood Handbook) and on the ovendry volume (NDS). Where only one is known the others
are worked out with the volumetric shrinkage of the wood, or 26.5 G where that is not known
(FPL-GTR-76, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero, finite
from restoration.calc.fastening_sources import Published
from timber_stock.wood.species import Species

SHARE_AT_12 = 0.6
"""Of its whole shrinkage wood has made this share when it has dried from 30 % to 12 %."""
MEAN_TO_CHARACTERISTIC = 1.2
"""A mean density is taken as this much above the characteristic one (as in EN 338, from memory)."""
CHARACTERISTIC_BASIS = (
    "Characteristic density: the mean at 12 % divided by 1.2, as in EN 338 (from memory)."
)


@dataclass(frozen=True)
class WoodFigures:
    """One wood, for fastenings. `bearing_mpa` across the grain is None where it is not known."""

    name: str
    hardwood: bool
    gravity_green: float
    gravity_12: float
    gravity_ovendry: float
    characteristic_kg_m3: float
    bearing_green_mpa: float | None
    bearing_12_mpa: float | None
    basis: str
    bearing_green_source: Published | None = None
    bearing_12_source: Published | None = None
    elasticity_green_gpa: float | None = None
    elasticity_12_gpa: float | None = None

    def across_grain(self, dry: bool) -> tuple[float | None, Published | None]:
        """Stress across the grain at proportional limit, MPa, and where it is from."""
        if dry:
            return self.bearing_12_mpa, self.bearing_12_source
        return self.bearing_green_mpa, self.bearing_green_source


@dataclass(frozen=True)
class Timber:
    """One timber of a joint as the fastenings meet it.

    thickness_mm: along the fastening. grain_deg: of its grain on the face, from the face's length,
    counter-clockwise as drawn. runs_on: the sides of the face past which the timber goes on, of
    "start", "finish", "left" and "right"; at the others it ends or has its edge. is_wood: not so of
    ballast and other members of metal, for which the rules for wood are not.
    """

    name: str
    thickness_mm: float
    grain_deg: float
    wood: WoodFigures | None
    runs_on: frozenset[str] = frozenset()
    is_wood: bool = True

    def __post_init__(self) -> None:
        above_zero(self.thickness_mm, f"thickness of {self.name}")
        finite(self.grain_deg, f"grain of {self.name}")

    def load_angle_deg(self, load_deg: float) -> float:
        """Angle between the load and this timber's grain, 0 to 90 degrees."""
        turned = abs(finite(load_deg, "direction of the load") - self.grain_deg) % 180
        return min(turned, 180 - turned)

    def is_end(self, side: str) -> bool:
        """Whether a side of the face is an end of this timber and not an edge.

        A side the grain meets at more than 45 degrees is taken for an end.
        """
        across_length = abs(math.cos(math.radians(self.grain_deg)))
        along = across_length > math.cos(math.radians(45)) - 1e-9
        return along if side in ("start", "finish") else not along


def wood_figures(wood: Species) -> WoodFigures:
    """The figures of a wood for fastenings.

    Raises ValueError where nothing is known that says how heavy it is, naming the wood.
    """
    green, at_12, basis = _gravities(wood)
    shrinkage = wood.number("volumetric_percent")
    mean = wood.number("density_12_kg_m3") or 1120 * at_12
    return WoodFigures(
        name=wood.common,
        hardwood=wood.wood_group == "hardwood",
        gravity_green=green,
        gravity_12=at_12,
        gravity_ovendry=_shrunk(green, shrinkage, 1.0),
        characteristic_kg_m3=mean / MEAN_TO_CHARACTERISTIC,
        bearing_green_mpa=wood.number("bearing_green_mpa"),
        bearing_12_mpa=wood.number("bearing_12_mpa"),
        basis=basis,
        bearing_green_source=_source(wood, "bearing_green_mpa"),
        bearing_12_source=_source(wood, "bearing_12_mpa"),
        elasticity_green_gpa=wood.number("elasticity_green_gpa"),
        elasticity_12_gpa=wood.number("elasticity_12_gpa"),
    )


def _source(wood: Species, name: str) -> Published | None:
    figure = wood.figure(name)
    return Published(figure.source, figure.standing_words) if figure else None


def _told(wood: Species, name: str, basis: str) -> str:
    return f"{basis} {_source(wood, name)}."


def _gravities(wood: Species) -> tuple[float, float, str]:
    green = wood.number("basic_specific_gravity")
    at_12 = wood.number("specific_gravity_12")
    shrinkage = wood.number("volumetric_percent")
    density = wood.number("density_12_kg_m3")
    if green is not None and at_12 is not None:
        basis = "Specific gravity green and at 12 % as tabled:"
        return green, at_12, _told(wood, "basic_specific_gravity", basis)
    if green is not None:
        basis = _told(wood, "basic_specific_gravity", "Worked out from the green one:")
        return green, _shrunk(green, shrinkage, SHARE_AT_12), basis
    if at_12 is None and density is None:
        raise ValueError(
            f"No specific gravity or density is known for {wood.common}: enter the yard's own "
            "figure for this wood."
        )
    known = at_12 if at_12 is not None else (density or 0.0) / 1120
    basis = _told(wood, "specific_gravity_12", "Worked out from the specific gravity at 12 %:")
    if at_12 is None:
        basis = _told(wood, "density_12_kg_m3", "Worked out from the density at 12 %:")
    return _swollen(known, shrinkage), known, basis


def _shrunk(green: float, shrinkage_percent: float | None, share: float) -> float:
    percent = 26.5 * green if shrinkage_percent is None else shrinkage_percent
    return green / (1 - percent / 100 * share)


def _swollen(at_12: float, shrinkage_percent: float | None) -> float:
    if shrinkage_percent is None:
        return at_12 / (1 + 0.265 * SHARE_AT_12 * at_12)
    return at_12 * (1 - shrinkage_percent / 100 * SHARE_AT_12)
