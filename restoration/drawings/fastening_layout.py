"""The holes of a joint with their dimensions, as plain shapes in mm of paper.

The length of the face runs down the sheet. Running dimensions stand on the right (along, from the
start) and below (across, from the left): those one marks out by. Distances from one to the next
stand on the left and above. A sheet is 100 mm wide, so that its letters can be read on a phone.
The shapes are those of the hull sheet: a PDF draws them as well as SVG.
"""

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from restoration.calc.fastening_face import Face, Hole
from restoration.calc.fastening_timbers import Timber
from restoration.drawings.hull.paper import Area, Line, Mark, Sheet, Words

WIDE = 100.0
LETTER, SMALL = 3.4, 3.0
LEFT, RIGHT, ABOVE, BELOW = 27.0, 27.0, 26.0, 26.0
FACE_WIDE, FACE_TALL = WIDE - LEFT - RIGHT, 165.0
APART = 4.2
"""Least distance between two dimensions, so that their letters stay apart."""
LEGEND = 30.0
Say = Callable[[float], str]


def fastening_layout(
    face: Face,
    timbers: tuple[Timber, Timber],
    holes: Sequence[Hole],
    load_deg: float,
    say: Say,
    without_grain: frozenset[str] = frozenset(),
) -> Sheet:
    """The sheet of one layout. timbers: the head's, then the point's. say: how lengths are read.

    without_grain: names of those that are of metal.
    """
    xs, ys = _steps(hole.x_mm for hole in holes), _steps(hole.y_mm for hole in holes)
    tall = max(FACE_TALL, APART * (len(xs) + 2))
    scale = min(FACE_WIDE / face.width_mm, tall / face.length_mm)
    wide, high = face.width_mm * scale, face.length_mm * scale
    left, top = LEFT + (FACE_WIDE - wide) / 2, ABOVE
    marks: list[Mark] = [*_face(left, top, wide, high, timbers[0])]
    marks += _along_right(left + wide, top, high, [x * scale for x in xs], [say(x) for x in xs])
    marks += _along_left(left, top, _gaps(xs, face.length_mm), scale, say)
    marks += _across_below(left, top + high, wide, [y * scale for y in ys], [say(y) for y in ys])
    marks += _across_above(left, top, _gaps(ys, face.width_mm), scale, say)
    for hole in holes:
        marks += _hole(hole, left + hole.y_mm * scale, top + hole.x_mm * scale, scale)
    foot = top + high + BELOW
    marks += _legend(foot, timbers, load_deg, without_grain)
    return Sheet(WIDE, foot + LEGEND, _in_words(face, holes, say), tuple(marks))


def _steps(places) -> list[float]:
    """The places once each, to a tenth of a millimetre."""
    return sorted({round(place, 1) for place in places})


def _gaps(places: Sequence[float], end: float) -> list[tuple[float, float]]:
    return list(pairwise([0.0, *places, end]))


def _face(left: float, top: float, wide: float, high: float, head: Timber) -> list[Mark]:
    corners = ((left, top), (left + wide, top), (left + wide, top + high), (left, top + high))
    sides = {
        "start": corners[0:2], "right": corners[1:3], "finish": corners[2:4],
        "left": (corners[3], corners[0]),
    }  # fmt: skip
    lines = [
        Line(tuple(ends), "runs-on" if side in head.runs_on else "edge")
        for side, ends in sides.items()
    ]
    return [Area(corners, "face"), *_grain(left, top, wide, high, head.grain_deg), *lines]


def _grain(left: float, top: float, wide: float, high: float, grain_deg: float) -> list[Mark]:
    """A few short strokes the way the grain runs, so that it is seen at once."""
    angle = math.radians(grain_deg)
    half = 0.12 * min(wide, high)
    dx, dy = half * math.sin(angle), half * math.cos(angle)
    places = [(0.2, 0.18), (0.75, 0.3), (0.3, 0.52), (0.72, 0.7), (0.25, 0.85)]
    return [
        Line(((x - dx, y - dy), (x + dx, y + dy)), "grain")
        for x, y in ((left + wide * u, top + high * v) for u, v in places)
    ]


def _along_right(right, top, high, places, words) -> list[Mark]:
    spread = _spread(places, 0.0, max(high, APART * len(places)))
    marks: list[Mark] = []
    for place, at, text in zip(places, spread, words, strict=True):
        y, level = top + place, top + at
        marks.append(Line(((right + 0.8, y), (right + 3, y), (right + 5.5, level)), "dim"))
        marks.append(Words(right + 6.2, level + LETTER * 0.35, text, LETTER, tone="dim"))
    return marks


def _along_left(left, top, gaps, scale, say) -> list[Mark]:
    at = left - 5.0
    middles = [(low + high) / 2 * scale for low, high in gaps]
    spread = _spread(middles, 0.0, max(gaps[-1][1] * scale, APART * len(gaps)))
    marks: list[Mark] = [Line(((at, top), (at, top + gaps[-1][1] * scale)), "dim")]
    for place in {edge for gap in gaps for edge in gap}:
        y = top + place * scale
        marks.append(Line(((at - 1, y + 1), (at + 1, y - 1)), "tick"))
        marks.append(Line(((at + 1, y), (left - 0.8, y)), "faint"))
    for (low, high), level in zip(gaps, spread, strict=True):
        words = say(high - low)
        y = top + level + LETTER * 0.35
        marks.append(Words(at - 2, y, words, LETTER, "end", tone="dim"))
    return marks


def _across_below(left, foot, wide, places, words) -> list[Mark]:
    spread = _spread(places, 0.0, max(wide, APART * len(places)), centred_on=wide / 2)
    marks: list[Mark] = []
    for place, at, text in zip(places, spread, words, strict=True):
        x, level = left + place, left + at
        marks.append(Line(((x, foot + 0.8), (x, foot + 3), (level, foot + 5.5)), "dim"))
        marks.append(
            Words(level + LETTER * 0.35, foot + 6.2, text, LETTER, "end", -90.0, tone="dim")
        )
    return marks


def _across_above(left, top, gaps, scale, say) -> list[Mark]:
    at = top - 5.0
    wide = gaps[-1][1] * scale
    middles = [(low + high) / 2 * scale for low, high in gaps]
    spread = _spread(middles, 0.0, max(wide, APART * len(gaps)), centred_on=wide / 2)
    marks: list[Mark] = [Line(((left, at), (left + wide, at)), "dim")]
    for place in {edge for gap in gaps for edge in gap}:
        x = left + place * scale
        marks.append(Line(((x - 1, at + 1), (x + 1, at - 1)), "tick"))
        marks.append(Line(((x, at + 1), (x, top - 0.8)), "faint"))
    for (low, high), level in zip(gaps, spread, strict=True):
        x = left + level + LETTER * 0.35
        marks.append(Words(x, at - 2, say(high - low), LETTER, "start", -90.0, tone="dim"))
    return marks


def _spread(
    places: Sequence[float], low: float, high: float, centred_on: float | None = None
) -> list[float]:
    """Places moved as little as it takes to stand `APART` from each other, in order."""
    found: list[float] = []
    for place in places:
        found.append(max(place, found[-1] + APART) if found else place)
    over = found[-1] - high if found else 0.0
    if centred_on is not None and found and high - low <= APART * len(found):
        over = (found[0] + found[-1]) / 2 - centred_on
        return [place - over for place in found]
    limit = high
    for n in range(len(found) - 1, -1, -1):
        found[n] = min(found[n], limit)
        limit = found[n] - APART
    return found


def _hole(hole: Hole, x: float, y: float, scale: float) -> list[Mark]:
    radius = max(hole.diameter_mm / 2 * scale, 0.7)
    turn = [2 * math.pi * n / 24 for n in range(24)]
    circle = tuple((x + radius * math.cos(a), y + radius * math.sin(a)) for a in turn)
    arm = radius + 1.0
    return [
        Area(circle, "hole"),
        Line(((x - arm, y), (x + arm, y)), "centre"),
        Line(((x, y - arm), (x, y + arm)), "centre"),
        Words(x + radius + 0.5, y - radius - 0.3, f"{hole.number}", LETTER, tone="number"),
    ]


def _legend(
    foot: float, timbers: tuple[Timber, Timber], load_deg: float, without_grain: frozenset[str]
) -> list[Mark]:
    sides = zip(timbers, ("the heads' side", "behind it"), strict=True)
    told = [
        (f"grain of {timber.name},", side, timber.grain_deg, "grain-way")
        for timber, side in sides
        if timber.name not in without_grain
    ]
    told.append(("load on", "the joint", load_deg, "load-way"))
    marks: list[Mark] = []
    for n, (first, second, angle, tone) in enumerate(told):
        middle = WIDE * (n + 0.5) / len(told)
        marks += _arrow(middle, foot + 8, angle, tone)
        marks.append(Words(middle, foot + 20, first, SMALL, "middle", tone="plain"))
        marks.append(Words(middle, foot + 24, second, SMALL, "middle", tone="plain"))
    return marks


def _arrow(x: float, y: float, angle_deg: float, tone: str) -> list[Mark]:
    """Pointed at both ends: neither the grain nor a load in a hull has one way only."""
    angle = math.radians(angle_deg)
    way = (math.sin(angle), math.cos(angle))
    ends = [(x + s * 7 * way[0], y + s * 7 * way[1]) for s in (-1, 1)]
    marks: list[Mark] = [Line(tuple(ends), tone)]
    for (ex, ey), sign in zip(ends, (-1, 1), strict=True):
        barbs = tuple(
            (
                ex - sign * 2 * (way[0] * math.cos(b) - way[1] * math.sin(b)),
                ey - sign * 2 * (way[0] * math.sin(b) + way[1] * math.cos(b)),
            )
            for b in (-0.45, 0.45)
        )
        marks.append(Line((barbs[0], (ex, ey), barbs[1]), tone))
    return marks


def _in_words(face: Face, holes: Sequence[Hole], say: Say) -> str:
    listed = "; ".join(
        f"hole {hole.number}: {say(hole.x_mm)} along, {say(hole.y_mm)} across" for hole in holes
    )
    size = f"A face {say(face.length_mm)} long and {say(face.width_mm)} wide"
    return f"{size}. {listed or 'No holes are laid out'}."
