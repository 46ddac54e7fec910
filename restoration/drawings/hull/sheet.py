"""The hull sheet on A3: profile above, half plans below on one centreline, title block at the foot.

Bow to the left. The deck half is seen from above and the bottom half from below, so that both
show the same side and share their centreline.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.lines import Lines, Stations
from restoration.drawings.hull import title_block
from restoration.drawings.hull.grid import Grid
from restoration.drawings.hull.hull import Hull, hull_of
from restoration.drawings.hull.paper import Area, Line, Mark, Member, Sheet, Words
from restoration.drawings.hull.pieces import Placed
from restoration.drawings.hull.title_block import Title
from restoration.drawings.hull.views import Rows, View, drawn_in, members

WIDTH, HEIGHT = 420.0, 297.0
LEFT, RIGHT, TOP, FOOT = 20.0, 410.0, 10.0, 287.0
BLOCK = 40.0
LEAST = 1.15
"""On paper, mm: no member is drawn thinner."""
ROW = 13.0
SCALES = (
    5, 8, 10, 12, 15, 16, 20, 24, 25, 30, 32, 40, 48, 50, 60, 64, 75, 80, 96, 100, 120, 150, 200,
    400, 800,
)  # fmt: skip
SIDES = {"P": "port", "S": "starboard"}


@dataclass(frozen=True)
class Layout:
    scale: float
    profile: View
    deck: View
    bottom: View
    hull: Hull
    near: str


def draw_sheet(
    lines: Lines,
    stations: Stations,
    placed: Sequence[Placed],
    title: Title,
    *,
    near: str = "P",
    says: str = "Hull sheet",
) -> Sheet:
    """The sheet of a hull with every member placed. `near` is the side that the profile shows."""
    scale = scale_for(lines)
    hull = hull_of(lines, placed, LEAST * scale)
    layout = _layout(lines, hull, scale, near)
    items = (
        *_frame(),
        *_stations(layout, stations),
        *_views(layout, placed),
        *_outlines(layout),
        *_captions(layout),
        *title_block.block(title, scale, (LEFT, FOOT - BLOCK, RIGHT, FOOT)),
    )
    return Sheet(WIDTH, HEIGHT, says, items)


def scale_for(lines: Lines) -> int:
    """The largest of the usual scales, metric and in eighths to the foot, at which she fits."""
    high = max(height for _, height in lines.sheer.points)
    low = min(height for _, height in lines.profile.points)
    beam = 2 * max(breadth for _, breadth in lines.deck.points)
    tall = FOOT - BLOCK - TOP - 4 * ROW - 8
    for scale in SCALES:
        if lines.length_mm / scale <= RIGHT - LEFT - 30 and (high - low + beam) / scale <= tall:
            return scale
    raise ValueError("She is too long to draw on one sheet.")


def _layout(lines: Lines, hull: Hull, scale: float, near: str) -> Layout:
    grid = hull.grid
    x = LEFT + (RIGHT - LEFT - lines.length_mm / scale) / 2
    high, low = max(grid.sheers) / scale, min(grid.keels) / scale
    half = max(grid.decks) / scale
    spare = FOOT - BLOCK - TOP - 4 * ROW - 8 - (high - low) - 2 * half
    gap = max(spare, 0) / 4
    waterline = TOP + 4 + gap + ROW + high
    centreline = waterline - low + 2 * ROW + 4 + gap + half
    way = -1 if near == "P" else 1
    return Layout(
        scale,
        View("profile", x, waterline, scale, grid.start),
        View("deck", x, centreline, scale, grid.start, way),
        View("bottom", x, centreline, scale, grid.start, -way),
        hull,
        near,
    )


def _views(layout: Layout, placed: Sequence[Placed]) -> list[Member]:
    found: list[Member] = []
    for view in (layout.profile, layout.deck, layout.bottom):
        top, foot = _extent(layout, view)
        drawn = drawn_in(view, layout.hull, placed, layout.near)
        limits = (LEFT + 1, top - ROW, RIGHT - 1, foot + ROW)
        found += members(view, drawn, _rows(layout, view), limits)
    return found


def _rows(layout: Layout, view: View) -> Rows:
    top, foot = _extent(layout, view)
    if view.name == "profile":
        return Rows(top - LEADER, foot + LEADER)
    return Rows(top - LEADER, None) if view.way < 0 else Rows(None, foot + LEADER)


LEADER = 2.4


def _extent(layout: Layout, view: View) -> tuple[float, float]:
    grid = layout.hull.grid
    if view.name == "profile":
        return view.y - max(grid.sheers) / view.scale, view.y - min(grid.keels) / view.scale
    edge = view.y + view.way * max(grid.decks) / view.scale
    return min(edge, view.y), max(edge, view.y)


def _outlines(layout: Layout) -> list[Mark]:
    grid, profile = layout.hull.grid, layout.profile
    places = list(grid.places)
    sheer = [(at, grid.sheer(at)) for at in places]
    keel = [(at, grid.keel(at)) for at in reversed(places)]
    rabbet = [(at, grid.rabbet(at)) for at in places]
    deck = [(grid.start, 0.0), *((at, grid.deck(at)) for at in places), (grid.end, 0.0)]
    x0, x1 = profile.x - 9, profile.paper((grid.end, 0))[0] + 9
    cl = layout.deck.y
    return [
        Area(profile.outline((*sheer, *keel)), "outline"),
        Line(profile.outline(tuple(rabbet)), "dashed"),
        Line(((x0, profile.y), (x1, profile.y)), "chain"),
        Words(x0 - 0.5, profile.y + 0.7, "LWL", 2.0, "end", tone="soft"),
        Line(layout.deck.outline(tuple(deck)), "outline"),
        Line(layout.bottom.outline(tuple(deck)), "outline"),
        Line(((x0, cl), (x1, cl)), "chain"),
        Words(x0 - 0.5, cl + 0.7, "CL", 2.0, "end", tone="soft"),
    ]


def _stations(layout: Layout, stations: Stations) -> list[Mark]:
    """Station lines through all views, numbered between profile and half plans."""
    grid = layout.hull.grid
    top = _extent(layout, layout.profile)[0]
    foot = max(_extent(layout, view)[1] for view in (layout.deck, layout.bottom))
    above_plan = min(_extent(layout, view)[0] for view in (layout.deck, layout.bottom))
    numbered = (above_plan + _extent(layout, layout.profile)[1]) / 2 + 0.8
    every = _every(stations.spacing_mm / layout.scale)
    found: list[Mark] = []
    for number in _numbers(grid, stations):
        x = layout.profile.paper((stations.position_mm(number), 0))[0]
        found.append(Line(((x, top), (x, numbered - 2.6)), "station"))
        found.append(Line(((x, numbered + 1.2), (x, foot)), "station"))
        if number % every == 0:
            found.append(Words(x, numbered, str(number), 2.3, "middle", tone="station"))
    return [*found, Words(LEFT + 2, numbered, "STATION", 1.8, tone="soft")]


def _every(apart: float) -> int:
    return next((step for step in (1, 2, 5, 10, 20) if apart * step >= 4.5), 50)


def _numbers(grid: Grid, stations: Stations) -> range:
    first = stations.number_at(grid.start - 1)
    last = stations.number_at(grid.end + 1)
    return range(int(first // 1) + 1, int(last // 1) + 1)


def _captions(layout: Layout) -> list[Mark]:
    near = SIDES[layout.near]
    far = SIDES["S" if layout.near == "P" else "P"]
    deck = ("DECK", f"{far} half", "from above")
    bottom = ("BOTTOM", f"{far} half from below", "strakes spread evenly")
    above, below = (deck, bottom) if layout.deck.way < 0 else (bottom, deck)
    top = min(_extent(layout, view)[0] for view in (layout.deck, layout.bottom))
    foot = max(_extent(layout, view)[1] for view in (layout.deck, layout.bottom))
    profile = f"PROFILE  centreline and {near} side"
    return [
        Words(LEFT + 2, TOP + 4.2, profile, 2.6, tone="caption"),
        *_caption(above, top + 3),
        *_caption(below, foot - 5),
    ]


def _caption(rows: Sequence[str], y: float) -> list[Mark]:
    first, *rest = rows
    under = [
        Words(LEFT + 2, y + 3.2 * number, row, 2.1, tone="soft")
        for number, row in enumerate(rest, start=1)
    ]
    return [Words(LEFT + 2, y, first, 2.6, tone="caption"), *under]


def _frame() -> list[Mark]:
    corners = ((LEFT, TOP), (RIGHT, TOP), (RIGHT, FOOT), (LEFT, FOOT))
    return [Area(corners, "border")]
