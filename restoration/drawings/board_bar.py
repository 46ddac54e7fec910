"""A board seen along its length: what is taken, what is free, what is proposed."""

from collections.abc import Iterable
from html import escape

from restoration.calc.free_length import Stretch

WIDTH, HEIGHT = 1000, 28


def board_bar(
    length_mm: float,
    taken: Iterable[tuple[Stretch, str]],
    proposed: Stretch | None = None,
    *,
    says: str,
) -> str:
    """An SVG as wide as its place; `taken` gives each stretch with whom it is for.

    The butt end is at the left. `says` is the whole in words, for whoever cannot see it.
    """
    scale = WIDTH / length_mm
    parts = [f'<rect class="free" width="{WIDTH}" height="{HEIGHT}"/>']
    if proposed:
        parts.append(_bar(proposed, scale, "proposed", "proposed"))
    parts += [_bar(stretch, scale, "taken", mark) for stretch, mark in taken]
    parts.append(f'<rect class="edge" width="{WIDTH}" height="{HEIGHT}"/>')
    return (
        f'<svg class="board-bar" viewBox="0 0 {WIDTH} {HEIGHT}" preserveAspectRatio="none" '
        f'role="img" aria-label="{escape(says)}">{"".join(parts)}</svg>'
    )


def _bar(stretch: Stretch, scale: float, kind: str, title: str) -> str:
    x = stretch.from_mm * scale
    width = min(stretch.length_mm * scale, WIDTH - x)
    return (
        f'<rect class="{kind}" x="{x:.1f}" width="{width:.1f}" height="{HEIGHT}">'
        f"<title>{escape(title)}</title></rect>"
    )
