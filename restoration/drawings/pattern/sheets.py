"""The two drawings of a pattern: small with its dimensions, and at full size to cut out."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from shapely import Polygon, box
from shapely.prepared import prep

from restoration.calc.pattern import Pattern
from restoration.calc.tiles import OVERLAP_MM, Tiling
from restoration.drawings.hull.paper import Area, Line, Words
from restoration.drawings.pattern import parts
from restoration.drawings.pattern.frame import Frame, scale_for
from restoration.drawings.pattern.name import name
from restoration.drawings.pattern.shapes import Drawing, Shape

WIDE, TALL = 240.0, 130.0
"""The small drawing, and the most that its timber takes of the height."""
LEFT, RIGHT, TOP = 16.0, 8.0, 8.0
EDGE = 6.0
"""Round the timber at full size."""


@dataclass(frozen=True)
class Named:
    """What a drawing says of the pattern, in the reader's own units (`say` writes a length)."""

    name: str
    member: str
    say: parts.Say


def small_drawing(pattern: Pattern, named: Named, *, mirrored: bool = False) -> Drawing:
    probe = Frame(pattern, 1, 0, 0)
    scale = scale_for(probe.wide, probe.tall, WIDE - LEFT - RIGHT, TALL)
    room = WIDE - LEFT - RIGHT - probe.wide / scale
    frame = Frame(pattern, scale, LEFT + room / 2, TOP, mirrored)
    below = 8 + (2 * (parts.LETTERS + 1) + 1 if pattern.bevels else 0)
    foot = frame.in_top + frame.tall + below + 9
    key, reached = parts.key(frame, LEFT, foot, WIDE - LEFT - RIGHT - 60)
    said = f"1 : {scale:g} · sided {named.say(pattern.sided_mm)}"
    shapes: list[Shape] = [
        *parts.outline(frame),
        *_in_timber(frame, longest=40.0),
        *parts.holes(frame),
        *parts.overall(frame, named.say, below),
        *key,
        Words(WIDE - RIGHT, foot, said, parts.LETTERS, "end"),
    ]
    height = max(reached, foot) + 4
    return Drawing(WIDE, height, scale, _says(named, pattern), tuple(shapes))


def full_size(pattern: Pattern, named: Named, *, mirrored: bool = False) -> Drawing:
    """At 1 : 1, with its name where there is room beside what is drawn."""
    frame = Frame(pattern, 1, EDGE, EDGE, mirrored)
    shapes = [
        *parts.outline(frame, "cut"),
        *_in_timber(frame, longest=60.0),
        *parts.holes(frame, named.say),
    ]
    shapes += name(frame, _rows(named, pattern, mirrored=mirrored), shapes)
    below = EDGE + (parts.BEYOND + 2 * (parts.LETTERS + 1) if pattern.bevels else 0)
    height = frame.tall + EDGE + below
    return Drawing(frame.wide + 2 * EDGE, height, 1, _says(named, pattern), tuple(shapes))


def _in_timber(frame: Frame, longest: float) -> list[Shape]:
    return [
        *parts.bevels(frame),
        *parts.grain(frame, longest),
        *parts.lines(frame),
    ]


def _rows(named: Named, pattern: Pattern, *, mirrored: bool) -> tuple[str, str]:
    turned = " · turned over" if mirrored else ""
    return named.name, f"{named.member} · sided {named.say(pattern.sided_mm)}{turned}"


def _says(named: Named, pattern: Pattern) -> str:
    probe = Frame(pattern, 1, 0, 0)
    said = [f"{named.name} of {named.member}", f"{named.say(probe.wide)} long"]
    said.append(f"{named.say(probe.tall)} broad")
    counts = ((len(pattern.lines), "line"), (len(pattern.holes), "bolt hole"))
    said += [f"{n} {what}{'s' if n > 1 else ''}" for n, what in counts if n]
    return ", ".join(said)


def with_sheets(pattern: Pattern, named: Named, laid: Tiling, *, mirrored: bool = False) -> Drawing:
    """The small drawing with the sheets of paper over it, each by its row and column."""
    small = small_drawing(pattern, named, mirrored=mirrored)
    probe = Frame(pattern, 1, 0, 0)
    left = LEFT + (WIDE - LEFT - RIGHT - probe.wide / small.scale) / 2
    found: list[Shape] = list(small.shapes)
    clear = OVERLAP_MM / small.scale + 1.5  # of the strip shared with a neighbour
    for tile in laid.tiles:
        # A tile's place is told on the full-size drawing, whose timber begins EDGE in.
        x = left + (tile.left_mm - EDGE) / small.scale
        y = TOP + (tile.top_mm - EDGE) / small.scale
        u, v = x + laid.frame_wide_mm / small.scale, y + laid.frame_tall_mm / small.scale
        found.append(Line(((x, y), (u, y), (u, v), (x, v), (x, y)), "sheet"))
        found.append(Words(x + clear, y + clear + 4, tile.label, 4.2, tone="sheet"))
    return _enlarged(small, found)


def _enlarged(small: Drawing, shapes: list[Shape]) -> Drawing:
    """Moved so that sheets that stand out beyond the drawing are on it too."""
    xs = [x for each in shapes if isinstance(each, Line) for x, _ in each.points]
    ys = [y for each in shapes if isinstance(each, Line) for _, y in each.points]
    left, top = min(0.0, min(xs) - 2), min(0.0, min(ys) - 2)
    wide, tall = max(small.width, max(xs) + 2) - left, max(small.height, max(ys) + 2) - top
    moved = tuple(_moved(each, -left, -top) for each in shapes)
    return Drawing(wide, tall, small.scale, small.says, moved)


def _moved(shape: Shape, by_x: float, by_y: float) -> Shape:
    if isinstance(shape, Area | Line):
        points = tuple((x + by_x, y + by_y) for x, y in shape.points)
        return replace(shape, points=points)
    return replace(shape, x=shape.x + by_x, y=shape.y + by_y)


def is_drawn(pattern: Pattern, *, mirrored: bool = False) -> Callable[..., bool]:
    """Whether any of the timber lies in a part of the full-size drawing (for `tiles.tiling`)."""
    frame = Frame(pattern, 1, EDGE, EDGE, mirrored)
    timber = prep(Polygon(frame.to(pattern.outline_mm)).buffer(2))
    return lambda left, top, right, foot: timber.intersects(box(left, top, right, foot))
