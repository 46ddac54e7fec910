"""Ways to crosscut a log into bolts before sawing, and rolls to begin them at."""

from __future__ import annotations

from random import Random

from timber_stock.sawing.layout import Bolt, Layout
from timber_stock.sawing.limits import KERF_HAIR_MM
from timber_stock.sawing.request import Request

ROLLS_PER_DEG = 20  # rolls are kept to a twentieth of a degree
WHOLE, IN_TWO = 0.4, 0.8  # shares of trials: whole, and whole or in two; the rest in three


def random_bolts(request: Request, chance: Random, roll_deg: float | None = None) -> Layout:
    """Bolts whose lengths are sums of wanted lengths, counted from the butt or from the top."""
    spans = _spans(request, chance)
    return tuple(
        Bolt(
            round(low, 3),
            high if high == request.log.length_mm else round(high, 3),
            random_roll(chance) if roll_deg is None else roll_deg,
            roll_settled=roll_deg is not None,
        )
        for low, high in spans
    )


def random_roll(chance: Random) -> float:
    """A roll from 0 to 90 degrees: a quarter turn only swaps the saw's x and y."""
    return int(chance.random() * 90 * ROLLS_PER_DEG) / ROLLS_PER_DEG


def _spans(request: Request, chance: Random) -> list[tuple[float, float]]:
    length = request.log.length_mm
    kerf = request.saw.crosscut_kerf_mm + KERF_HAIR_MM
    timbers = [t for t in request.wanted if t.quantity and t.length_mm <= length]
    share = chance.random()
    bolts = 1 if share < WHOLE else 2 if share < IN_TWO else 3
    if not timbers:
        return [(0.0, length)]
    weights = [(t.worth_mm3 * t.quantity) ** 0.5 for t in timbers]
    least = min(t.length_mm for t in timbers)
    ends, at = [], 0.0
    for _ in range(bolts - 1):
        count = 1 if chance.random() < 0.75 else 2
        lengths = [_pick(weights, chance) for _ in range(count)]
        end = at + sum(timbers[i].length_mm for i in lengths) + kerf * (count - 1)
        if end + kerf + least > length:
            break
        ends.append((at, end))
        at = end + kerf
    spans = [*ends, (at, length)]
    if chance.random() < 0.5:
        spans = [(length - high, length - low) for low, high in reversed(spans)]
    return spans


def _pick(weights: list[float], chance: Random) -> int:
    at = chance.random() * sum(weights)
    for index, weight in enumerate(weights):
        at -= weight
        if at < 0:
            return index
    return len(weights) - 1
