"""What one fastening of a joint holds, sideways and along its length: the opinions side by side.

Each opinion says what its figure means (a breaking load, one that may be allowed, a characteristic
one), which mode governs, and where it comes from; where one cannot be given it says why not. The
rope effect is left out everywhere: nuts slack off as wood dries.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from restoration.calc import eurocode5, handbook_lateral, yield_limit
from restoration.calc.dowel_bearing import MPA_PER_PSI, bearing_mpa, en_bearing_mpa
from restoration.calc.fastening_moisture import lateral_factor, withdrawal_factor
from restoration.calc.fastening_size import THROUGH, WITH_FIGURES, FasteningSize
from restoration.calc.fastening_sources import Published
from restoration.calc.fastening_timbers import Timber, WoodFigures
from restoration.calc.fastening_withdrawal import (
    ALLOWED,
    ALLOWED_SOURCE,
    BREAKING,
    EN_WITHDRAWAL,
    allowed_withdrawal_n,
    breaking_withdrawal_n,
    characteristic_withdrawal_n,
)
from restoration.calc.washers import BEARING, crushing_load_n
from timber_stock.measure import MM_PER_INCH

ALLOWABLE = "may be allowed (NDS reference load, with the factor for its moisture)"
CHARACTERISTIC = "characteristic (5 in 100 hold less)"
BREAKS = "breaks on average"
LIMIT = "proportional limit, along the grain"
EN_ROOT = 1.1
"""Screws: EN 1995-1-1 takes 1.1 times the root as the diameter that bears (from memory)."""


@dataclass(frozen=True)
class Opinion:
    """One figure, N: what it is, what governs, from where; or `why_not` in a sentence."""

    name: str
    means: str
    source: Published
    newtons: float | None = None
    governs: str = ""
    modes: tuple[tuple[str, str, float], ...] = ()
    long_term_n: float | None = None
    why_not: str = ""


@dataclass(frozen=True)
class Joint:
    """Where the fastenings are: the head's and the point's timber, the load, the state of the wood.

    planes: 1, or 2 where a timber like the head's lies on the far side too (`point` is then the
    middle one). state: a key of `fastening_moisture.STATES`.
    """

    head: Timber
    point: Timber
    load_deg: float
    state: str = "wet"
    planes: int = 1
    end_grain: bool = False
    one_row: bool = False


def lateral_opinions(size: FasteningSize, joint: Joint) -> tuple[Opinion, ...]:
    """What one fastening holds across its length: NDS, EN 1995-1-1 and, of small ones, the old
    equations of the Wood Handbook. An opinion that cannot be given says why; nothing is raised."""
    held = (
        _or_why_not("Yield-limit equations (NDS)", ALLOWABLE, yield_limit.SOURCE,
                    lambda: _nds_lateral(size, joint)),
        _or_why_not("EN 1995-1-1", CHARACTERISTIC, eurocode5.SOURCE,
                    lambda: _en_lateral(size, joint)),
    )  # fmt: skip
    if size.kind not in handbook_lateral.POWER:
        return held
    name, source = "Wood Handbook, before 1991", handbook_lateral.SOURCE
    return (*held, _or_why_not(name, LIMIT, source, lambda: _old_lateral(size, joint)))


def pull_opinions(size: FasteningSize, joint: Joint) -> tuple[Opinion, ...]:
    """What one fastening holds along its length. Through fastenings: the metal, and the wood under
    the washer. Others: withdrawal, by three publications."""
    if size.kind in THROUGH:
        return (_metal(size), _or_why_not(
            "Wood under the washer", "begins to crush (average)", BEARING,
            lambda: _under_washer(size, joint)),
        )  # fmt: skip
    if size.kind not in BREAKING:
        return (_metal(size),)
    kind = size.kind
    return (
        _metal(size),
        _or_why_not("Withdrawal, Wood Handbook", BREAKS, BREAKING[kind].source,
                    lambda: _broken_out(size, joint)),
        _or_why_not("Withdrawal, NDS", ALLOWABLE, ALLOWED_SOURCE,
                    lambda: _allowed_out(size, joint)),
        _or_why_not("Withdrawal, EN 1995-1-1", CHARACTERISTIC, EN_WITHDRAWAL,
                    lambda: _en_out(size, joint)),
    )  # fmt: skip


def _or_why_not(name: str, means: str, source: Published, reckon: Callable[[], Opinion]) -> Opinion:
    try:
        return reckon()
    except ValueError as error:
        return Opinion(name, means, source, why_not=str(error))


def _nds_lateral(size: FasteningSize, joint: Joint) -> Opinion:
    head, point = _woods(size, joint)
    angles = [each.load_angle_deg(joint.load_deg) for each in (joint.head, joint.point)]
    shear = yield_limit.Shear(
        diameter_mm=size.root_mm,
        bending_yield_mpa=yield_limit.bending_yield_mpa(size.yield_mpa, size.tensile_mpa),
        main_mm=_in_point(size, joint),
        side_mm=joint.head.thickness_mm,
        main_bearing_mpa=bearing_mpa(point.gravity_ovendry, size.root_mm, angles[1]),
        side_bearing_mpa=bearing_mpa(head.gravity_ovendry, size.root_mm, angles[0]),
        worst_angle_deg=max(angles),
    )
    reckon = yield_limit.double_shear if joint.planes == 2 else yield_limit.single_shear
    factor = lateral_factor(size.kind, joint.state, joint.one_row)
    modes = {mode: factor * load for mode, load in reckon(shear).loads_n.items()}
    return _governed(
        "Yield-limit equations (NDS)", ALLOWABLE, yield_limit.SOURCE, modes, yield_limit.MEANING
    )


def _en_lateral(size: FasteningSize, joint: Joint) -> Opinion:
    head, point = _woods(size, joint)
    diameter = size.root_mm * (EN_ROOT if size.kind in ("screw", "lag") else 1.0)
    bears = [
        en_bearing_mpa(
            wood.characteristic_kg_m3, diameter, timber.load_angle_deg(joint.load_deg),
            wood.hardwood,
        )
        for wood, timber in ((head, joint.head), (point, joint.point))
    ]  # fmt: skip
    dowel = eurocode5.Dowel(
        diameter_mm=diameter,
        t1_mm=joint.head.thickness_mm,
        t2_mm=_in_point(size, joint),
        fh1_mpa=bears[0],
        fh2_mpa=bears[1],
        yield_moment_nmm=eurocode5.yield_moment_nmm(size.tensile_mpa, diameter),
    )
    both = joint.planes == 2
    found = eurocode5.en_double_shear(dowel) if both else eurocode5.en_single_shear(dowel)
    modes = {mode: joint.planes * load for mode, load in found.loads_n.items()}
    long = eurocode5.long_term_n(min(modes.values()), joint.state != "dry")
    return _governed(
        "EN 1995-1-1", CHARACTERISTIC, eurocode5.SOURCE, modes, eurocode5.MEANING, long
    )


def _old_lateral(size: FasteningSize, joint: Joint) -> Opinion:
    head, point = _woods(size, joint)
    if not (head.hardwood and point.hardwood):
        raise ValueError("Only the constants of hardwoods are held here.")
    lighter = min(head.gravity_12, point.gravity_12)
    load = handbook_lateral.proportional_limit_n(size.kind, lighter, size.diameter_mm)
    return Opinion(
        "Wood Handbook, before 1991", LIMIT, handbook_lateral.SOURCE, load, "by kind and wood alone"
    )


def _metal(size: FasteningSize) -> Opinion:
    source = Published("Least tensile strength of the metal x the least area", "worked out")
    area = size.tension_area_mm2
    said = f"{area:.0f} mm² ({area / MM_PER_INCH**2:.3f} sq in) of metal"
    threaded = size.thread_area_mm2 is not None and area == size.thread_area_mm2
    where = "thread" if threaded else "root" if size.root_mm < size.diameter_mm else "shank"
    return Opinion(
        "The metal in tension", "breaks at its least strength", source,
        area * size.tensile_mpa, f"at the {where}, {said}",
    )  # fmt: skip


def _under_washer(size: FasteningSize, joint: Joint) -> Opinion:
    if size.washer_mm is None:
        raise ValueError("No washer or rove is given.")
    bears = []
    for timber in (each for each in (joint.head, joint.point) if each.is_wood):
        wood = _wood(timber)
        stress, source = wood.across_grain(joint.state == "dry")
        if stress is None:
            raise ValueError(
                f"No stress across the grain is known for {wood.name}: enter the yard's own figure."
            )
        bears.append((stress, timber.name, source or BEARING))
    if not bears:
        raise ValueError("Neither side is of wood.")
    stress, where, source = min(bears, key=lambda each: each[:2])
    load = crushing_load_n(size.washer_mm, size.bearing_hole_mm, stress)
    return Opinion(
        "Wood under the washer", "begins to crush (average)", source, load,
        f"on {where}, {stress:g} MPa ({stress / MPA_PER_PSI:.0f} psi) across the grain",
    )  # fmt: skip


def _broken_out(size: FasteningSize, joint: Joint) -> Opinion:
    wood = _wood(joint.point)
    gravity = wood.gravity_12 if joint.state == "dry" else wood.gravity_green
    holds = _holding(size, joint)
    load = breaking_withdrawal_n(size.kind, gravity, size.diameter_mm, holds, joint.end_grain)
    return Opinion(
        "Withdrawal, Wood Handbook", BREAKS, BREAKING[size.kind].source, load,
        f"{holds:.1f} mm of it holding{_ringed(size)}, specific gravity {gravity:.2f}",
    )  # fmt: skip


def _ringed(size: FasteningSize) -> str:
    return ", taken as ringed all along" if size.kind == "annular" else ""


def _allowed_out(size: FasteningSize, joint: Joint) -> Opinion:
    wood = _wood(joint.point)
    holds = _holding(size, joint)
    gravity = wood.gravity_ovendry
    load = allowed_withdrawal_n(size.kind, gravity, size.diameter_mm, holds, joint.end_grain)
    factor = withdrawal_factor(size.kind, joint.state)
    return Opinion(
        "Withdrawal, NDS", ALLOWABLE, ALLOWED[size.kind].source, load * factor,
        f"{holds:.1f} mm of it holding, factor {factor:g} for moisture",
    )  # fmt: skip


def _en_out(size: FasteningSize, joint: Joint) -> Opinion:
    wood = _wood(joint.point)
    if joint.end_grain:
        raise ValueError("Nothing is counted in end grain.")
    holds = _holding(size, joint)
    density = wood.characteristic_kg_m3
    load = characteristic_withdrawal_n(size.kind, density, size.diameter_mm, holds)
    long = eurocode5.long_term_n(load, joint.state != "dry")
    return Opinion(
        "Withdrawal, EN 1995-1-1", CHARACTERISTIC, EN_WITHDRAWAL, load,
        f"{holds:.1f} mm of it holding", long_term_n=long,
    )  # fmt: skip


def _governed(
    name: str,
    means: str,
    source: Published,
    modes: dict[str, float],
    meaning: dict[str, str],
    long_term_n: float | None = None,
) -> Opinion:
    found = yield_limit.Modes(modes)
    told = tuple((mode, meaning[mode], load) for mode, load in modes.items())
    governs = f"{found.governs}: {meaning[found.governs]}"
    return Opinion(name, means, source, found.least_n, governs, told, long_term_n)


def _woods(size: FasteningSize, joint: Joint) -> tuple[WoodFigures, WoodFigures]:
    if size.kind not in WITH_FIGURES:
        raise ValueError(f"No published lateral strength is held here for “{size.kind}”.")
    return _wood(joint.head), _wood(joint.point)


def _wood(timber: Timber) -> WoodFigures:
    if not timber.is_wood:
        raise ValueError(f"{timber.name} is not of wood: the equations for timber are not for it.")
    if timber.wood is None:
        raise ValueError(f"How heavy the wood of {timber.name} is, is not known.")
    return timber.wood


def _in_point(size: FasteningSize, joint: Joint) -> float:
    through = joint.head.thickness_mm * joint.planes
    if size.kind in THROUGH and size.length_mm < through + joint.point.thickness_mm:
        size.in_point_mm(through, joint.point.thickness_mm)  # says how much it is short
    return size.in_point_mm(joint.head.thickness_mm, joint.point.thickness_mm)


def _holding(size: FasteningSize, joint: Joint) -> float:
    return size.threaded_in_point_mm(_in_point(size, joint))
