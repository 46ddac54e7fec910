"""What the species table holds: each figure by name, with its unit, label and group of sources."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Kind:
    """One kind of figure. `column` is its column in the table; `group` says whose source applies.

    `low` and `high` are the limits inside which a figure of this kind is believed; None for words.
    """

    name: str
    column: str
    label: str
    unit: str
    group: str
    low: float | None = None
    high: float | None = None

    @property
    def is_word(self) -> bool:
        return self.low is None


def _kinds() -> tuple[Kind, ...]:
    strength = [
        ("rupture", "mor", "modulus of rupture", "mpa", "MPa", 400),
        ("elasticity", "moe", "modulus of elasticity", "gpa", "GPa", 60),
        ("crushing", "comp_par", "crushing strength along the grain", "mpa", "MPa", 250),
        ("bearing", "comp_perp", "stress across the grain at proportional limit", "mpa", "MPa", 60),
        ("shear", "shear_par", "shear along the grain", "mpa", "MPa", 60),
        ("side_hardness", "side_hardness", "side hardness", "n", "N", 30000),
    ]
    return (
        Kind("basic_specific_gravity", "sg_green_basic", "basic specific gravity", "", "mechanical",
             0.05, 1.5),
        Kind("specific_gravity_12", "sg_12", "specific gravity at 12 %", "", "mechanical",
             0.05, 1.5),
        Kind("density_12_kg_m3", "density_12_kg_m3", "density at 12 %", "kg/m³", "density",
             50, 1600),
        Kind("radial_percent", "shrink_radial_pct", "radial shrinkage, green to ovendry", "%",
             "shrinkage", 0.5, 20),
        Kind("tangential_percent", "shrink_tangential_pct",
             "tangential shrinkage, green to ovendry", "%", "shrinkage", 0.5, 25),
        Kind("volumetric_percent", "shrink_volumetric_pct",
             "volumetric shrinkage, green to ovendry", "%", "shrinkage", 1, 40),
        Kind("radial_coefficient", "cr_per_pct_mc", "radial coefficient, 6 to 14 %", "per % MC",
             "coefficients", 0.0001, 0.01),
        Kind("tangential_coefficient", "ct_per_pct_mc", "tangential coefficient, 6 to 14 %",
             "per % MC", "coefficients", 0.0001, 0.01),
        Kind("green_heartwood_percent", "green_mc_heartwood_pct", "green moisture, heartwood", "%",
             "green_mc", 20, 300),
        Kind("green_sapwood_percent", "green_mc_sapwood_pct", "green moisture, sapwood", "%",
             "green_mc", 20, 300),
        Kind("decay_class", "decay_heartwood_class_us", "decay resistance of heartwood", "",
             "decay_us"),
        Kind("durability_class", "en350_class", "durability of heartwood, EN 350", "", "en350"),
        *(
            Kind(f"{name}_{state}_{suffix}", f"{column}_{state}_{suffix}",
                 f"{label}, {'green' if state == 'green' else 'at 12 %'}", unit, "mechanical",
                 0.01, high)
            for name, column, label, suffix, unit, high in strength
            for state in ("green", "12")
        ),
    )  # fmt: skip


KINDS: dict[str, Kind] = {kind.name: kind for kind in _kinds()}
"""Every kind of figure a wood may have, by name, in the order a page shows them."""

STRENGTH_CAUTION = (
    "Averages of small clear specimens, not design values: the strength of a timber depends on its "
    "grade, knots, slope of grain and load. Class rules and a naval architect decide."
)
