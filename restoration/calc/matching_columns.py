"""Free lengths and replacements as columns of numbers, one entry for each pair of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from restoration.calc.matching_data import Need, Offer
from restoration.calc.rings_asked import mean_limits_deg
from timber_stock.wood.ring_limits import FLAT, QUARTER, RIFT, RingLimits
from timber_stock.wood.section_sheet import assumed_pith_mm

Floats = npt.NDArray[np.float64]
Points = npt.NDArray[np.complex128]
Bools = npt.NDArray[np.bool_]
Words = npt.NDArray[np.str_]
Numbers = npt.NDArray[np.int64]
UNKNOWN = complex(np.nan, np.nan)


@dataclass(frozen=True)
class Offers:
    """Free lengths. Hearts lie at x + iy from the middle of the section; NaN is not known."""

    wood: Numbers
    thickness: Floats
    width: Floats
    board_length: Floats
    start: Floats
    end: Floats
    heart: Words
    rings: Words
    state: Words
    sapwood: Bools
    percent: Floats
    money: Floats
    butt: Points
    top: Points
    assumed: Points

    @property
    def low(self) -> Floats:
        return np.minimum(self.thickness, self.width)

    @property
    def high(self) -> Floats:
        return np.maximum(self.thickness, self.width)

    @property
    def section(self) -> Floats:
        return self.thickness * self.width


@dataclass(frozen=True)
class Needs:
    """Replacements: the lesser and the greater side, and what else is asked."""

    low: Floats
    high: Floats
    ask_low: Floats
    ask_high: Floats
    length: Floats
    volume: Floats
    clear: Bools
    sapwood: Bools
    rings: Words
    least_deg: Floats
    most_deg: Floats
    seasoned: Bools
    moisture: Floats
    service: Floats


Columns = TypeVar("Columns", Offers, Needs)


def picked(columns: Columns, at: Numbers) -> Columns:
    """The same columns at these entries, in this order."""
    taken = {field.name: getattr(columns, field.name)[at] for field in fields(columns)}
    return type(columns)(**taken)


def columns_of_offers(offers: Sequence[Offer]) -> Offers:
    """Every free length in columns of numpy, in the order given."""
    return Offers(
        wood=np.array([o.wood for o in offers], dtype=np.int64),
        thickness=_floats([o.thickness_mm for o in offers]),
        width=_floats([o.width_mm for o in offers]),
        board_length=_floats([o.board_length_mm for o in offers]),
        start=_floats([o.from_mm for o in offers]),
        end=_floats([o.to_mm for o in offers]),
        heart=np.array([o.heart for o in offers], dtype=str),
        rings=np.array([o.rings for o in offers], dtype=str),
        state=np.array([o.state for o in offers], dtype=str),
        sapwood=np.array([o.has_sapwood for o in offers], dtype=bool),
        percent=_floats([o.percent for o in offers]),
        money=_floats([o.money_per_mm3 for o in offers]),
        butt=_points([o.butt_heart_mm for o in offers]),
        top=_points([o.top_heart_mm or o.butt_heart_mm for o in offers]),
        assumed=np.array([_assumed(o) for o in offers], dtype=complex),
    )


def columns_of_needs(needs: Sequence[Need], limits: RingLimits) -> Needs:
    """Every replacement in columns, its section laid the smaller size first; rings by `limits`."""
    sizes = [sorted((n.sided_mm, n.moulded_mm)) for n in needs]
    asks = [sorted(n.ask_mm or (0.0, 0.0)) for n in needs]
    angles = [_ring_limits(need, limits) for need in needs]
    return Needs(
        low=_floats([low for low, _ in sizes]),
        high=_floats([high for _, high in sizes]),
        ask_low=_floats([low for low, _ in asks]),
        ask_high=_floats([high for _, high in asks]),
        length=_floats([n.length_mm for n in needs]),
        volume=_floats([n.volume_mm3 for n in needs]),
        clear=np.array([n.clear_of_heart for n in needs], dtype=bool),
        sapwood=np.array([n.sapwood_allowed for n in needs], dtype=bool),
        rings=np.array([n.rings_on_wide_face for n in needs], dtype=str),
        least_deg=_floats([least for least, _ in angles]),
        most_deg=_floats([most for _, most in angles]),
        seasoned=np.array([n.seasoning == "seasoned" for n in needs], dtype=bool),
        moisture=_floats([n.moisture_percent for n in needs]),
        service=_floats([_dry_in_service(n) for n in needs]),
    )


def _floats(values: Sequence[float | None]) -> Floats:
    return np.array([np.nan if value is None else value for value in values], dtype=np.float64)


def _points(places: Sequence[tuple[float, float] | None]) -> Points:
    return np.array([UNKNOWN if p is None else complex(*p) for p in places], dtype=complex)


def _assumed(offer: Offer) -> complex:
    """Where the ring direction on its wide face puts the heart of a board clear of it."""
    if offer.heart != "clear" or offer.rings not in (QUARTER, RIFT, FLAT):
        return UNKNOWN
    return complex(*assumed_pith_mm(offer.width_mm, offer.thickness_mm, offer.rings))


def _dry_in_service(need: Need) -> float | None:
    return need.moisture_percent if need.service_percent is None else need.service_percent


def _ring_limits(need: Need, limits: RingLimits) -> tuple[float, float]:
    least, most = mean_limits_deg(
        need.rings, need.rings_face, need.sided_mm, need.moulded_mm, limits
    )
    return (0.0 if least is None else least, 90.0 if most is None else most)
