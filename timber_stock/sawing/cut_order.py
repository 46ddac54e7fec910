"""The order of cuts at the mill, with heights from the bed, turns, and what each cut frees.

The pieces are sawn in rounds: all that can be cut one way is cut, from the top down, before
anything is turned. A cut's `at_mm` is the low side of its kerf. The piece lies on its low side: on
a face already sawn, or on the bark, and then the bed touches its lowest place in that direction.
For a cut too near the bed the piece is turned over: it lies on its high side, `over` is true and
`from_bed_mm` is counted from there. So no cut lies under the bed.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from timber_stock.sawing.guillotine import X, Y, Z, hull, parted
from timber_stock.sawing.layout import Bolt, Box, Layout, Span, boxes
from timber_stock.sawing.log_solid import semi_axes
from timber_stock.sawing.request import Log, Request

SAWN_MM = 0.01  # nearer than this to a sawn face, no cut is needed
LOWEST_MM = 25.0
"""Nearer the bed than this no blade is sent: the piece is turned over and cut from its other face.
Common practice, from memory; a mill may differ."""
FACES = "xyz"
Spans = tuple[Span, Span, Span]
Label = Callable[[Box], str]


@dataclass(frozen=True)
class Piece:
    """What lies on the bed: its name, its faces (infinite where still bark), and what is in it."""

    name: str
    spans: Spans
    boxes: tuple[Box, ...]

    def with_span(self, axis: int, span: Span) -> Piece:
        spans = [*self.spans[:axis], span, *self.spans[axis + 1 :]]
        return replace(self, spans=(spans[0], spans[1], spans[2]))

    def trimmed(self, axis: int, span: Span) -> bool:
        low, high = self.spans[axis]
        return abs(low - span[0]) <= SAWN_MM and abs(high - span[1]) <= SAWN_MM

    def finished(self) -> bool:
        return len(self.boxes) == 1 and all(
            self.trimmed(axis, self.boxes[0].spans[axis]) for axis in (X, Y, Z)
        )


def cut_list(request: Request, layout: Layout) -> list[dict[str, Any]]:
    """Every cut in order as plain data: bucking first, then each bolt in its turn."""
    cuts = _bucking(request, layout)
    for number, bolt in enumerate(layout):
        if bolt.timbers:
            cuts += bolt_cuts(request, bolt, number)
    for step, cut in enumerate(cuts, start=1):
        cut["step"] = step
    return cuts


def turns(request: Request, bolt: Bolt) -> int:
    """Changes of cut direction needed to saw the bolt."""
    if not bolt.timbers:
        return 0
    return min(_rounds(request, bolt, axis)[1] for axis in (Y, X))


def bolt_cuts(request: Request, bolt: Bolt, number: int) -> list[dict[str, Any]]:
    """The cuts of one bolt, begun whichever way needs fewer turns (on the marked roll if equal)."""
    tries = [_rounds(request, bolt, axis) for axis in (Y, X)]
    cuts = min(tries, key=lambda found: found[1])[0]
    up = Y
    for cut in cuts:
        cut["bolt"] = number
        axis = FACES.index(cut["face"])
        cut["turn_deg"] = 90 if axis not in (Z, up) else 180 if cut["over"] else 0
        up = up if axis == Z else axis
        cut["releases"] = [request.wanted[bolt.timbers[i].line].id for i in cut["releases"]]
    return cuts


def _bucking(request: Request, layout: Layout) -> list[dict[str, Any]]:
    whole = [b for b in layout if not b.roll_settled]
    cuts = []
    for number, bolt in enumerate(layout):
        if bolt.roll_settled or bolt.to_mm >= request.log.length_mm - SAWN_MM or len(whole) < 2:
            continue
        cuts.append(
            {"bolt": number, "piece": "log", "face": "z", "at_mm": bolt.to_mm}
            | {"from_bed_mm": None, "over": False, "releases": [], "turn_deg": 0}
        )
    return cuts


def _rounds(request: Request, bolt: Bolt, first: int) -> tuple[list[dict[str, Any]], int]:
    """All cuts of a bolt begun along `first`, and the turns between them."""
    spans = (bolt.faces[:2], bolt.faces[2:], (bolt.from_mm, bolt.to_mm))
    waiting = [Piece("bolt", spans, tuple(boxes(request, bolt)))]
    cuts: list[dict[str, Any]] = []
    axis, idle, turned = first, 0, -1
    while waiting and idle < 3:
        before = len(cuts)
        waiting = [rest for piece in waiting for rest in _saw(request, bolt, piece, axis, cuts)]
        ripped = any(cut["face"] != "z" for cut in cuts[before:])
        idle = 0 if len(cuts) > before else idle + 1
        turned += ripped
        axis = X + Y - axis
    return cuts, max(turned, 0)


def _saw(
    request: Request, bolt: Bolt, piece: Piece, axis: int, cuts: list[dict[str, Any]]
) -> list[Piece]:
    """Cut a piece every way that needs no turn; what is still to be sawn is returned."""
    kerf = request.saw.kerf_mm
    one_way = all(len(parted(piece.boxes, a, kerf)) == 1 for a in (X, Y))
    if len(piece.boxes) > 1 and one_way:
        parts = _slice(request, bolt, piece, Z, cuts)
        return [rest for part in parts for rest in _saw(request, bolt, part, axis, cuts)]
    left = []
    for part in _slice(request, bolt, piece, axis, cuts):
        only = part.boxes[0]
        if len(part.boxes) == 1 and all(part.trimmed(a, only.spans[a]) for a in (X, Y)):
            _slice(request, bolt, part, Z, cuts)
        else:
            left.append(part)
    return left


def _slice(
    request: Request, bolt: Bolt, piece: Piece, axis: int, cuts: list[dict[str, Any]]
) -> list[Piece]:
    """Cut a piece along one axis from the high side down; the parts with timbers in them."""
    kerf = request.saw.crosscut_kerf_mm if axis == Z else request.saw.kerf_mm
    groups = parted(piece.boxes, axis, kerf)
    parts = [
        replace(piece.with_span(axis, hull(group, axis)), boxes=tuple(group)) for group in groups
    ]
    if len(parts) > 1:
        parts = [replace(p, name=f"{piece.name}.{i}") for i, p in enumerate(parts, start=1)]
    low_face, high_face = piece.spans[axis]
    above = high_face
    for part, below in zip(reversed(parts), [*reversed(parts[:-1]), None], strict=True):
        low, high = part.spans[axis]
        if above - high > SAWN_MM:
            cuts.append(_cut(request, bolt, piece, axis, high, above))
            top = high
        else:
            top = above
        under = low_face if below is None else below.spans[axis][1]
        if low - under > SAWN_MM:
            cuts.append(_cut(request, bolt, piece, axis, low - kerf, top))
            above = low - kerf
        else:
            above = low
        if cuts and part.finished() and not piece.finished():
            cuts[-1]["releases"].append(part.boxes[0].index)
    return parts


def _cut(
    request: Request, bolt: Bolt, piece: Piece, axis: int, at_mm: float, top_mm: float
) -> dict[str, Any]:
    """One cut through a piece of which the high face now stands at `top_mm`."""
    bed, over = None, False
    if axis != Z:
        height = at_mm - lowest_mm(request.log, bolt, piece.spans, axis)
        from_top = top_mm - at_mm - request.saw.kerf_mm
        over = is_turned_over(height, from_top)
        bed = round(from_top if over else height, 3)
    return {
        "piece": piece.name,
        "face": FACES[axis],
        "at_mm": round(at_mm, 3),
        "from_bed_mm": bed,
        "over": over,
        "releases": [],
    }


def is_turned_over(height_mm: float, from_top_mm: float) -> bool:
    """Whether a cut is better set from the piece's high face, laid on the bed, mm each.

    A piece is never laid on bark by this: `from_top_mm` is infinite where its high side is bark.
    """
    return height_mm < LOWEST_MM and height_mm < from_top_mm < math.inf


def lowest_mm(log: Log, bolt: Bolt, spans: Spans, axis: int) -> float:
    """Where the piece touches the bed: its sawn low face, or the bark's lowest place."""
    low = spans[axis][0]
    if math.isfinite(low):
        return low
    return min(
        _bark_low(log, bolt, z, axis, spans[X + Y - axis]) for z in (bolt.from_mm, bolt.to_mm)
    )


def _bark_low(log: Log, bolt: Bolt, z_mm: float, axis: int, across: Span) -> float:
    """Least x (or y) of the rolled ellipse within a span of the other axis."""
    a, b = (float(value) for value in semi_axes(log, z_mm))
    angle = math.radians(bolt.roll_deg)
    c, s = math.cos(angle), math.sin(angle)
    xx, yy, xy = (a * c) ** 2 + (b * s) ** 2, (a * s) ** 2 + (b * c) ** 2, (a * a - b * b) * c * s
    here, there = (xx, yy) if axis == X else (yy, xx)
    touch = -xy / math.sqrt(here)  # the other coordinate where the ellipse is lowest
    at = min(max(touch, across[0]), across[1])
    share = max(0.0, 1 - at * at / there)
    return xy / there * at - math.sqrt(share * (here - xy * xy / there))
