"""Marks beside members: rows of them on leaders above and below a view, or set on the member."""

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.curves import Point
from restoration.drawings.hull.paper import Area, Line, Mark, Words, width_of
from restoration.drawings.hull.pieces import Piece

SIZE = 2.1
APART = 3.1
BADGE = 2.7
LEADER = 2.2
BOXED = frozenset(
    ["1", "2", "3", "NE", "worse", "found", "right", "better", "dropped", "out", "back", "later"]
)
RINGS = (0.0, 3.2, 5.0, 7.5, 10.5, 14.0, 18.0)
ROUND = ((0, -1), (0, 1), (1, 0), (-1, 0), (0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7))

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Wanted:
    """A mark that wants a place: at a point on its member."""

    piece: Piece
    at: Point


def row(wanted: Sequence[Wanted], line: float, up: bool) -> dict[str, tuple[Mark, ...]]:
    """Marks upright in a row whose near edge is at height `line`, each on a leader to its member.

    Where there are more than find room, those in the worst state keep theirs.
    """
    kept = sorted(_with_room(wanted), key=lambda each: each.at[0])
    places = _apart([each.at[0] for each in kept])
    return {
        each.piece.key: _upright(each, x, line, -1 if up else 1)
        for each, x in zip(kept, places, strict=True)
    }


def _with_room(wanted: Sequence[Wanted]) -> Sequence[Wanted]:
    if not wanted:
        return wanted
    reach = max(each.at[0] for each in wanted) - min(each.at[0] for each in wanted)
    most = max(int(reach / APART * 1.12), 4)
    worst = [each for each in wanted if each.piece.state in BOXED]
    rest = [each for each in wanted if each.piece.state not in BOXED]
    if len(wanted) <= most or not rest:
        return wanted
    every = -(-len(rest) // max(most - len(worst), 1))
    return [*worst, *rest[::every]]


def _apart(places: Sequence[float]) -> list[float]:
    """Moved apart until none touches the next, each as near as may be to where it was.

    Places less their share of the row must not fall: where they do, neighbours take their mean
    (isotonic regression by pooling neighbours).
    """
    pools: list[tuple[float, int]] = []
    for number, place in enumerate(places):
        total, count = place - number * APART, 1
        while pools and pools[-1][0] / pools[-1][1] > total / count:
            before, more = pools.pop()
            total, count = total + before, count + more
        pools.append((total, count))
    levels = [total / count for total, count in pools for _ in range(count)]
    return [level + number * APART for number, level in enumerate(levels)]


def _upright(each: Wanted, x: float, line: float, way: int) -> tuple[Mark, ...]:
    piece, (at, foot) = each.piece, each.at
    leader = Line(((at, foot), (x, line - way * 0.8), (x, line)), "leader")
    middle = line + way * BADGE / 2
    badge = _badge(piece, x, middle)
    text_at = line + way * (BADGE + 0.7 if piece.badge else 0.5)
    anchor = "start" if way < 0 else "end"
    text = Words(x + 0.36 * SIZE, text_at, piece.mark, SIZE, anchor, -90, "mark")
    return (leader, *badge, text)


def _badge(piece: Piece, x: float, y: float) -> tuple[Mark, ...]:
    if not piece.badge:
        return ()
    size = SIZE if len(piece.badge) < 3 else SIZE * 0.72
    text = Words(x, y + 0.36 * size, piece.badge, size, "middle", 0, "badge")
    if piece.state not in BOXED:
        return (text,)
    half = max(BADGE, width_of(piece.badge, size) + 0.6) / 2
    tall = BADGE / 2
    corners = (
        (x - half, y - tall),
        (x + half, y - tall),
        (x + half, y + tall),
        (x - half, y + tall),
    )
    return (Area(corners, "badge-3" if piece.state in ("3", "worse", "out") else "badge"), text)


def on_members(
    wanted: Sequence[Wanted], taken: list[Box], limits: Box
) -> dict[str, tuple[Mark, ...]]:
    """Marks set on their members, or near them on a leader where another mark is in the way."""
    found = {}
    for each in sorted(wanted, key=lambda one: one.piece.state not in BOXED):
        wide = width_of(each.piece.mark, SIZE) + (BADGE + 0.6 if each.piece.badge else 0)
        place = _free_place(each.at, wide, taken, limits)
        taken.append(_box(place, wide))
        found[each.piece.key] = _level(each, place, wide)
    return found


def _free_place(at: Point, wide: float, taken: Sequence[Box], limits: Box) -> Point:
    for distance in RINGS:
        for across, down in ROUND:
            place = (at[0] + across * (distance + (wide / 2 if distance and across else 0)),
                     at[1] + down * distance)  # fmt: skip
            box = _box(place, wide)
            if _within(box, limits) and not any(_meet(box, other) for other in taken):
                return place
            if not distance:
                break
    return at


def _box(place: Point, wide: float) -> Box:
    return place[0] - wide / 2, place[1] - 1.5, place[0] + wide / 2, place[1] + 1.5


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _within(box: Box, limits: Box) -> bool:
    return (
        box[0] >= limits[0] and box[1] >= limits[1] and box[2] <= limits[2] and box[3] <= limits[3]
    )


def _level(each: Wanted, place: Point, wide: float) -> tuple[Mark, ...]:
    x, y = place
    moved = abs(x - each.at[0]) + abs(y - each.at[1]) > 2.5
    leader = (Line((each.at, place), "leader"), Area(_dot(each.at), "dot")) if moved else ()
    text = Words(x - wide / 2, y + 0.36 * SIZE, each.piece.mark, SIZE, "start", 0, "mark")
    return (*leader, text, *_badge(each.piece, x + wide / 2 - BADGE / 2, y))


def _dot(at: Point) -> tuple[Point, ...]:
    x, y, r = *at, 0.35
    return ((x - r, y), (x, y - r), (x + r, y), (x, y + r))
