"""Old metal against new: what the old fastenings held, what is left of them, what the new hold."""

from dataclasses import dataclass

from restoration.calc import metal_names
from restoration.calc.bolt_loss import (
    BoltLoss,
    FasteningMetal,
    fastening_metals,
    tension_left,
    wasted_bolt,
)
from restoration.calc.yield_limit import bending_yield_mpa
from restoration.models import Fastening, PlannedFastening


@dataclass(frozen=True)
class Against:
    """One line of new fastenings and the old ones it replaces. Loads in N, of one fastening.

    `metal` is None where the tables have no strength for the old metal: then only the sizes speak.
    """

    new: PlannedFastening
    old: Fastening
    metal: FasteningMetal | None
    loss: BoltLoss | None
    new_count: int
    old_tension_n: float | None
    left_tension_n: float | None
    new_tension_n: float
    bending_ratio: float | None
    all_ratio: float | None

    @property
    def weaker(self) -> bool:
        return self.all_ratio is not None and self.all_ratio < 1


def against_of(new: PlannedFastening, count: int) -> Against | None:
    """The comparison, or None where it replaces nothing or the old one's size is not known."""
    old = new.replaces
    if old is None or not old.diameter_mm:
        return None
    metal = metal_of(old.metal)
    size = new.size()
    new_tension = size.tension_area_mm2 * size.tensile_mpa
    whole = wasted_bolt(old.diameter_mm, old.diameter_mm)
    loss = None if new.old_least_mm is None else wasted_bolt(old.diameter_mm, new.old_least_mm)
    old_tension = tension_left(whole, metal.tensile_mpa).newtons if metal else None
    return Against(
        new=new,
        old=old,
        metal=metal,
        loss=loss,
        new_count=count,
        old_tension_n=old_tension,
        left_tension_n=tension_left(loss, metal.tensile_mpa).newtons if loss and metal else None,
        new_tension_n=new_tension,
        bending_ratio=_bending(new, old, metal),
        all_ratio=_tension(new, old, count, metal) if metal else None,
    )


def metal_of(words: str) -> FasteningMetal | None:
    """The first metal of the table that is of the kind these words name."""
    code = metal_names.metal_named(words)
    return next((each for each in fastening_metals().values() if each.galvanic == code), None)


def _tension(new: PlannedFastening, old: Fastening, count: int, metal: FasteningMetal) -> float:
    """Pull of all the new ones over that of all the old ones, both at the full shank: what thread
    an old one has is not in the register, and a thread is not to be held against a shank."""
    fresh = new.size().tensile_mpa * new.diameter_mm**2
    return count * fresh / (old.count * metal.tensile_mpa * old.diameter_mm**2)


def _bending(new: PlannedFastening, old: Fastening, metal: FasteningMetal | None) -> float | None:
    """Yield moment of a new one over that of an old one as it was, at the shank: strength x d
    cubed."""
    if metal is None:
        return None
    size = new.size()
    fresh = bending_yield_mpa(size.yield_mpa, size.tensile_mpa) * new.diameter_mm**3
    was = bending_yield_mpa(metal.yield_mpa, metal.tensile_mpa) * old.diameter_mm**3
    return fresh / was
