"""Metals on the scale of one galvanic series, and how far the furthest two lie apart."""

from collections.abc import Sequence
from html import escape

from restoration.calc.galvanic import Couple, Potential

WIDE, EDGE, ROW, FOOT = 360, 12, 46, 58
STEP_V = 0.2


def galvanic_scale_svg(
    held: Sequence[tuple[str, Potential]], widest: Couple | None, says: str
) -> str:
    """Each metal's range as a bar, the less noble to the left; the widest couple spanned below.

    held: names with their potentials, all of one series. says: the whole in words.
    """
    low = min(p.less_noble_v for _, p in held)
    high = max(p.more_noble_v for _, p in held)
    first, last = _ticks(low, high)
    scale = (WIDE - 2 * EDGE) / (last - first)

    def x(volts: float) -> float:
        return EDGE + (volts - first) * scale

    foot = len(held) * ROW + 8
    parts = [_tick(x(v), foot, v) for v in _every(first, last)]
    parts += [_metal(name, p, x, n * ROW) for n, (name, p) in enumerate(held)]
    if widest:
        parts.append(_span(widest, x, foot))
    height = foot + FOOT
    return (
        f'<svg class="galvanic" viewBox="0 0 {WIDE} {height}" role="img" '
        f'aria-label="{escape(says)}">{"".join(parts)}</svg>'
    )


def _ticks(low: float, high: float) -> tuple[float, float]:
    """Whole steps that hold every range with a little room."""
    first, last = low // STEP_V * STEP_V, -(-high // STEP_V) * STEP_V
    return first, last if last > first else first + STEP_V


def _every(first: float, last: float) -> list[float]:
    return [first + STEP_V * n for n in range(round((last - first) / STEP_V) + 1)]


def _tick(x: float, foot: float, volts: float) -> str:
    said = f"{round(volts, 1):+.1f}".replace("-", "−").replace("+0.0", "0").replace("−0.0", "0")
    return (
        f'<line class="rule" x1="{x:.1f}" x2="{x:.1f}" y1="0" y2="{foot}"/>'
        f'<text class="volts" x="{x:.1f}" y="{foot + 14}" text-anchor="middle">{said}</text>'
    )


def _metal(name: str, p: Potential, x, top: float) -> str:
    left, right = x(p.less_noble_v), x(p.more_noble_v)
    wide = max(right - left, 4)
    anchor, at = ("start", EDGE) if (left + right) / 2 < WIDE / 2 else ("end", WIDE - EDGE)
    return (
        f'<text x="{at}" y="{top + 16}" text-anchor="{anchor}">{escape(name)}</text>'
        f'<rect class="bar" x="{left:.1f}" y="{top + 22}" width="{wide:.1f}" height="14"/>'
    )


def _span(couple: Couple, x, foot: float) -> str:
    """From the middle of the metal that wastes to the middle of its nobler partner."""
    left, right = x(couple.wastes_potential.middle_v), x(couple.noble_potential.middle_v)
    apart = couple.noble_potential.middle_v - couple.wastes_potential.middle_v
    y = foot + 30
    at = min(max((left + right) / 2, 70), WIDE - 70)
    return (
        f'<path class="span" d="M{left:.1f} {y - 6} V{y + 6} M{left:.1f} {y} H{right:.1f} '
        f'M{right:.1f} {y - 6} V{y + 6}"/>'
        f'<text x="{at:.1f}" y="{y + 22}" text-anchor="middle">middles {apart:.2f} V apart</text>'
    )
