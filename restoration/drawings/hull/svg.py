"""The hull sheet as SVG: every member a link that says its name and state."""

from collections.abc import Iterable
from html import escape

from restoration.calc.curves import Point
from restoration.drawings.hull.paper import Area, Line, Mark, Member, Sheet, Words

HATCHED = ("1", "2", "3", "NE", "worse", "found", "right", "unseen", "better")


def svg(sheet: Sheet, size: str = "") -> str:
    """One drawing as wide as its place; `size` is a class of the style sheet, to look closer."""
    inside = "".join(_member(each) if isinstance(each, Member) else _mark(each)
                     for each in sheet.items)  # fmt: skip
    return (
        f'<svg class="hull-sheet {escape(size)}" viewBox="0 0 {sheet.width:g} {sheet.height:g}" '
        f'role="group" aria-label="{escape(sheet.says)}" xmlns="http://www.w3.org/2000/svg">'
        f"<defs>{PATTERNS}</defs>{inside}</svg>"
    )


def _member(member: Member) -> str:
    classes = f"m s-{member.state or 'none'}" + (" faint" if member.faint else "")
    inside = "".join(_mark(mark) for mark in member.marks)
    title = f"<title>{escape(member.title)}</title>"
    if not member.href:
        return f'<g class="{classes}" data-mark="{escape(member.key)}">{title}{inside}</g>'
    hidden = ' aria-hidden="true" tabindex="-1"' if member.again else ""
    return f'<a class="{classes}" href="{escape(member.href)}"{hidden}>{title}{inside}</a>'


def _mark(mark: Mark) -> str:
    if isinstance(mark, Area):
        hatch = f' fill="url(#hatch-{mark.state})"' if mark.state in HATCHED else ""
        return f'<path class="t-{mark.tone}" d="{_path(mark.points)}z"{hatch}/>'
    if isinstance(mark, Line):
        return f'<path class="l-{mark.tone}" d="{_path(mark.points)}"/>'
    return _words(mark)


def _words(words: Words) -> str:
    turned = (
        f' transform="rotate({words.angle:g} {_figure(words.x)} {_figure(words.y)})"'
        if words.angle
        else ""
    )
    return (
        f'<text class="w-{words.tone}" x="{_figure(words.x)}" y="{_figure(words.y)}" '
        f'font-size="{words.size:.3g}" text-anchor="{words.anchor}"{turned}>'
        f"{escape(words.text)}</text>"
    )


def _path(points: Iterable[Point]) -> str:
    return "M" + "L".join(f"{_figure(x)} {_figure(y)}" for x, y in points)


def _figure(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _pattern(state: str, step: float, *strokes: str) -> str:
    return (
        f'<pattern id="hatch-{state}" width="{step}" height="{step}" '
        f'patternUnits="userSpaceOnUse"><rect class="ground" width="{step}" height="{step}"/>'
        f"{''.join(strokes)}</pattern>"
    )


def _stroke(path: str, width: float) -> str:
    return f'<path class="hatch" d="{path}" stroke-width="{width}"/>'


_RISING = "M-.4 .4L.4-.4M0 1.6L1.6 0M1.2 2L2 1.2"
_FALLING = "M-.4 1.2L.4 2M0 0L1.6 1.6M1.2-.4L2 .4"
PATTERNS = "".join(
    [
        _pattern("1", 1.6, _stroke("M.8 0V1.6", 0.14)),
        _pattern("2", 1.6, _stroke(_RISING, 0.3)),
        _pattern("3", 1.6, _stroke(_RISING, 0.38), _stroke(_FALLING, 0.38)),
        _pattern("NE", 1.6, _stroke("M.55 .8H1.05", 0.45)),
        _pattern("worse", 1.6, _stroke(_RISING, 0.38), _stroke(_FALLING, 0.38)),
        _pattern("found", 1.6, _stroke(_RISING, 0.3)),
        _pattern("better", 1.6, _stroke("M.8 0V1.6", 0.14)),
        _pattern("right", 1.6, _stroke("M0 .8H1.6", 0.3)),
        _pattern("unseen", 1.6, _stroke("M.55 .8H1.05", 0.45)),
    ]
)
"""Hatches of the classes as the rest of the register draws them, then those of two surveys."""
