"""What is left of a log half sawn, as bolts to be planned again, and what is still wanted of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from timber_stock.sawing.as_cut import Part
from timber_stock.sawing.guillotine import X, Y, Z
from timber_stock.sawing.judge_layout import judge_timber
from timber_stock.sawing.layout import Bolt, Layout, Placed, counts
from timber_stock.sawing.log_solid import RolledLog, semi_axes
from timber_stock.sawing.request import Request, Wanted

HAIR = 1e-6
MOST_PIECES = 64


def rest_of_log(request: Request, layout: Layout, parts: Iterable[Part]) -> Layout:
    """The pieces that may still hold a timber, each with its sawn faces, the largest first kept.

    A piece sawn on no side yet may still be rolled; one with a sawn face keeps the roll it had.
    Bolts not crosscut apart yet are one piece again.
    """
    left = [part for part in parts if not part.freed]
    bolts = [_piece(layout, part) for part in _joined(left)]
    fit = [bolt for bolt in bolts if _may_hold(request, bolt)]
    return tuple(sorted(fit, key=lambda bolt: -_size(request, bolt))[:MOST_PIECES])


def changes(before: Sequence[str], after: Sequence[str]) -> list[tuple[str, int, int]]:
    """Each timber whose number differs: its id, how many there were and how many there are."""
    had, has = Counter(before), Counter(after)
    return [(id_, had[id_], has[id_]) for id_ in sorted(had | has) if had[id_] != has[id_]]


def faults_now(request: Request, roll_deg: float, placed: Placed) -> tuple[str, ...]:
    """What a piece already sawn would break, judged against what is known of the log now."""
    bolt = Bolt(0.0, request.log.length_mm, roll_deg)
    return judge_timber(request, bolt, placed).faults


def rest_refused(request: Request, layout: Layout) -> list[dict[str, object]]:
    """Every line not wholly placed in what is left, with the plain reason."""
    longest = max((bolt.to_mm - bolt.from_mm for bolt in layout), default=0.0)
    found: list[dict[str, object]] = []
    for timber, placed in zip(request.wanted, counts(request, layout), strict=True):
        if placed < timber.quantity:
            why = "No lawful place was found for it in the pieces still to be sawn."
            if timber.length_mm > longest:
                why = (
                    f"It is {timber.length_mm:.0f} mm long and the longest piece left is "
                    f"{longest:.0f} mm."
                )
            found.append({"id": timber.id, "count": timber.quantity - placed, "why": why})
    return found


def _joined(parts: list[Part]) -> list[Part]:
    """Bolts still one with the next, put together as the piece they are."""
    found: list[Part] = []
    for part in sorted(parts, key=lambda p: p.bolt):
        if found and not found[-1].bucked and part.bolt == found[-1].bolt + 1:
            low, high = found[-1].sawn[Z][0], part.sawn[Z][1]
            spans = (part.sawn[X], part.sawn[Y], (low, high))
            found[-1] = replace(found[-1], bolt=part.bolt, sawn=spans, bucked=part.bucked)
        else:
            found.append(part)
    return found


def _piece(layout: Layout, part: Part) -> Bolt:
    x, y, z = part.sawn
    roll = layout[part.bolt].roll_deg
    settled = part.ripped or layout[part.bolt].roll_settled
    return Bolt(z[0], z[1], roll, (), (*x, *y), roll_settled=settled)


def _may_hold(request: Request, bolt: Bolt) -> bool:
    return any(timber.quantity and _room_for(request, bolt, timber) for timber in request.wanted)


def _room_for(request: Request, bolt: Bolt, timber: Wanted) -> bool:
    """Whether the piece's faces leave room for the timber either way; the bark is not asked."""
    long, across = bolt.to_mm - bolt.from_mm, sorted(_across(request, bolt))
    return (
        timber.length_mm <= long + HAIR
        and timber.thickness_mm <= across[0] + HAIR
        and timber.width_mm <= across[1] + HAIR
    )


def _across(request: Request, bolt: Bolt) -> tuple[float, float]:
    """The piece's size along x and y, taking the log's greatest half diameter where it is bark."""
    ends = [float(axis) for z in (bolt.from_mm, bolt.to_mm) for axis in semi_axes(request.log, z)]
    most = max(ends)
    x_low, x_high, y_low, y_high = (min(max(face, -most), most) for face in bolt.faces)
    return x_high - x_low, y_high - y_low


def _size(request: Request, bolt: Bolt) -> float:
    across = _across(request, bolt)
    return across[0] * across[1] * (bolt.to_mm - bolt.from_mm)


def hearts_in_section(
    request: Request, roll_deg: float, spans: tuple[tuple[float, float], ...], wide_x: bool
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Where the heart lies from the middle of a piece's section at its butt end and at its top end:
    mm along the wide face and mm across it, with the wide face turned to lie along x."""
    rolled = RolledLog(request.log, roll_deg)
    (x0, x1), (y0, y1), (z0, z1) = spans
    ends = []
    for z in (z0, z1):
        px, py = (float(value) for value in rolled.pith(z))
        x, y = px - 0.5 * (x0 + x1), py - 0.5 * (y0 + y1)
        # A piece standing on its edge is laid down by a quarter turn clockwise: x' = y, y' = -x.
        ends.append((x, y) if wide_x else (y, -x))
    return ends[0], ends[1]
