"""What a plan is asked of: the log, the saw and the timbers wanted.

Lengths in millimetres, angles in degrees; `read_request` makes these from JSON.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any


@dataclass(frozen=True)
class Knot:
    """A cone with its apex on the pith, square to the log, out to the bark."""

    from_butt_mm: float
    clock_deg: float  # from +X towards +Y
    half_angle_deg: float


@dataclass(frozen=True)
class Rot:
    """A cylinder along the log."""

    x_mm: float
    y_mm: float
    radius_mm: float
    from_mm: float
    to_mm: float


@dataclass(frozen=True)
class Log:
    length_mm: float
    butt_diameter_mm: tuple[float, float]
    top_diameter_mm: tuple[float, float]
    butt_pith_mm: tuple[float, float]
    top_pith_mm: tuple[float, float]
    sapwood_mm: float = 0.0
    knots: tuple[Knot, ...] = ()
    rot: tuple[Rot, ...] = ()


@dataclass(frozen=True)
class Saw:
    kerf_mm: float
    crosscut_kerf_mm: float


@dataclass(frozen=True)
class Rings:
    """Limits of the acute angle between ring and wide face; None where there is no limit."""

    mean_min_deg: float | None = None
    worst_min_deg: float | None = None
    mean_max_deg: float | None = None
    worst_max_deg: float | None = None


@dataclass(frozen=True)
class Wanted:
    """One line of the cutting list; `worth` is per unit volume."""

    id: str
    thickness_mm: float
    width_mm: float
    length_mm: float
    quantity: int
    worth: float
    heart_clearance_mm: float | None = None
    rings: Rings = Rings()
    sapwood_allowed: bool = False
    knot_free: tuple[tuple[float, float], ...] = ()

    @property
    def volume_mm3(self) -> float:
        return self.thickness_mm * self.width_mm * self.length_mm

    @property
    def worth_mm3(self) -> float:
        """Worth of one piece: worth per unit volume times its volume."""
        return self.worth * self.volume_mm3


@dataclass(frozen=True)
class Settings:
    """What a person may ask beyond the limits: room for a real mill's error, and fewer turns.

    `margin_mm` is kept from bark, sapwood, heart, rot and knots; `margin_deg` from every ring
    limit. `turn_cost_mm3` comes off the worth for each change of cut direction, and `most_turns`
    forbids more.
    `quartered` splits each bolt through the heart both ways before anything else.
    """

    margin_mm: float = 0.0
    margin_deg: float = 0.0
    turn_cost_mm3: float = 0.0
    most_turns: int | None = None
    quartered: bool = False


@dataclass(frozen=True)
class Request:
    log: Log
    saw: Saw
    wanted: tuple[Wanted, ...]
    settings: Settings = Settings()

    def with_settings(self, **changes: Any) -> Request:
        return replace(self, settings=replace(self.settings, **changes))
