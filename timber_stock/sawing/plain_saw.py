"""Whether the saw can free a set of blocks, and in how many turns, for the plain search."""

from __future__ import annotations

import math

from timber_stock.sawing.plain_rows import Stock
from timber_stock.sawing.plain_state import Block

NEVER = 99


def first_group(blocks: list[Block], axis: int, gap: float) -> int:
    """Sorts the blocks along an axis and counts those before the first clear kerf."""
    blocks.sort(key=lambda b: b.lo[axis])
    end = blocks[0].lo[axis] + blocks[0].size[axis]
    for i in range(1, len(blocks)):
        if blocks[i].lo[axis] >= end + gap - 1e-9:
            return i
        end = max(end, blocks[i].lo[axis] + blocks[i].size[axis])
    return len(blocks)


def sawable(stock: Stock, blocks: list[Block]) -> bool:
    """Whether straight cuts right through can free every block."""
    if len(blocks) <= 1:
        return True
    for axis in range(3):
        k = first_group(blocks, axis, stock.crosscut if axis == 2 else stock.kerf)
        if k < len(blocks):
            return sawable(stock, blocks[:k]) and sawable(stock, blocks[k:])
    return False


def turns(stock: Stock, blocks: list[Block]) -> int:
    """Changes of cut direction needed, begun whichever way needs fewer."""
    if not blocks:
        return 0
    bark = (-math.inf, -math.inf), (math.inf, math.inf)
    return min(NEVER, *(_stages(stock, [*blocks], axis, *bark) - 1 for axis in (0, 1)))


def _stages(
    stock: Stock,
    blocks: list[Block],
    axis: int,
    lo: tuple[float, float],
    hi: tuple[float, float],
) -> int:
    if len(blocks) == 1:
        only = blocks[0]
        bark = [
            abs(lo[a] - only.lo[a]) > 0.01 or abs(hi[a] - only.lo[a] - only.size[a]) > 0.01
            for a in (0, 1)
        ]
        return 2 if bark[1 - axis] else int(bark[axis])
    count = len(blocks)
    if all(first_group(blocks, a, stock.kerf) == count for a in (1 - axis, axis)):
        k = first_group(blocks, 2, stock.crosscut)
        if k == count:
            return NEVER
        return max(_stages(stock, part, axis, lo, hi) for part in (blocks[:k], blocks[k:]))
    most = 0
    while blocks:
        k = first_group(blocks, axis, stock.kerf)
        group, blocks = blocks[:k], blocks[k:]
        low, high = [*lo], [*hi]
        low[axis] = min(b.lo[axis] for b in group)
        high[axis] = max(b.lo[axis] + b.size[axis] for b in group)
        inner = _stages(stock, group, 1 - axis, (low[0], low[1]), (high[0], high[1]))
        most = max(most, 1 + inner)
    return most
