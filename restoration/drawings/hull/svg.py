"""The hull sheet as SVG: every member a link that says its name and state."""

from collections.abc import Iterable
from html import escape

from restoration.calc.curves import Point
from restoration.drawings.hull.paper import Area, Hatch, Line, Mark, Member, Sheet, Words


def svg(sheet: Sheet, size: str = "") -> str:
    """One drawing as wide as its place; `size` is a class of the style sheet, to look closer."""
    inside = "".join(_member(each) if isinstance(each, Member) else _mark(each)
                     for each in sheet.items)  # fmt: skip
    return (
        f'<svg class="hull-sheet {escape(size)}" viewBox="0 0 {sheet.width:g} {sheet.height:g}" '
        f'role="group" aria-label="{escape(sheet.says)}" xmlns="http://www.w3.org/2000/svg">'
        f"{inside}</svg>"
    )


def _member(member: Member) -> str:
    """A link; where it is drawn again it is none to whoever tabs or listens."""
    classes = f"m s-{member.state or 'none'}" + (" faint" if member.faint else "")
    inside = "".join(_mark(mark) for mark in member.marks)
    title = f"<title>{escape(member.title)}</title>"
    name = "" if member.again else f' id="m{escape(member.key)}"'
    if not member.href:
        return f'<g class="{classes}"{name}>{title}{inside}</g>'
    hidden = ' aria-hidden="true" tabindex="-1"' if member.again else ""
    return f'<a class="{classes}"{name} href="{escape(member.href)}"{hidden}>{title}{inside}</a>'


def _mark(mark: Mark) -> str:
    if isinstance(mark, Area):
        name = ' id="hull-outline"' if mark.tone == "outline" else ""
        return f'<path class="t-{mark.tone}"{name} d="{_path(mark.points)}z"/>'
    if isinstance(mark, Hatch):
        drawn = "".join([_segment(*ends) for ends in mark.segments])
        return f'<path class="h-{mark.state}" d="{drawn}"/>'
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
    return "M" + "L".join([f"{x:.2f} {y:.2f}" for x, y in points])


def _segment(one: Point, other: Point) -> str:
    return f"M{one[0]:.2f} {one[1]:.2f}L{other[0]:.2f} {other[1]:.2f}"


def _figure(value: float) -> str:
    return f"{value:.2f}"
