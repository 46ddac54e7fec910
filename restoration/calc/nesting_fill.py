"""One way of filling a face: pieces in a given order, each as near the butt as it will go."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from restoration.calc.nesting_fit import Fits, Lying
from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place

Laid = tuple[Lying, float, float]


@dataclass(frozen=True)
class Way:
    """What one filling goes by: the order of the pieces (by number), for each how it may lie, and
    how much lying near the right-hand edge counts beside lying near the butt."""

    order: tuple[int, ...]
    ways: tuple[tuple[Lying, ...], ...]
    lean: float = 0.05


def fill(fits: Fits, pieces: tuple[Piece, ...], way: Way) -> tuple[Place, ...]:
    """Bottom-left filling: a piece goes where its farther end is nearest to the butt.

    It may go into any gap left before. What fits nowhere is left out.
    """
    free = _Free(fits)
    places = []
    for number in way.order:
        piece = pieces[number]
        best = free.best(way.ways[number], piece.sapwood_allowed, way.lean)
        if best is None:
            continue
        free.take(best)
        lying, x, y = best
        places.append(Place(piece.key, x, y, lying.angle_deg, lying.mirrored))
    return tuple(places)


class _Free:
    """Where each lying shape can still go, kept up only for the shapes that are asked about."""

    def __init__(self, fits: Fits):
        self.fits = fits
        self.laid: list[Laid] = []
        self._regions: dict[tuple[Lying, bool], tuple[BaseGeometry, int]] = {}

    def take(self, laid: Laid) -> None:
        self.laid.append(laid)

    def best(self, ways: tuple[Lying, ...], sapwood: bool, lean: float) -> Laid | None:
        found: tuple[float, Laid] | None = None
        for lying in ways:
            spots = shapely.get_coordinates(self._region(lying, sapwood))
            if not len(spots):
                continue
            reach, wide = self.fits.reach(lying)
            costs = spots[:, 0] + reach + lean * (spots[:, 1] + wide)
            least = int(np.argmin(costs))
            if found is None or costs[least] < found[0] - 1e-9:
                found = float(costs[least]), (lying, float(spots[least, 0]), float(spots[least, 1]))
        return found and found[1]

    def _region(self, lying: Lying, sapwood: bool) -> BaseGeometry:
        key = (lying, sapwood)
        region, seen = self._regions.get(key) or (self.fits.inner(lying, sapwood), 0)
        if seen < len(self.laid) and not region.is_empty:
            barred = [
                _moved(self.fits.apart(fixed, lying), x, y) for fixed, x, y in self.laid[seen:]
            ]
            region = region.difference(shapely.union_all(barred) if barred[1:] else barred[0])
        self._regions[key] = region, len(self.laid)
        return region


def _moved(shape: BaseGeometry, x: float, y: float) -> BaseGeometry:
    return shapely.transform(shape, lambda corners: corners + np.array([x, y]))
