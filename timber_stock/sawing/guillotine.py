"""Which straight cuts, right through what is left, part a set of timbers.

Taking any cut that parts them is never wrong: a cut possible among many timbers is possible among
fewer, so no choice made early can close one later. The saw cuts along x and y, the crosscut z.
"""

from __future__ import annotations

from collections.abc import Sequence

from timber_stock.sawing.layout import Box, Span

X, Y, Z = 0, 1, 2
HAIR_MM = 1e-9


def parted(boxes: Sequence[Box], axis: int, kerf_mm: float) -> list[list[Box]]:
    """The boxes in groups with at least a kerf clear between them along `axis`, low to high."""
    groups: list[list[Box]] = []
    end = 0.0
    for box in sorted(boxes, key=lambda b: b.spans[axis][0]):
        low, high = box.spans[axis]
        if groups and low < end + kerf_mm - HAIR_MM:
            groups[-1].append(box)
            end = max(end, high)
        else:
            groups.append([box])
            end = high
    return groups


def hull(boxes: Sequence[Box], axis: int) -> Span:
    """From the lowest face of the boxes to the highest, along one axis."""
    return min(b.spans[axis][0] for b in boxes), max(b.spans[axis][1] for b in boxes)


def sawable(boxes: Sequence[Box], kerfs_mm: tuple[float, float, float]) -> bool:
    """Whether straight cuts right through can free every box."""
    if len(boxes) < 2:
        return True
    for axis in (X, Y, Z):
        groups = parted(boxes, axis, kerfs_mm[axis])
        if len(groups) > 1:
            return all(sawable(group, kerfs_mm) for group in groups)
    return False
