"""The thread as one picture: the log at the left, what was sawn from it in columns to the right,
the members it went into at the far right."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

WIDE, HIGH = 160, 78
ACROSS, DOWN = WIDE + 34, HIGH + 24
EDGE = 24
LINE = 16
MOST_LETTERS = 24
MOST_OF_NAME = 15  # a name is set larger, in bold


@dataclass(frozen=True)
class Node:
    """One thing in the picture. `parents` are keys of what it comes from; the first places it.

    `lines` are what is written in it, the first line largest. A `kind` member stands at the
    far right; log, piece and more stand in their `column`.
    """

    key: str
    kind: str
    column: int
    lines: tuple[str, ...]
    title: str
    parents: tuple[str, ...] = ()
    href: str = ""
    asked: bool = False


def draw_thread(
    nodes: Sequence[Node], *, says: str, most_across: int = 0, asked: str = "asked for"
) -> str:
    """An SVG at its own size; `nodes` with each after its first parent. `says` is its name,
    `asked` what stands over what was asked for.

    On paper there is room for so many columns, `most_across`: further ones follow underneath.
    """
    at = _places(nodes, most_across or len(nodes) + 1)
    width = max((x for x, _ in at.values()), default=0) + WIDE + EDGE
    height = max((y for _, y in at.values()), default=0) + HIGH + EDGE
    lines = [_line(at, node, parent) for node in nodes for parent in node.parents]
    boxes = [_box(node, *at[node.key], asked) for node in nodes]
    return (
        f'<svg class="thread" width="{width:g}" height="{height:g}" '
        f'viewBox="0 0 {width:g} {height:g}" role="group" aria-label="{escape(says)}">'
        f"{''.join(lines)}{''.join(boxes)}</svg>"
    )


def _places(nodes: Sequence[Node], most_across: int) -> dict[str, tuple[float, float]]:
    columns, rows = _columns(nodes), _rows(nodes)
    band = (max(rows.values(), default=0) + 1) * DOWN
    places = {}
    for node in nodes:
        under, across = divmod(columns[node.key], most_across)
        y = EDGE + rows[node.key] * DOWN + under * band
        places[node.key] = (EDGE + across * ACROSS, y)
    return places


def _columns(nodes: Sequence[Node]) -> dict[str, int]:
    last = 1 + max((node.column for node in nodes if node.kind != "member"), default=-1)
    return {node.key: last if node.kind == "member" else node.column for node in nodes}


def _rows(nodes: Sequence[Node]) -> dict[str, float]:
    """Each thing that nothing comes out of has a row of its own; the others stand midway."""
    children: dict[str, list[str]] = {}
    for node in nodes:
        for parent in node.parents[:1]:
            children.setdefault(parent, []).append(node.key)
    ends = [node.key for node in nodes if node.key not in children]
    rows = {key: float(row) for row, key in enumerate(ends)}
    for node in reversed(nodes):
        if own := children.get(node.key):
            rows[node.key] = (rows[own[0]] + rows[own[-1]]) / 2
    return rows


def _line(at: dict[str, tuple[float, float]], node: Node, parent: str) -> str:
    """Turns beside what it comes from; where two lines meet in a member, the later one beside
    the member, so that no line runs under a box."""
    (x, y), (px, py) = at[node.key], at[parent]
    if x <= px:  # it follows underneath
        return (
            f'<path class="line" d="M{px + WIDE:g} {py + HIGH / 2:g}h17V{y - 12:g}H{x - 17:g}'
            f'V{y + HIGH / 2:g}H{x:g}"/>'
        )
    first = parent == node.parents[0]
    turn = px + WIDE + 17 if first else x - 10
    return (
        f'<path class="line" d="M{px + WIDE:g} {py + HIGH / 2:g}H{turn:g}V{y + HIGH / 2:g}H{x:g}"/>'
    )


def _box(node: Node, x: float, y: float, asked: str) -> str:
    classes = f"node {node.kind}" + (" asked" if node.asked else "")
    rounded = 12 if node.kind == "member" else 0
    inside = [
        f"<title>{escape(node.title)}</title>",
        f'<rect x="{x:g}" y="{y:g}" width="{WIDE}" height="{HIGH}" rx="{rounded}"/>',
    ]
    for number, text in enumerate(node.lines):
        first = "name" if number == 0 else "fact"
        inside.append(
            f'<text class="{first}" x="{x + 9:g}" y="{y + 19 + LINE * number:g}">'
            f"{escape(_short(text, MOST_LETTERS if number else MOST_OF_NAME))}</text>"
        )
    if node.asked and asked:
        inside.append(f'<text class="word" x="{x + 2:g}" y="{y - 6:g}">{escape(asked)}</text>')
    drawn = f'<g class="{classes}">{"".join(inside)}</g>'
    return f'<a href="{escape(node.href)}">{drawn}</a>' if node.href else drawn


def _short(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1] + "…"
