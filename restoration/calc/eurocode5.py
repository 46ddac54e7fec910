"""Lateral strength of one fastening by EN 1995-1-1, 8.2.2: the second opinion, every mode.

A characteristic load, per shear plane: before use it is multiplied by k_mod and divided by the
factor of the material. The equations were read as reproduced elsewhere, not in the standard; the
bolt's yield moment and the share of the rope effect are from memory (25 % for bolts was read).
"""

import math
from dataclasses import dataclass

from restoration.calc.checks import above_zero, not_below_zero
from restoration.calc.fastening_sources import EN, READ, Published
from restoration.calc.yield_limit import Modes

SOURCE = Published(f"{EN}, 8.2.2, as reproduced in print; yield moment from memory", READ)
MEANING = {
    "a": "the wood of the head's timber crushes",
    "b": "the wood of the point's timber crushes",
    "c": "the fastening turns stiff in both timbers",
    "d": "the fastening bends once, in the head's timber",
    "e": "the fastening bends once, in the point's timber",
    "f": "the fastening bends in both timbers",
    "g": "the wood of the outer timbers crushes",
    "h": "the wood of the middle timber crushes",
    "j": "the fastening bends once, in the outer timbers",
    "k": "the fastening bends in all three timbers",
}
ROPE_SHARE = {"bolt": 0.25, "lag": 1.0, "screw": 1.0, "nail": 0.15, "drift": 0.0}
"""How much of the Johansen part the pull along the fastening may add. Bolts read, others memory."""
DRY_LONG, WET_LONG, MATERIAL_FACTOR = 0.70, 0.55, 1.3
"""k_mod of solid wood under a load of long duration, dry (service class 1 or 2) and wet (3), and
the factor of the material of connections. From memory."""


@dataclass(frozen=True)
class Dowel:
    """t1 is the head's timber, t2 the point's (in double shear the middle one). mm, MPa, Nmm, N."""

    diameter_mm: float
    t1_mm: float
    t2_mm: float
    fh1_mpa: float
    fh2_mpa: float
    yield_moment_nmm: float
    withdrawal_n: float = 0.0
    rope_share: float = 0.0


def yield_moment_nmm(tensile_mpa: float, diameter_mm: float) -> float:
    """0.3 fu d**2.6, Nmm, of a bolt or other round bar (EN 1995-1-1, from memory)."""
    strength = above_zero(tensile_mpa, "tensile strength")
    return 0.3 * strength * math.pow(above_zero(diameter_mm, "diameter"), 2.6)


def en_single_shear(dowel: Dowel) -> Modes:
    """Modes a to f, N, characteristic. Raises ValueError for sizes or strengths not above 0."""
    d = _checked(dowel)
    b = d.fh2_mpa / d.fh1_mpa
    johansen = {
        "c": _stiff(d, b),
        "d": 1.05 * _bent(d, b, d.t1_mm, False),
        "e": 1.05 * _bent(d, b, d.t2_mm, True),
        "f": 1.15 * _bent_twice(d, b),
    }
    crushing = {"a": _crush(d, d.fh1_mpa, d.t1_mm), "b": _crush(d, d.fh2_mpa, d.t2_mm)}
    return Modes(crushing | {mode: _roped(d, load) for mode, load in johansen.items()})


def en_double_shear(dowel: Dowel) -> Modes:
    """Modes g, h, j and k, N, characteristic, for *one* of the two shear planes."""
    one = en_single_shear(dowel).loads_n
    half = 0.5 * _crush(dowel, dowel.fh2_mpa, dowel.t2_mm)
    return Modes({"g": one["a"], "h": half, "j": one["d"], "k": one["f"]})


def long_term_n(characteristic_n: float, wet: bool) -> float:
    """What of a characteristic load may be counted under a load of long duration, N."""
    load = not_below_zero(characteristic_n, "characteristic load")
    return load * (WET_LONG if wet else DRY_LONG) / MATERIAL_FACTOR


def _crush(d: Dowel, fh: float, thickness: float) -> float:
    return fh * thickness * d.diameter_mm


def _stiff(d: Dowel, b: float) -> float:
    ratio = d.t2_mm / d.t1_mm
    root = math.sqrt(b + 2 * b**2 * (1 + ratio + ratio**2) + b**3 * ratio**2)
    return _crush(d, d.fh1_mpa, d.t1_mm) / (1 + b) * (root - b * (1 + ratio))


def _bent(d: Dowel, b: float, thickness: float, in_point: bool) -> float:
    moment = d.yield_moment_nmm / (d.fh1_mpa * d.diameter_mm * thickness**2)
    if in_point:
        root = math.sqrt(2 * b**2 * (1 + b) + 4 * b * (1 + 2 * b) * moment)
        return _crush(d, d.fh1_mpa, thickness) / (1 + 2 * b) * (root - b)
    root = math.sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * moment)
    return _crush(d, d.fh1_mpa, thickness) / (2 + b) * (root - b)


def _bent_twice(d: Dowel, b: float) -> float:
    bar = math.sqrt(2 * d.yield_moment_nmm * d.fh1_mpa * d.diameter_mm)
    return math.sqrt(2 * b / (1 + b)) * bar


def _roped(d: Dowel, johansen: float) -> float:
    return johansen + min(d.withdrawal_n / 4, d.rope_share * johansen)


def _checked(d: Dowel) -> Dowel:
    above_zero(d.diameter_mm, "diameter")
    above_zero(d.t1_mm, "length in the head's timber")
    above_zero(d.t2_mm, "length in the point's timber")
    above_zero(d.fh1_mpa, "bearing strength of the head's timber")
    above_zero(d.fh2_mpa, "bearing strength of the point's timber")
    above_zero(d.yield_moment_nmm, "yield moment")
    not_below_zero(d.withdrawal_n, "pull along the fastening")
    not_below_zero(d.rope_share, "share of the rope effect")
    return d
