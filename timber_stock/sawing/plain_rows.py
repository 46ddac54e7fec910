"""Where along a row a timber may lie: the rows of the plain search.

A row is a line across the log at one height; a timber's low corner may lie along it in a few spans.
Every rule either narrows the row or cuts a hole in it, because every forbidden set is convex or the
limit is one-sided, so a whole row is known at the cost of a handful of points. `p` runs along the
row and `q` across it; a frame is made for each of the saw's two directions. The compiled kernel
does the same arithmetic in the same order, so that both give the same plans.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from timber_stock.sawing.plain_spans import Span, gap_to, subtract

INFINITE = math.inf


@dataclass(frozen=True)
class Kind:
    """One line of the cutting list as the search takes it; limits of -1 are none."""

    thick: float
    width: float
    length: float
    worth: float
    clear: float
    mean_min: float
    mean_max: float
    tan_min: float
    tan_max: float
    sapwood: bool
    quantity: int
    parts: tuple[Span, ...]

    @property
    def mean_limited(self) -> bool:
        return self.mean_min >= 0 or self.mean_max >= 0


@dataclass(frozen=True)
class Stock:
    """The log and the saw as the search takes them."""

    length: float
    a: Span  # half diameters at butt and top
    b: Span
    pith: tuple[float, float, float, float]
    sapwood: float
    kerf: float
    crosscut: float
    knots: tuple[tuple[float, ...], ...]
    rots: tuple[tuple[float, ...], ...]
    kinds: tuple[Kind, ...]
    turn_cost: float
    most_turns: int
    quartered: bool


@dataclass
class Frame:
    """The log seen along one saw axis at one roll."""

    swap: bool
    c2: float
    s2: float
    cs: float
    p: Span
    q: Span
    limit: tuple[float, float, float, float]
    rots: list[tuple[float, ...]] = field(default_factory=list)
    knots: list[tuple[float, ...]] = field(default_factory=list)
    rows: dict[tuple[float, ...], list[Span]] = field(default_factory=dict)


def pith_between(stock: Stock, frame: Frame, z0: float, length: float) -> tuple[Span, Span]:
    """The pith along and across the row at a timber's two ends."""
    t0, t1 = z0 / stock.length, (z0 + length) / stock.length
    p, q = frame.p, frame.q
    return (
        (p[0] + (p[1] - p[0]) * t0, p[0] + (p[1] - p[0]) * t1),
        (q[0] + (q[1] - q[0]) * t0, q[0] + (q[1] - q[0]) * t1),
    )


def make_row(
    stock: Stock, frame: Frame, kind: Kind, along: bool, flip: bool, z0: float, y: float
) -> list[Span]:
    """The spans open to the timber's low corner on the row at `y`, but for its mean ring angle."""
    w, h = (kind.width, kind.thick) if along else (kind.thick, kind.width)
    if y < frame.limit[2] - 1e-9 or y + h > frame.limit[3] + 1e-9:
        return []
    span = (frame.limit[0], frame.limit[1] - w)
    found = _keep_outline(stock, frame, kind, z0, y, w, h, span)
    if found is None:
        return []
    pp, qq = pith_between(stock, frame, z0, kind.length)
    inner, outer = (kind.tan_min, kind.tan_max) if along else (kind.tan_max, kind.tan_min)
    if outer >= 0:
        found = _near_keep(outer if along else 1 / outer, pp, qq, y, w, h, found)
        if found is None:
            return []
    holes: list[Span] = []
    if inner >= 0:
        holes.append(_far_hole(inner if along else 1 / inner, pp, qq, y, w, h))
        if holes[0][0] < found[0] and holes[0][1] > found[1]:
            return []
    if kind.clear >= 0:
        holes += _heart_hole(kind.clear, pp, qq, y, w, h)
    if stock.quartered:
        middle, half = 0.5 * (frame.p[0] + frame.p[1]), 0.5 * stock.kerf
        across = 0.5 * (frame.q[0] + frame.q[1])
        if y < across + half and y + h > across - half:
            return []
        holes.append((middle - half - w, middle + half))
    holes += _defect_holes(frame, kind, flip, z0, y, w, h)
    return subtract(found, holes, 8)


def _keep_outline(
    stock: Stock, frame: Frame, kind: Kind, z0: float, y: float, w: float, h: float, span: Span
) -> Span | None:
    low, high = span
    inset = 0.0 if kind.sapwood else stock.sapwood
    for z in (z0, z0 + kind.length):
        t = z / stock.length
        a = stock.a[0] + (stock.a[1] - stock.a[0]) * t - inset
        b = stock.b[0] + (stock.b[1] - stock.b[0]) * t - inset
        if a <= 0 or b <= 0:
            return None
        ia, ib = 1 / (a * a), 1 / (b * b)
        pp, pq = frame.c2 * ia + frame.s2 * ib, frame.cs * (ia - ib)
        qq = frame.s2 * ia + frame.c2 * ib
        if frame.swap:
            pp, qq = qq, pp
        for v in (y, y + h):
            d = pq * v * pq * v - pp * (qq * v * v - 1)
            if d < 0:
                return None
            d = math.sqrt(d)
            low = max(low, (-pq * v - d) / pp)
            high = min(high, (-pq * v + d) / pp - w)
    return (low, high) if low <= high else None


def _far_hole(k: float, pp: Span, qq: Span, y: float, w: float, h: float) -> Span:
    """Where least |along| is below k times greatest |across| at an end, or the pith is astride."""
    low, high = INFINITE, -INFINITE
    for p, q in zip(pp, qq, strict=True):
        m = k * max(abs(q - y), abs(q - (y + h)))
        low, high = min(low, p - m - w), max(high, p + m)
    return low, high


def _near_keep(
    k: float, pp: Span, qq: Span, y: float, w: float, h: float, span: Span
) -> Span | None:
    """Where greatest |along| is at most k times least |across| at both ends, pith on one side."""
    low, high = span
    for p, q in zip(pp, qq, strict=True):
        m = k * gap_to(q, y, y + h)
        low, high = max(low, p - m), min(high, p + m - w)
    beside = (qq[0] < y and qq[1] < y) or (qq[0] > y + h and qq[1] > y + h)
    return (low, high) if beside and low <= high else None


def _heart_hole(c: float, pp: Span, qq: Span, y: float, w: float, h: float) -> list[Span]:
    """Where the section comes nearer than c to the pith's stretch: a rounded convex figure, whose
    ends along the row lie at one of eight places on the stretch."""
    dp, dq = pp[1] - pp[0], qq[1] - qq[0]
    places = [0.0, 1.0]
    if abs(dq) > 1e-9:
        k = abs(dp / dq)
        d = c * k / math.sqrt(1 + k * k)
        at = [(v - qq[0]) / dq for v in (y, y + h, y - c, y + h + c, y - d, y + h + d)]
        places += [t for t in at if 0 < t < 1]
    low, high = INFINITE, -INFINITE
    for t in places:
        d = gap_to(qq[0] + dq * t, y, y + h)
        r = c * c - d * d
        if r < -1e-9:
            continue
        r = math.sqrt(r) if r > 0 else 0.0
        p = pp[0] + dp * t
        low, high = min(low, p - w - r), max(high, p + r)
    return [(low, high)] if low < INFINITE else []


def _defect_holes(
    frame: Frame, kind: Kind, flip: bool, z0: float, y: float, w: float, h: float
) -> list[Span]:
    holes = []
    for p, q, radius, start, end in frame.rots:
        d = gap_to(q, y, y + h)
        if start > z0 + kind.length or end < z0 or d >= radius:
            continue
        g = math.sqrt(radius * radius - d * d)
        holes.append((p - g - w, p + g))
    for knot in frame.knots:
        for a, b in kind.parts:
            first, last = (1 - b, 1 - a) if flip else (a, b)
            dz = gap_to(knot[4], z0 + first * kind.length, z0 + last * kind.length)
            holes += _knot_hole(knot, dz, y, w, h)
    return holes


def _knot_hole(knot: tuple[float, ...], dz: float, y: float, w: float, h: float) -> list[Span]:
    p0, q0, out_p, out_q, _, spread, reach, grown = knot
    low, high = INFINITE, -INFINITE
    for s in _knot_places(knot, dz, y, h):
        if s < 0 or s > reach:
            continue
        ball, d = s * spread + grown, gap_to(q0 + out_q * s, y, y + h)
        r = ball * ball - dz * dz - d * d
        if r < -1e-6:
            continue
        r = math.sqrt(r) if r > 0 else 0.0
        p = p0 + out_p * s
        low, high = min(low, p - r - w), max(high, p + r)
    return [(low, high)] if low < INFINITE else []


def _knot_places(knot: tuple[float, ...], dz: float, y: float, h: float) -> list[float]:
    """Where along a knot's axis the ends of its hole can lie.

    The knot is the union of balls about s along the axis, of radius s sin(half angle) and a margin.
    Such a ball meets the row at p(s) -+ sqrt(A s^2 + 2 B s + C), in three pieces as the axis lies
    below, beside or above the section; each piece ends, or turns, at a root of a quadratic.
    """
    _, q0, out_p, out_q, _, spread, reach, grown = knot
    places = [0.0, reach]
    for slope, off in ((out_q, y - q0), (0.0, 0.0), (out_q, y + h - q0)):
        a, b = spread * spread - slope * slope, spread * grown + slope * off
        c = grown * grown - dz * dz - off * off
        if abs(slope) > 1e-12:
            places.append(off / slope)
        if abs(a) < 1e-12:
            if abs(b) > 1e-12:
                places.append(-0.5 * c / b)
            continue
        d, e = b * b - a * c, out_p * out_p - a
        roots = [math.sqrt(d)] if d >= 0 else []
        if e != 0 and d / e >= 0:
            roots.append(abs(out_p) * math.sqrt(d / e))
        places += [(sign * root - b) / a for root in roots for sign in (1.0, -1.0)]
    return places
