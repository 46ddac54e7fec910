"""The log as it stands after some of its cuts: which pieces lie there, and of what real size.

Cuts are replayed in their order. Each piece carries two sets of faces: where the plan put them,
which says what timbers are in it, and where the saw really went. A cut that came high or low by
some millimetres moves the faces of both pieces it parts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from timber_stock.sawing.cut_order import FACES, SAWN_MM, Spans
from timber_stock.sawing.guillotine import X, Y, Z
from timber_stock.sawing.layout import Bolt, Layout, Span, boxes
from timber_stock.sawing.request import Request

HAIR = 1e-6
LOG = "log"
BOLT = "bolt"


@dataclass(frozen=True)
class Part:
    """A piece of the log: its faces as planned and as sawn, and the timbers planned in it."""

    bolt: int
    planned: Spans
    sawn: Spans
    timbers: tuple[int, ...]  # indices in the bolt
    freed: bool = False  # sawn to one timber's own faces
    bucked: bool = True  # False while still one with the next bolt

    @property
    def ripped(self) -> bool:
        return any(math.isfinite(end) for axis in (X, Y) for end in self.sawn[axis])


@dataclass(frozen=True)
class Cutting:
    """One cut as it was replayed: what was cut, by how much it came high, what it freed."""

    step: int
    axis: int
    at_mm: float  # as sawn, low side of the kerf
    over_mm: float
    before: Part
    freed: tuple[Part, ...]
    after: tuple[Part, ...]  # everything that lies there now, offcuts too


def replay(
    request: Request,
    layout: Layout,
    cuts: Sequence[Mapping[str, Any]],
    over_mm: Mapping[int, float] | None = None,
) -> list[Cutting]:
    """Every cut in order. `over_mm` says by how much a cut, by its step, came high of the plan.

    ValueError when a cut does not belong to this layout.
    """
    yard = _Yard(request, layout, cuts)
    over = over_mm or {}
    return [yard.cut(cut, over.get(int(cut["step"]), 0.0)) for cut in cuts]


def uncut(request: Request, layout: Layout, cuts: Sequence[Mapping[str, Any]]) -> tuple[Part, ...]:
    """The pieces before any cut: the bolts, those that `cuts` will buck joined to the next."""
    return tuple(_Yard(request, layout, cuts).parts())


class _Yard:
    """What lies on the mill's bed and beside it."""

    def __init__(self, request: Request, layout: Layout, cuts: Sequence[Mapping[str, Any]]) -> None:
        self.request, self.layout = request, layout
        joined = {int(cut["bolt"]) for cut in cuts if cut["piece"] == LOG}
        self.boxes = [boxes(request, bolt) for bolt in layout]
        self.held: dict[tuple[int, str], list[Part]] = {
            (n, BOLT): [_first_part(n, bolt, joined=n in joined)] for n, bolt in enumerate(layout)
        }
        self.sliced: dict[tuple[int, str], int] = {}

    def parts(self) -> Iterator[Part]:
        for found in self.held.values():
            yield from found

    def cut(self, cut: Mapping[str, Any], over: float) -> Cutting:
        axis, at = FACES.index(cut["face"]), float(cut["at_mm"])
        number, step = int(cut["bolt"]), int(cut["step"])
        if cut["piece"] == LOG:
            before = self.held[number, BOLT][0]
            self._buck(number, at + over)
            return Cutting(step, axis, at + over, over, before, (), tuple(self.parts()))
        key = (number, str(cut["piece"]))
        part = self._part_for(key, axis, at)
        kerf = self.request.saw.crosscut_kerf_mm if axis == Z else self.request.saw.kerf_mm
        pieces = [self._freed(p) for p in _parted(part, axis, at, over, kerf, self.boxes[number])]
        held = self.held[key]
        held[held.index(part) : held.index(part) + 1] = pieces
        self.sliced[key] = axis
        freed = tuple(p for p in pieces if p.freed)
        return Cutting(step, axis, at + over, over, part, freed, tuple(self.parts()))

    def _buck(self, number: int, at: float) -> None:
        low = self.held[number, BOLT][0]
        self.held[number, BOLT] = [_with_end(replace(low, bucked=True), at, high=True)]
        following = self.held.get((number + 1, BOLT))
        if following:
            begin = at + self.request.saw.crosscut_kerf_mm
            following[0] = _with_end(following[0], begin, high=False)

    def _part_for(self, key: tuple[int, str], axis: int, at: float) -> Part:
        if key not in self.held:
            self._name_parts(key)
        kerf = self.request.saw.crosscut_kerf_mm if axis == Z else self.request.saw.kerf_mm
        for part in self.held.get(key, []):
            low, high = part.planned[axis]
            if part.timbers and at < high - HAIR and at + kerf > low + HAIR:
                return part
        raise ValueError("The list of cuts does not belong to this layout.")

    def _name_parts(self, key: tuple[int, str]) -> None:
        """Parts of a piece sliced take its name with a number, counted from the low side."""
        number, name = key
        parent = (number, name.rpartition(".")[0])
        if parent not in self.held or parent not in self.sliced:
            return
        axis = self.sliced[parent]
        full = sorted((p for p in self.held[parent] if p.timbers), key=lambda p: p.planned[axis])
        self.held[parent] = [p for p in self.held[parent] if not p.timbers]
        for i, part in enumerate(full, start=1):
            self.held[number, f"{parent[1]}.{i}"] = [part]

    def _freed(self, part: Part) -> Part:
        if len(part.timbers) != 1:
            return part
        box = self.boxes[part.bolt][part.timbers[0]]
        trim = all(
            abs(have - want) <= SAWN_MM + HAIR
            for axis in (X, Y, Z)
            for have, want in zip(part.planned[axis], box.spans[axis], strict=True)
        )
        return replace(part, freed=trim)


def _first_part(number: int, bolt: Bolt, *, joined: bool) -> Part:
    spans = (bolt.faces[:2], bolt.faces[2:], (bolt.from_mm, bolt.to_mm))
    return Part(number, spans, spans, tuple(range(len(bolt.timbers))), bucked=not joined)


def _with_end(part: Part, at: float, *, high: bool) -> Part:
    low_z, high_z = part.sawn[Z]
    span = (low_z, at) if high else (at, high_z)
    return replace(part, sawn=(part.sawn[X], part.sawn[Y], span))


def _parted(
    part: Part, axis: int, at: float, over: float, kerf: float, held: Sequence[Any]
) -> list[Part]:
    """The low and the high piece, without one that the kerf eats whole."""
    pieces = []
    for high in (False, True):
        planned = _side(part.planned[axis], at, kerf, high=high)
        sawn = _side(part.sawn[axis], at + over, kerf, high=high)
        if planned[1] - planned[0] <= HAIR:
            continue
        inside = tuple(
            i
            for i in part.timbers
            if planned[0] - HAIR <= held[i].spans[axis][0]
            and held[i].spans[axis][1] <= planned[1] + HAIR
        )
        spans = [*part.planned], [*part.sawn]
        spans[0][axis], spans[1][axis] = planned, sawn
        pieces.append(
            Part(part.bolt, _three(spans[0]), _three(spans[1]), inside, bucked=part.bucked)
        )
    if sum(len(p.timbers) for p in pieces) != len(part.timbers):
        raise ValueError("A cut of this list would go through a timber.")
    return pieces


def _side(span: Span, at: float, kerf: float, *, high: bool) -> Span:
    return (max(span[0], at + kerf), span[1]) if high else (span[0], min(span[1], at))


def _three(spans: list[Span]) -> Spans:
    return spans[0], spans[1], spans[2]
