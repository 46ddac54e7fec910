"""The three views of the sheet: which members each shows, and where on the paper they come."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from restoration.calc.curves import Point
from restoration.drawings.hull import labels, plans, profile
from restoration.drawings.hull.grid import Outline
from restoration.drawings.hull.hatch import hatching
from restoration.drawings.hull.hull import STRAKES, Hull
from restoration.drawings.hull.paper import Area, Mark, Member
from restoration.drawings.hull.pieces import Placed

FRAMES = ("frame", "frame_steamed", "frame_sawn", "frame_laminated", "futtock", "sister_frame")
ROWS_ABOVE = {"profile": frozenset({*FRAMES, "chainplate", "bulkhead"})}
ROWS_BELOW = {"profile": frozenset({"floor_timber", "keel_bolt"})}
ROWS_OUTSIDE = {
    "deck": frozenset(
        {"deck_beam", "beam_end", "ledge", "hanging_knee", "lodging_knee", "chainplate"}
    ),
    "bottom": frozenset({*FRAMES, "bulkhead", "counter_timber"}),
}
SHAPES: Mapping[str, Mapping[str, profile.Shape]] = {
    "profile": profile.SHAPES, "deck": plans.DECK, "bottom": plans.BOTTOM,
}  # fmt: skip
UPRIGHT = frozenset({*FRAMES, "floor_timber"})
SEEN_THROUGH = ("ceiling",)
"""Lies over planks that must be seen under it."""
LABELLED_IN_DECK = ("deck_beam", "beam_end")


@dataclass(frozen=True)
class View:
    """A view on the paper: where the foremost point of its base line is, and which way is up."""

    name: str
    x: float
    y: float
    scale: float
    start_mm: float
    way: int = -1

    def paper(self, point: Point) -> Point:
        along, off = point
        return self.x + (along - self.start_mm) / self.scale, self.y + self.way * off / self.scale

    def outline(self, shape: Outline) -> tuple[Point, ...]:
        return tuple(self.paper(point) for point in shape)


@dataclass(frozen=True)
class Drawn:
    """A member's outline in a view, in mm of paper."""

    placed: Placed
    outline: tuple[Point, ...]
    again: bool


def shown_in(view: str, placed: Placed, near: str) -> bool:
    """The profile shows centreline and near side; the half plans the far side and the middle."""
    in_plan = placed.kind in plans.DECK or placed.kind in plans.BOTTOM
    far = placed.side not in ("C", "B", near)
    if view == "profile":
        return placed.kind in profile.SHAPES and not (far and in_plan)
    return placed.kind in SHAPES[view] and placed.side != near


def first_view(placed: Placed, near: str) -> str:
    """The view that has a member's mark; where another shows it too, it is drawn again there."""
    if placed.kind in LABELLED_IN_DECK and shown_in("deck", placed, near):
        return "deck"
    return next(view for view in SHAPES if shown_in(view, placed, near))


def drawn_in(view: View, hull: Hull, placed: Sequence[Placed], near: str) -> list[Drawn]:
    shapes = SHAPES[view.name]
    order = {kind: number for number, kind in enumerate(shapes)}
    shown = sorted(
        (each for each in placed if shown_in(view.name, each, near)),
        key=lambda each: order[each.kind],
    )
    return [
        Drawn(
            each,
            view.outline(shapes[each.kind](hull, each)),
            again=first_view(each, near) != view.name,
        )
        for each in shown
    ]


@dataclass(frozen=True)
class Rows:
    """Heights on the paper of the rows of marks: above and below, None where a view has none."""

    above: float | None
    below: float | None


def members(view: View, drawn: Sequence[Drawn], rows: Rows, limits: labels.Box) -> list[Member]:
    """The shapes from the back to the front, then the marks over all of them."""
    marks = _marks(view, [each for each in drawn if not each.again], rows, limits)
    marked = [(each, marks.get(each.placed.piece.key)) for each in drawn if not each.again]
    return [
        *(_member(each) for each in drawn),
        *(_mark(each, found) for each, found in marked if found),
    ]


def _member(drawn: Drawn) -> Member:
    piece = drawn.placed.piece
    tone = "strake" if drawn.placed.kind in STRAKES else "member"
    if drawn.placed.assumed or drawn.placed.astray:
        tone = "assumed"
    if drawn.placed.kind in SEEN_THROUGH:
        tone = "clear"
    hatch = () if piece.faint else hatching(drawn.outline, piece.state)
    shape = (Area(drawn.outline, tone), *hatch)
    return Member(piece.key, piece.title, piece.href, piece.state, piece.faint, shape, drawn.again)


def _mark(drawn: Drawn, marks: tuple[Mark, ...]) -> Member:
    """The mark leads to the member's page too, but is no second link to whoever tabs or listens."""
    piece = drawn.placed.piece
    return Member(piece.key, piece.title, piece.href, piece.state, False, marks, again=True)


def _marks(
    view: View, drawn: Sequence[Drawn], rows: Rows, limits: labels.Box
) -> dict[str, tuple[Mark, ...]]:
    above: list[labels.Wanted] = []
    below: list[labels.Wanted] = []
    rest: list[labels.Wanted] = []
    outside = ROWS_OUTSIDE.get(view.name, frozenset())
    up = ROWS_ABOVE.get(view.name, outside if rows.above else frozenset())
    down = ROWS_BELOW.get(view.name, outside if rows.below else frozenset())
    gaps = _gaps(drawn)
    for each in drawn:
        piece = each.placed.piece
        if piece.faint:
            continue
        if each.placed.kind in up:
            above.append(labels.Wanted(piece, _end(each.outline, top=True)))
        elif each.placed.kind in down:
            below.append(labels.Wanted(piece, _end(each.outline, top=False)))
        else:
            rest.append(labels.Wanted(piece, _middle(each.outline, gaps)))
    found: dict[str, tuple[Mark, ...]] = {}
    if rows.above is not None:
        found |= labels.row(above, rows.above, up=True)
    if rows.below is not None:
        found |= labels.row(below, rows.below, up=False)
    return found | labels.on_members(rest, [], limits)


def _end(outline: Sequence[Point], top: bool) -> Point:
    middle = sum(x for x, _ in outline) / len(outline)
    heights = [y for _, y in outline]
    return middle, min(heights) if top else max(heights)


def _gaps(drawn: Sequence[Drawn]) -> list[float]:
    """Half way between each two frames or floors: there a mark on a strake is clear of them."""
    stand = {round(_end(each.outline, True)[0], 1) for each in drawn if each.placed.kind in UPRIGHT}
    return [(one + other) / 2 for one, other in pairwise(sorted(stand)) if other - one > 2]


def _middle(outline: Sequence[Point], gaps: Sequence[float]) -> Point:
    """A point on the member: about half way along it, clear of frames, between its two edges."""
    if len(outline) <= 4:
        return (
            sum(x for x, _ in outline) / len(outline),
            sum(y for _, y in outline) / len(outline),
        )
    edge = outline[: len(outline) // 2]
    middle = (edge[0][0] + edge[-1][0]) / 2
    reach = abs(edge[-1][0] - edge[0][0])
    clear = min(gaps, key=lambda at: abs(at - middle), default=middle)
    aim = clear if abs(clear - middle) < reach / 5 else middle
    half = min(range(len(edge)), key=lambda number: abs(edge[number][0] - aim))
    (x0, y0), (x1, y1) = outline[half], outline[-1 - half]
    return (x0 + x1) / 2, (y0 + y1) / 2
