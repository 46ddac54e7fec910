"""Laying pieces out: by rectangles, by their true shape, and by chance; needs no database."""

import random
import time
from collections.abc import Callable, Iterator

from restoration.calc.nesting_cases import Case, cases
from restoration.calc.nesting_lawful import own_faults, too_near
from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place, covered
from restoration.calc.nesting_search import Request, climb, lay_out
from restoration.calc.nesting_sheet import usable
from restoration.calc.nesting_yield import yield_of

BUDGETS = (6, 24, 60, 200)
DARTS, TRIES = 40, 24
Places = tuple[Place, ...]


def lay_out_rivals() -> Iterator[str]:
    """A line a case and way: what each lays out, its yield, and the time it took here and now."""
    yield "Yield of the whole face, and of the face used up to the end of the last piece."
    gains = []
    for case in cases():
        total, lie = len(case.request.pieces), "curved" if case.curved else "straight or mixed"
        yield f"{case.name} ({total} pieces, {lie})"
        rectangles = yield from _told(case, "rectangles alone, 300 steps", _rectangles)
        yield from _told(case, f"chance, {TRIES} times {DARTS} darts a piece", by_chance)
        found = 0.0
        for steps in BUDGETS:
            found = yield from _told(
                case, f"true shapes, {steps} steps", lambda r, n=steps: lay_out(r, steps=n).places
            )
        gains.append((case, found / rectangles))
        yield f"    {found / rectangles:.2f} times the rectangles at {BUDGETS[-1]} steps"
    curved = [gain for case, gain in gains if case.curved]
    yield (
        f"Least gain on curved floors and knees: {100 * (min(curved) - 1):.0f} %; on any case: "
        f"{100 * (min(gain for _, gain in gains) - 1):.0f} %."
    )


def _told(case: Case, name: str, way: Callable[[Request], Places]) -> Iterator[str]:
    """One line; what comes back is the yield of the whole face."""
    start = time.perf_counter()
    places = way(case.request)
    took = time.perf_counter() - start
    found = yield_of(case.request.sheet, case.request.pieces, places)
    yield (
        f"    {name:<32} {len(places):>2} laid, {100 * found.of_the_face:5.1f} % of the face, "
        f"{100 * found.of_what_is_used:5.1f} % of what is used, {took:6.2f} s"
    )
    return found.of_the_face


def _rectangles(request: Request) -> Places:
    return climb(request, boxes=True, steps=300, seed=1)[0]


def by_chance(request: Request) -> Places:
    """The best of several random layouts: each piece in turn dropped until it lies lawfully."""
    chance = random.Random(1)
    best: tuple[float, Places] = (0.0, ())
    for _ in range(TRIES):
        places = _dropped(request, chance)
        worth = sum(p.area_mm2() for p in request.pieces if any(q.key == p.key for q in places))
        best = max(best, (worth, places), key=lambda each: each[0])
    return best[1]


def _dropped(request: Request, chance: random.Random) -> Places:
    laid: list[tuple[Piece, Place]] = []
    for piece in sorted(request.pieces, key=lambda p: (-p.area_mm2(), p.key)):
        for _ in range(DARTS):
            place = _dart(request, piece, chance)
            if _is_clear(request, piece, place, laid):
                laid.append((piece, place))
                break
    return tuple(place for _, place in laid)


def _dart(request: Request, piece: Piece, chance: random.Random) -> Place:
    left, low, right, high = usable(request.sheet, sapwood=True).bounds
    turn = chance.uniform(-piece.turn_deg, piece.turn_deg) + chance.choice((0.0, 180.0))
    return Place(
        piece.key,
        chance.uniform(left, right),
        chance.uniform(low, high),
        turn,
        chance.choice(piece.mirrorings()),
    )


def _is_clear(
    request: Request, piece: Piece, place: Place, laid: list[tuple[Piece, Place]]
) -> bool:
    if own_faults(request.sheet, piece, place):
        return False
    shape = covered(piece, place)
    return not any(
        too_near(piece, shape, other, covered(other, at), request.gap_mm) for other, at in laid
    )
