"""What else the log gives, once the wanted timbers have their places.

Stock sizes are fitted round a layout that is left exactly as it stands: every timber in it is
pinned, and the order of cuts must still free everything.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from timber_stock.sawing.layout import Layout, counts
from timber_stock.sawing.request import Request, Wanted
from timber_stock.sawing.search import Allowance, search


def with_by_products(
    request: Request,
    layout: Layout,
    stock_sizes: Sequence[Wanted],
    allowance: Allowance,
    seed: int = 1,
) -> tuple[Request, Layout]:
    """The request with the stock sizes as further lines, and the layout with what of them fits.

    ValueError when a stock size has the id of a wanted timber.
    """
    names = {t.id for t in request.wanted}
    for size in stock_sizes:
        if size.id in names:
            raise ValueError(f"The stock size {size.id!r} has the same id as a wanted timber.")
    placed = counts(request, layout)
    settled = [replace(t, quantity=n) for t, n in zip(request.wanted, placed, strict=True)]
    fuller = replace(request, wanted=(*settled, *stock_sizes))
    found = search(fuller, allowance, seed, start=pinned(layout)).layout
    return replace(request, wanted=(*request.wanted, *stock_sizes)), _let_go(found, layout)


def pinned(layout: Layout) -> Layout:
    """The layout with every timber held where it is, and every roll settled."""
    return tuple(
        replace(
            bolt,
            roll_settled=True,
            timbers=tuple(replace(t, pinned=True) for t in bolt.timbers),
        )
        for bolt in layout
    )


def _let_go(found: Layout, before: Layout) -> Layout:
    """What was held for the search only is free again; what was held before it still is."""
    held = {t for bolt in before for t in bolt.timbers if t.pinned}
    return tuple(
        replace(
            bolt,
            roll_settled=old.roll_settled,
            timbers=tuple(t if t in held else replace(t, pinned=False) for t in bolt.timbers),
        )
        for bolt, old in zip(found, before, strict=True)
    )
