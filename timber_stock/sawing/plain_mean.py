"""The mean ring angle along a row, and where on it the mean keeps its limits."""

from __future__ import annotations

import math

from timber_stock.sawing.plain_spans import Span, subtract

NODES = (0.21132486540518713, 0.7886751345948129)  # two Gauss points along the length
CLOSE_MM = 0.02
TRIES = 12


def _square_log(u: float) -> float:
    return 0.0 if u == 0 else 0.25 * u * u * math.log(u * u)


def _corner(u: float, v: float, lu: float, lv: float) -> float:
    """Integral of atan(|u|/|v|) from the pith to the corner (u, v), odd in both."""
    uu, vv = u * u, v * v
    r = uu + vv
    if r == 0:
        return 0.0
    au, av = abs(u), abs(v)
    s = au * av * math.atan2(au, av) + 0.25 * (uu - vv) * math.log(r) + lv - lu
    return -s if (u < 0) != (v < 0) else s


def ring_mean(
    pp: Span, qq: Span, x: float, y: float, w: float, h: float, along: bool, pieces: int = 1
) -> float:
    """Mean ring angle in radians, the length taken in `pieces`; along: the wide face lies so."""
    total = 0.0
    for i in range(2 * pieces):
        share = (i // 2 + NODES[i & 1]) / pieces
        u0 = x - (pp[0] + (pp[1] - pp[0]) * share)
        v0 = y - (qq[0] + (qq[1] - qq[0]) * share)
        u1, v1 = u0 + w, v0 + h
        a0, a1, b0, b1 = _square_log(u0), _square_log(u1), _square_log(v0), _square_log(v1)
        total += (
            _corner(u1, v1, a1, b1)
            - _corner(u0, v1, a0, b1)
            - _corner(u1, v0, a1, b0)
            + _corner(u0, v0, a0, b0)
        )
    mean = total / (2 * pieces * w * h)
    return mean if along else math.pi / 2 - mean


class _Row:
    """One limit of the mean on one row: `room(x)` is above 0 where it is kept."""

    def __init__(
        self,
        pith: tuple[Span, Span],
        y: float,
        size: Span,
        along: bool,
        limit: float,
        least: bool,
    ) -> None:
        self.pp, self.qq = pith
        self.y, (self.w, self.h), self.along = y, size, along
        self.limit, self.least = limit, least

    def room(self, x: float) -> float:
        mean = ring_mean(self.pp, self.qq, x, self.y, self.w, self.h, self.along)
        return mean - self.limit if self.least else self.limit - mean

    def edge(self, good: float, bad: float, fg: float, fb: float) -> float:
        """The place nearest `bad` on the way from `good` that still keeps the limit."""
        side = 0
        for _ in range(TRIES):
            if abs(good - bad) <= CLOSE_MM:
                break
            m = good + (bad - good) * fg / (fg - fb)
            inner, outer = good + (bad - good) * 0.02, bad + (good - bad) * 0.02
            if (m - inner) * (outer - inner) < 0:
                m = inner
            if (outer - m) * (outer - inner) < 0:
                m = outer
            f = self.room(m)
            if f >= 0:
                good, fg = m, f
                fb = fb * 0.5 if side == 1 else fb
                side = 1
            else:
                bad, fb = m, f
                fg = fg * 0.5 if side == -1 else fg
                side = -1
        return good

    def kept(self, span: Span) -> list[Span]:
        """The parts of a span where the limit holds. The mean rises away from the pith along a wide
        face and falls across it, so the good part lies outside or inside two edges."""
        low, high = span
        middle = 0.5 * (self.pp[0] + self.pp[1]) - 0.5 * self.w
        centre = min(max(middle, low), high)
        fc, fl, fh = self.room(centre), self.room(low), self.room(high)
        if self.along == self.least:
            return self._outside(span, middle, centre, (fc, fl, fh))
        if fc < 0:
            return []
        first = low if fl >= 0 else self.edge(centre, low, fc, fl)
        last = high if fh >= 0 else self.edge(centre, high, fc, fh)
        return [(first, last)]

    def _outside(
        self, span: Span, middle: float, centre: float, rooms: tuple[float, float, float]
    ) -> list[Span]:
        (low, high), (fc, fl, fh) = span, rooms
        if fc >= 0 and fl >= 0 and fh >= 0:
            return [span]
        first, last = low - 1, high + 1
        if fl >= 0 and low < middle:
            first = centre if fc >= 0 else self.edge(low, centre, fl, fc)
        if fh >= 0 and high > middle:
            last = centre if fc >= 0 else self.edge(high, centre, fh, fc)
        return subtract(span, [(first, last)], 2)


def keep_mean(
    limits: Span,
    pith: tuple[Span, Span],
    y: float,
    size: Span,
    along: bool,
    spans: list[Span],
) -> list[Span]:
    """Of some spans of a row, the parts where the mean is within its (greatest, least) limits."""
    for least in (False, True):
        limit = limits[1] if least else limits[0]
        if limit < 0:
            continue
        row = _Row(pith, y, size, along, limit, least)
        spans = [part for span in spans[:62] for part in row.kept(span)]
    return spans
