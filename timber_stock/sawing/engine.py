"""One search for a good layout from given bolts, by the compiled kernel or in plain Python.

Its unit of work, a step, is a thousand rows of the log looked at for room.
"""

from __future__ import annotations

import math
from typing import Protocol

from timber_stock.sawing import kernel
from timber_stock.sawing.compiled import Compiled
from timber_stock.sawing.layout import Layout
from timber_stock.sawing.limits import stock
from timber_stock.sawing.plain_search import PlainSearch
from timber_stock.sawing.request import Request


class Search(Protocol):
    """A search under way: begun from bolts, run for some steps, asked for its best."""

    def begin(self, bolts: Layout, seed: int) -> None: ...

    def run(self, steps: float, heat: float, goal: float = math.inf) -> float:
        """Work on, or until the goal; the worth of the best so far, less the cost of its turns."""
        ...

    def best(self) -> Layout: ...


def new_search(request: Request) -> Search:
    """The compiled search where there is one, else the plain one: number for number alike."""
    if kernel.library() is None:
        return PlainSearch(stock(request))
    return Compiled(request)
