"""Draw timbers along the log to an end of their bolt, or to a neighbour, where nothing forbids it.

The search may leave a timber anywhere along its bolt that is lawful; flush with an end it needs one
crosscut fewer and leaves its off-cut in one piece. Nothing else moves, and the layout stays lawful.
"""

from __future__ import annotations

from dataclasses import replace

from timber_stock.sawing.cut_order import turns
from timber_stock.sawing.guillotine import sawable
from timber_stock.sawing.judge_layout import judge_timber, lie_apart
from timber_stock.sawing.layout import Bolt, Layout, Placed, boxes
from timber_stock.sawing.limits import KERF_HAIR_MM
from timber_stock.sawing.request import Request


def settled(request: Request, layout: Layout) -> Layout:
    """Each timber not pinned is moved to an end or against a neighbour, if it may lie there."""
    return tuple(_settled_bolt(request, bolt) for bolt in layout)


def _settled_bolt(request: Request, bolt: Bolt) -> Bolt:
    for index, timber in enumerate(bolt.timbers):
        if timber.pinned:
            continue
        for from_mm in _better_ends(request, bolt, timber):
            moved = replace(timber, from_mm=from_mm)
            trial = replace(
                bolt, timbers=(*bolt.timbers[:index], moved, *bolt.timbers[index + 1 :])
            )
            if _lawful(request, trial, moved):
                bolt = trial
                break
    return bolt


def _better_ends(request: Request, bolt: Bolt, timber: Placed) -> list[float]:
    """Places along the bolt to try: its ends, then against each neighbour; none if at one now."""
    gap = request.saw.crosscut_kerf_mm + KERF_HAIR_MM
    length = request.wanted[timber.line].length_mm
    ends = [bolt.from_mm, bolt.to_mm - length - KERF_HAIR_MM]
    if any(abs(timber.from_mm - end) < 0.01 for end in ends):
        return []
    for other in bolt.timbers:
        ends += [
            other.from_mm + request.wanted[other.line].length_mm + gap,
            other.from_mm - length - gap,
        ]
    inside = [round(z, 3) for z in ends if bolt.from_mm <= z <= bolt.to_mm - length]
    return [] if any(abs(timber.from_mm - z) < 0.01 for z in inside) else inside


def _lawful(request: Request, bolt: Bolt, moved: Placed) -> bool:
    saw, found = request.saw, boxes(request, bolt)
    gaps = (saw.kerf_mm, saw.kerf_mm, saw.crosscut_kerf_mm)
    return (
        not judge_timber(request, bolt, moved).faults
        and lie_apart(found, gaps)
        and sawable(found, gaps)
        and _turns_kept(request, bolt)
    )


def _turns_kept(request: Request, bolt: Bolt) -> bool:
    most = request.settings.most_turns
    return most is None or turns(request, bolt) <= most
