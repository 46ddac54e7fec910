"""The edge of a section followed round the pith, with the angle kept unbroken all the way.

Angles about the pith jump by a full turn somewhere. Followed step by step along the edge they do
not: the jump falls where the section is open (the pith outside it), at the pith itself (the pith
on the edge), or at the check (the pith inside), never inside the wood.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from timber_stock.wood.outline import Corners, Place, cross, place_of, turns_between

Floats = NDArray[np.float64]

ALONG_PERIMETER = 96
"""Dried straight edges curve: about this many steps round the whole section show it."""

LARGEST_STEP_RAD = math.radians(3.0)
"""Close to the pith an edge curves sharply, so no step may sweep more than this about the pith."""

HAIR = 1e-7
"""Less than matters: keeps a count from hanging on the last figure of a number."""

SERIES_BELOW = 0.01
"""Below this size of step, seen from the pith, a series keeps figures a logarithm would lose."""


@dataclass(frozen=True)
class Path:
    """One walk round the section: nodes about the pith, their unbroken angles, and their edges.

    The last node closes the walk: it is the first one again, with the angle reached by then.
    `edges[k]` is the edge of the section that step k runs along; `corners[k]` is the corner that
    node k is, or None for a start that is no corner.
    """

    nodes: Corners
    angles: Floats
    edges: tuple[int, ...]
    corners: tuple[int | None, ...]
    place: Place

    @property
    def mean_angle(self) -> float:
        """Mean over the area of the angle about the pith, in radians: the section's direction."""
        start, end = self.nodes[:-1], self.nodes[1:]
        offset = self.angles - self.angles[0]
        area = (cross(start, end - start) / 2).sum()
        return float(self.angles[0] + angle_moment(start, end, offset[:-1]).sum() / area)

    @property
    def spread(self) -> float:
        """Angle in radians that the section takes up seen from the pith; a full turn if boxed."""
        return float(np.ptp(self.angles))


def angle_moment(start: Corners, end: Corners, start_angle: Floats) -> Floats:
    """Integral of the angle about the origin over each triangle origin-start-end, signed.

    Along every line parallel to the far side the angle runs alike, so its mean over the triangle
    is that over the side: with w = (end - start)/start, the imaginary part of the integral of
    log(1 + u w) for u from 0 to 1, which is (1 + w) log(1 + w)/w - 1.
    """
    step = end - start
    area = cross(start, step) / 2
    flat = (start == 0) | (end == 0)
    w = np.where(flat, 1.0, step / np.where(start == 0, 1.0, start))
    small = np.abs(w) < SERIES_BELOW
    series = sum(-((-w) ** n) / (n * (n + 1)) for n in range(1, 8))
    safe = np.where(small, 1.0, w)
    mean = np.where(small, series, (1.0 + safe) * np.log(1.0 + safe) / safe - 1.0)
    return np.where(flat, 0.0, area * (start_angle + mean.imag))


def path_round(corners: Corners, pith: complex) -> Path:
    """Walk the edge of the section in the order of its corners.

    The walk begins at the first corner when the pith is outside; at the point of the edge nearest
    the pith when it is inside (there the check opens); at the pith when it lies on the edge.
    """
    place = place_of(corners, pith)
    nodes, count = corners - pith, len(corners)
    if place.inside or place.on_edge:
        start = 0j if place.on_edge else place.nearest - pith
        walk, edges, names = _walk_from(nodes, place.edge, start)
    else:
        walk, edges = np.append(nodes, nodes[0]), list(range(count))
        names = [*range(count), 0]
    return Path(walk, _unbroken_angles(walk), tuple(edges), tuple(names), place)


def _walk_from(
    nodes: Corners, edge: int, start: complex
) -> tuple[Corners, list[int], list[int | None]]:
    """Nodes from `start`, a point of the edge, round to it again; the edge of each step; corners.

    When the start is itself a corner, the step of no length beside it is left out.
    """
    count = len(nodes)
    order = [(edge + 1 + i) % count for i in range(count)]
    walk = np.concatenate(([start], nodes[order], [start]))
    edges, names = [edge, *order], [None, *order, None]
    near = 1e-9 * float(np.abs(nodes - np.roll(nodes, 1)).max())
    for beside, step in ((1, 0), (count, count)):
        if abs(walk[beside] - start) <= near:
            names[0] = names[-1] = names.pop(beside)
            del edges[step]
            return np.delete(walk, beside), edges, names
    return walk, edges, names


def _unbroken_angles(walk: Corners) -> Floats:
    """Angles of the nodes; a node at the pith itself takes the angle of its neighbour."""
    first = walk[0] if walk[0] != 0 else walk[1]
    swept = np.concatenate(([0.0], np.cumsum(turns_between(walk[:-1], walk[1:]))))
    return np.asarray(swept + np.angle(first), dtype=np.float64)


@dataclass(frozen=True)
class DensePath:
    """A path with enough points on each step to show the curve it dries to.

    `marks[k]` is the index in `points` of node k of the path.
    """

    points: Corners
    angles: Floats
    marks: tuple[int, ...]


def dense(path: Path) -> DensePath:
    """Put points between the nodes: by length round the section, and by angle near the pith.

    Counts and places are taken a shade off the roundest numbers, so that turning the log, which
    touches the last figures, does not change how many points there are.
    """
    lengths = np.abs(np.diff(path.nodes))
    least = 8 if len(lengths) <= 12 else 2
    even = np.floor(ALONG_PERIMETER * lengths / lengths.sum() + 0.5 + HAIR)
    counts = np.maximum(even, least).astype(int)
    shares = [_shares(path, k, int(n)) for k, n in enumerate(counts)]
    pieces = [path.nodes[k] + s * (path.nodes[k + 1] - path.nodes[k]) for k, s in enumerate(shares)]
    turned = [
        path.angles[k] + turns_between(np.full(len(p), path.nodes[k]), p)
        for k, p in enumerate(pieces)
    ]
    marks = np.concatenate(([0], np.cumsum([len(s) for s in shares])))
    return DensePath(
        np.append(np.concatenate(pieces), path.nodes[-1]),
        np.append(np.concatenate(turned), path.angles[-1]),
        tuple(marks.tolist()),
    )


def _shares(path: Path, k: int, count: int) -> Floats:
    """Places along step k as shares of its length, from 0 up to but not including 1."""
    even = np.linspace(0.0, 1.0, count, endpoint=False)
    swept = path.angles[k + 1] - path.angles[k]
    by_angle = math.ceil(abs(swept) / LARGEST_STEP_RAD - HAIR)
    start, step = path.nodes[k], path.nodes[k + 1] - path.nodes[k]
    if by_angle < 2 or start == 0:
        return even
    rays = start * np.exp(1j * swept * np.arange(1, by_angle) / by_angle)
    met = -cross(rays, start) / cross(rays, step)
    return np.unique(np.round(np.concatenate((even, np.clip(met, 0.0, 1.0 - HAIR))), 8))
