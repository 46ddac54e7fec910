"""Which log, or which few, serve a cutting list best: each tried with a short search."""

import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from timber_stock.models import CuttingItem, Log, request_for
from timber_stock.sawing.layout import counts, worth_mm3
from timber_stock.sawing.log_solid import log_volume_mm3
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw
from timber_stock.sawing.search import Allowance, search


@dataclass(frozen=True)
class Tried:
    """What a short search had out of one log for the list: pieces by mark, and their worth."""

    log: Log
    placed: dict[str, int]
    worth_mm3: float
    timber_mm3: float
    log_mm3: float
    why_not: str = ""

    def pieces(self) -> int:
        return sum(self.placed.values())

    def in_words(self) -> str:
        return ", ".join(f"{n} × {mark}" if n > 1 else mark for mark, n in self.placed.items() if n)

    def recovery_percent(self) -> float:
        return 100 * self.timber_mm3 / self.log_mm3 if self.log_mm3 else 0.0


@dataclass(frozen=True)
class Choice:
    tried: list[Tried]  # best first
    not_tried: int
    together: list[Tried]  # one after another, each for what the ones before it left
    left: dict[str, int]  # still wanted after all of these


def choose_logs(
    logs: Sequence[Log], items: Sequence[CuttingItem], saw: Saw, *, steps: float, until: float
) -> Choice:
    """Each log alone for the whole list, then a set: the best for what is left, again and again."""
    tried = []
    for log in logs:
        if time.monotonic() > until:
            break
        tried.append(try_log(log, items, saw, steps, until))
    tried.sort(key=_best_first)
    together, left = _set_of_logs(tried, items, saw, steps, until)
    return Choice(tried, len(logs) - len(tried), together, left)


def try_log(log: Log, items: Iterable[CuttingItem], saw: Saw, steps: float, until: float) -> Tried:
    asked = [item for item in items if item.quantity]
    try:
        request = parse_request(request_for(log, asked, saw))
    except ValueError as error:
        return Tried(log, {}, 0.0, 0.0, log.true_solid_mm3(), str(error))
    found = search(request, Allowance(steps=steps), stop=lambda: time.monotonic() > until)
    placed = counts(request, found.layout)
    return Tried(
        log,
        {item.label: count for item, count in zip(asked, placed, strict=True)},
        worth_mm3(request, found.layout),
        sum(item.volume_mm3() * count for item, count in zip(asked, placed, strict=True)),
        log_volume_mm3(request.log),
    )


def _best_first(one: Tried) -> tuple[float, float]:
    """The worthier first; of two alike the smaller log, which wastes less."""
    return (-round(one.worth_mm3), one.log_mm3)


def _set_of_logs(tried, items, saw, steps, until):
    left = {item.label: item.quantity for item in items}
    pool, together = list(tried), []
    while pool and any(left.values()) and pool[0].pieces():
        best = pool.pop(0)
        together.append(best)
        left = {mark: n - best.placed.get(mark, 0) for mark, n in left.items()}
        if time.monotonic() > until or not any(left.values()):
            break
        still = [_so_many(item, left[item.label]) for item in items]
        pool = sorted((try_log(one.log, still, saw, steps, until) for one in pool), key=_best_first)
    return together, {mark: n for mark, n in left.items() if n}


def _so_many(item: CuttingItem, quantity: int) -> CuttingItem:
    values = {f.attname: getattr(item, f.attname) for f in CuttingItem._meta.concrete_fields}
    return CuttingItem(**(values | {"quantity": quantity}))
