"""Which of several logs, or which set of them, serves a cutting list best."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from timber_stock.sawing.layout import Layout, counts, worth_mm3
from timber_stock.sawing.log_solid import log_volume_mm3
from timber_stock.sawing.request import Log, Request, Saw, Settings, Wanted
from timber_stock.sawing.search import Allowance, search

PLAIN = Settings()


@dataclass(frozen=True)
class LogServes:
    """What one log gives of a list."""

    name: str
    layout: Layout
    worth_mm3: float
    placed: tuple[int, ...]  # of each line of the list
    log_volume_mm3: float

    @property
    def worth_of_volume(self) -> float:
        return self.worth_mm3 / self.log_volume_mm3


def logs_in_order(
    logs: Mapping[str, Log],
    saw: Saw,
    wanted: Sequence[Wanted],
    allowance: Allowance,
    settings: Settings = PLAIN,
) -> list[LogServes]:
    """Each log planned alone for the whole list, the best first; equal worth, the smaller first."""
    found = [_serves(name, log, saw, wanted, allowance, settings) for name, log in logs.items()]
    return sorted(found, key=lambda one: (-one.worth_mm3, one.log_volume_mm3, one.name))


def set_of_logs(
    logs: Mapping[str, Log],
    saw: Saw,
    wanted: Sequence[Wanted],
    allowance: Allowance,
    settings: Settings = PLAIN,
) -> list[LogServes]:
    """Logs taken one after another, each time the one that gives most of what is still wanted.

    A rule of thumb, not a proof: another set may be better. It ends when the list is served, when
    no log left gives anything, or when the logs are used up.
    """
    left, still, taken = dict(logs), list(wanted), []
    while left and any(t.quantity for t in still):
        best = logs_in_order(left, saw, still, allowance, settings)[0]
        if best.worth_mm3 <= 0:
            break
        taken.append(best)
        del left[best.name]
        still = [
            replace(t, quantity=t.quantity - n) for t, n in zip(still, best.placed, strict=True)
        ]
    return taken


def _serves(
    name: str,
    log: Log,
    saw: Saw,
    wanted: Sequence[Wanted],
    allowance: Allowance,
    settings: Settings,
) -> LogServes:
    request = Request(log, saw, tuple(wanted), settings)
    everything = sum(t.worth_mm3 * t.quantity for t in wanted)
    layout = search(request, allowance, goal_mm3=everything).layout
    worth, placed = worth_mm3(request, layout), tuple(counts(request, layout))
    return LogServes(name, layout, worth, placed, log_volume_mm3(log))
