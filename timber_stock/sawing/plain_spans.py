"""Spans along a row, and holes cut from them."""

from __future__ import annotations

Span = tuple[float, float]


def gap_to(p: float, low: float, high: float) -> float:
    """How far a place lies outside a span; 0 within it."""
    if p < low:
        return low - p
    return p - high if p > high else 0.0


def subtract(span: Span, holes: list[Span], most: int) -> list[Span]:
    """What is left of a span when holes are cut from it, low to high, at most so many pieces."""
    found: list[Span] = []
    at, end = span
    for low, high in sorted(holes, key=_low):
        if at > end:
            break
        if high <= at:
            continue
        if low >= at and len(found) < most:
            found.append((at, min(low, end)))
        at = high
    if at <= end and len(found) < most:
        found.append((at, end))
    return found


def _low(span: Span) -> float:
    return span[0]
