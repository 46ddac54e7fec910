"""When no board in stock serves a replacement: what comes nearest, what to saw, what to buy."""

from dataclasses import dataclass

from restoration import timber
from restoration.calc.matching import CLEARANCE_MM
from restoration.models import WantedTimber
from restoration.reports.board_choice import Choice, Choosing
from timber_stock.sawing.log_wanted import CLOSED_FORM, least_for_timber_mm
from timber_stock.sawing.request import Wanted

MOST_LOGS = 6


@dataclass(frozen=True)
class LogFor:
    """An unopened log of a wood that will do, and the least it would have to measure for one."""

    log: timber.Log
    small_end_mm: float
    least_mm: float

    @property
    def is_big_enough(self) -> bool:
        return self.small_end_mm >= self.least_mm


@dataclass(frozen=True)
class WhatElse:
    nearest: list[Choice]
    logs: list[LogFor]
    lines: list[WantedTimber]  # of cutting lists it is on
    ask_mm: tuple[float, float]
    length_mm: float  # what is still wanted
    least_mm: float  # diameter of a log to ask for, under bark and without its sapwood
    how: str = CLOSED_FORM


def what_else(choosing: Choosing) -> WhatElse:
    need = choosing.need
    sided, moulded = need.ask_mm or (need.sided_mm, need.moulded_mm)
    wanted = Wanted(
        "one", min(sided, moulded), max(sided, moulded), need.length_mm, 1, 1.0,
        CLEARANCE_MM if need.clear_of_heart else None,
        sapwood_allowed=need.sapwood_allowed,
    )  # fmt: skip
    lines = choosing.spec.wanted_timbers.select_related("item__cutting_list")
    return WhatElse(
        choosing.nearest(),
        _logs(need, wanted),
        list(lines),
        (sided, moulded),
        need.length_mm,
        least_for_timber_mm(wanted),
    )


def _logs(need, wanted: Wanted) -> list[LogFor]:
    """Those that are long enough: the big enough first, and of these the smallest."""
    unopened = timber.logs_in_the_yard().filter(species__in=need.woods, taken_mm3=0)
    found = [
        LogFor(log, _small_end_mm(log), least_for_timber_mm(wanted, log.sapwood_mm or 0.0))
        for log in unopened
        if log.length_mm - log.butt_trim_mm - log.top_trim_mm >= need.length_mm
    ]
    found.sort(key=lambda each: (not each.is_big_enough, each.small_end_mm))
    return found[:MOST_LOGS]


def _small_end_mm(log: timber.Log) -> float:
    return min(*log.across("butt"), *log.across("top"))
