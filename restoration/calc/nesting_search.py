"""The search for a good layout: deterministic steps, and never worse than rectangles alone.

Each step fills the whole face once. First the pieces' bounding rectangles are laid out, by half
as many steps again as the shapes get; then the shapes themselves, beginning with the order the
rectangles ended in and climbing over the order and over how each piece may lie. The better of the
two is the answer.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from restoration.calc.nesting_fill import Way, fill
from restoration.calc.nesting_fit import Fits, Lying
from restoration.calc.nesting_pieces import Piece, check_gap_mm, checked_pieces
from restoration.calc.nesting_places import Place
from restoration.calc.nesting_sheet import Sheet, checked_sheet
from restoration.calc.nesting_turns import angles_of
from restoration.calc.nesting_yield import length_used_mm

USUAL_STEPS = 60
MOST_STEPS = 2_000
LEANS = (0.0, 0.02, 0.1, 0.3)
WAYS_TRIED = 6
Score = tuple[float, float]


@dataclass(frozen=True)
class Request:
    """What to lay out on what. `gap_mm` is kept between pieces: the kerf and the saw's wander."""

    sheet: Sheet
    pieces: tuple[Piece, ...]
    gap_mm: float = 6.0


@dataclass(frozen=True)
class Layout:
    """Where the pieces came to lie; those not among `places` are left out. `steps` were made."""

    places: tuple[Place, ...]
    steps: int
    rectangles_only: bool


def lay_out(
    request: Request, *, steps: int = USUAL_STEPS, seed: int = 1, seconds: float | None = None
) -> Layout:
    """The best layout found by so many steps; the same request, steps and seed give the same one.

    With `seconds` it stops after the first step that ends later, and then the answer depends on
    the machine: `Layout.steps` says how far it came. ValueError for a sheet, pieces, gap or
    steps that are refused.
    """
    checked_request(request)
    if not 1 <= steps <= MOST_STEPS:
        raise ValueError(f"A search takes 1 to {MOST_STEPS} steps.")
    early, late = _clock(seconds and seconds / 3), _clock(seconds)
    by_boxes, _ = climb(request, boxes=True, steps=steps + steps // 2, seed=seed, late=early)
    by_shapes, made = climb(request, boxes=False, steps=steps, seed=seed, late=late, begin=by_boxes)
    if score(request, by_boxes) > score(request, by_shapes):
        return Layout(by_boxes, made, rectangles_only=True)
    return Layout(by_shapes, made, rectangles_only=False)


def checked_request(request: Request) -> Request:
    """The same request, or ValueError with a sentence."""
    checked_sheet(request.sheet)
    checked_pieces(request.pieces)
    check_gap_mm(request.gap_mm)
    return request


def score(request: Request, places: tuple[Place, ...]) -> Score:
    """What a layout is judged by: the worth laid out, then how little of the length it uses."""
    worth = {piece.key: piece.counts() for piece in request.pieces}
    laid = sum(worth[place.key] for place in places)
    return round(laid, 3), -round(length_used_mm(request.sheet, request.pieces, places), 3)


def climb(
    request: Request,
    *,
    boxes: bool,
    steps: int,
    seed: int,
    late: Callable[[], bool] = lambda: False,
    begin: tuple[Place, ...] = (),
) -> tuple[tuple[Place, ...], int]:
    """The best places that so many steps of hill-climbing find, and how many steps were made.

    The first step takes the pieces in the order in which `begin`, if given, has them.
    """
    pieces = tuple(p for p in request.pieces if p.sided_mm <= request.sheet.thickness_mm + 0.05)
    if not pieces:
        return (), 0
    fits, chance = Fits(request.sheet, pieces, request.gap_mm, boxes), random.Random(seed)
    lyings = [lyings_of(fits, piece, request.sheet) for piece in pieces]
    best: tuple[Score, tuple[Place, ...]] = ((0.0, 0.0), ())
    turns, made = [piece.turn_deg for piece in pieces], 0
    current: tuple[Score, Way] = ((-1.0, 0.0), Way((), ()))
    orders = _first_orders(pieces, begin)
    for step in range(steps):
        if step < len(orders):
            way = Way(orders[step], tuple(_some(each, chance, likeliest=True) for each in lyings))
        else:
            way = _changed(current[1], lyings, turns, chance)
        places = fill(fits, pieces, way)
        made += 1
        now = score(request, places)
        best = max(best, (now, places), key=lambda each: each[0])
        if now >= current[0]:
            current = now, way
        if late():
            break
    return best[1], made


def lyings_of(fits: Fits, piece: Piece, sheet: Sheet) -> tuple[Lying, ...]:
    """Every way a piece may lie, the likeliest first, each end for end too."""
    shape = fits.shape_of[piece.outline_mm]
    ways = [
        (rank, Lying(shape, angle + end, mirrored))
        for mirrored in piece.mirrorings()
        for rank, angle in enumerate(angles_of(piece, sheet, mirrored=mirrored))
        for end in (0.0, 180.0)
    ]
    return tuple(way for _, way in sorted(ways, key=lambda each: each[0]))


def _first_orders(pieces: tuple[Piece, ...], begin: tuple[Place, ...]) -> list[tuple[int, ...]]:
    """As another layout has them; then the usual ones: greatest first by worth, length, width."""
    sizes: list[Callable[[Piece], float]] = [Piece.counts, _long, _wide]
    numbers = range(len(pieces))
    orders = [tuple(sorted(numbers, key=lambda n: (-size(pieces[n]), n))) for size in sizes]
    if not begin:
        return orders
    rank = {place.key: at for at, place in enumerate(begin)}
    return [tuple(sorted(numbers, key=lambda n: rank.get(pieces[n].key, len(rank)))), *orders]


def _some(lyings: tuple[Lying, ...], chance: random.Random, likeliest: bool) -> tuple[Lying, ...]:
    if len(lyings) <= WAYS_TRIED:
        return lyings
    first = 4 if likeliest else 0
    kept = list(lyings[:first])
    return tuple(kept + chance.sample(lyings[first:], WAYS_TRIED - first))


def _changed(
    way: Way, lyings: list[tuple[Lying, ...]], turns: list[float], chance: random.Random
) -> Way:
    """One to three small changes to the way that is best so far."""
    for _ in range(chance.choice((1, 1, 2, 3))):
        kind = chance.random()
        if kind < 0.5:
            way = replace(way, order=_moved(way.order, chance))
        elif kind < 0.9:
            number = chance.randrange(len(lyings))
            ways = list(way.ways)
            ways[number] = _some(lyings[number], chance, likeliest=chance.random() < 0.5)
            if kind < 0.6:
                ways[number] += (_turned_freely(lyings[number], turns[number], chance),)
            way = replace(way, ways=tuple(ways))
        else:
            way = replace(way, lean=chance.choice(LEANS))
    return way


def _turned_freely(lyings: tuple[Lying, ...], turn_deg: float, chance: random.Random) -> Lying:
    """Any angle within the grain limit, to a tenth of a degree."""
    like = chance.choice(lyings)
    end = 180.0 if abs(like.angle_deg) > 90.0 else 0.0
    return replace(like, angle_deg=end + round(chance.uniform(-turn_deg, turn_deg), 1))


def _moved(order: tuple[int, ...], chance: random.Random) -> tuple[int, ...]:
    rest = list(order)
    rest.insert(chance.randrange(len(order)), rest.pop(chance.randrange(len(order))))
    return tuple(rest)


def _clock(seconds: float | None) -> Callable[[], bool]:
    if seconds is None:
        return lambda: False
    end = time.monotonic() + seconds
    return lambda: time.monotonic() > end


def _long(piece: Piece) -> float:
    return max(x for x, _ in piece.outline_mm) - min(x for x, _ in piece.outline_mm)


def _wide(piece: Piece) -> float:
    return max(y for _, y in piece.outline_mm) - min(y for _, y in piece.outline_mm)
