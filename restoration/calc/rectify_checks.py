"""Marks that cannot settle a board are refused before anything is reckoned from them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from restoration.calc.rectify import FEWEST_MARKS, MOST_MARKS, Mark

IN_LINE = 0.03
"""Three marks whose triangle is flatter than this share of its longest side stand in one line."""
NEARLY_IN_LINE = 0.12
CLOSEST_PX = 8.0
CLOSEST_MM = 20.0
FURTHEST_MM = 30_000.0
TURN_SEEN = 0.06
"""A flatter triangle does not tell its turn: a slip of the tape would turn it over."""

Point = tuple[float, float]


def check_marks(marks: Sequence[Mark], width_px: int, height_px: int) -> list[str]:
    """Warnings about marks that still serve; ValueError for those that cannot.

    Refused: too few or too many, figures that are not finite or off the picture, two marks in one
    place, all in a line, three of four in a line, and an order that crosses: any three marks must
    run the same way round on the board as in the picture. The limits are our own.
    """
    if len(marks) < FEWEST_MARKS:
        raise ValueError(
            f"Four marks or more are needed to undo the slant, and {len(marks) or 'none'} "
            f"{'is' if len(marks) < 2 else 'are'} given."
        )
    if len(marks) > MOST_MARKS:
        raise ValueError(f"Give {MOST_MARKS} marks at most, the ones spread widest.")
    for number, mark in enumerate(marks, 1):
        _check_one(mark, number, width_px, height_px)
    _check_apart(marks)
    warnings = _check_lines(marks)
    _check_order(marks)
    return warnings


def flatness(one: Point, two: Point, three: Point) -> float:
    """The least height of a triangle as a share of its longest side: 0 for three in a line."""
    longest = max(math.dist(one, two), math.dist(two, three), math.dist(one, three))
    return abs(turn(one, two, three)) / longest**2 if longest else 0.0


def turn(one: Point, two: Point, three: Point) -> float:
    """Twice the triangle's area, positive where it runs counter-clockwise (y up)."""
    return (two[0] - one[0]) * (three[1] - one[1]) - (three[0] - one[0]) * (two[1] - one[1])


def _check_one(mark: Mark, number: int, width_px: int, height_px: int) -> None:
    if not all(map(math.isfinite, (mark.x_px, mark.y_px, mark.x_mm, mark.y_mm))):
        raise ValueError(f"Mark {number}: every figure must be a plain number.")
    if not (0 <= mark.x_px <= width_px and 0 <= mark.y_px <= height_px):
        raise ValueError(
            f"Mark {number} is not on the picture, which is {width_px} by {height_px} pixels."
        )
    if max(abs(mark.x_mm), abs(mark.y_mm)) > FURTHEST_MM:
        raise ValueError(
            f"Mark {number} is more than {FURTHEST_MM / 1000:g} m off: is it in millimetres?"
        )


def _check_apart(marks: Sequence[Mark]) -> None:
    for (n, one), (m, two) in combinations(enumerate(marks, 1), 2):
        if math.dist(_seen(one), _seen(two)) < CLOSEST_PX:
            raise ValueError(f"Marks {n} and {m} are tapped in one place: move one of them.")
        if math.dist(_true(one), _true(two)) < CLOSEST_MM:
            raise ValueError(
                f"Marks {n} and {m} are said to lie within {CLOSEST_MM:g} mm of each other on the "
                "board: look at their figures."
            )


def _check_lines(marks: Sequence[Mark]) -> list[str]:
    """The best four tell: the flattest triangle among them must not be a line."""
    places = [[_seen(m) for m in marks], [_true(m) for m in marks]]
    if any(
        max(flatness(*(row[i] for i in three)) for three in combinations(range(len(marks)), 3))
        < IN_LINE
        for row in places
    ):
        raise ValueError(
            "The marks lie in one line, and a line does not show the slant of a board: put them "
            "round the pattern, near its four corners."
        )
    best, flattest = max(_fours(places, len(marks)))
    named = f"Marks {flattest[0] + 1}, {flattest[1] + 1} and {flattest[2] + 1}"
    if best < IN_LINE:
        raise ValueError(
            f"{named} lie in one line, so four marks are as good as three: move one of them, or "
            "add a mark well away from that line."
        )
    if best < NEARLY_IN_LINE:
        return [
            f"{named} lie nearly in one line: a small slip in one of them goes a long way. Spread "
            "the marks to the corners, or add one."
        ]
    return []


def _fours(
    places: Sequence[Sequence[Point]], count: int
) -> list[tuple[float, tuple[int, int, int]]]:
    """Of every four marks the flattest of their triangles, in picture and on the board."""
    found = []
    heights = {
        three: min(flatness(*(row[i] for i in three)) for row in places)
        for three in combinations(range(count), 3)
    }
    for four in combinations(range(count), 4):
        least = min(combinations(four, 3), key=heights.__getitem__)
        found.append((heights[least], least))
    return found


def _check_order(marks: Sequence[Mark]) -> None:
    if _turns_agree(marks) == 0:
        swap = next(
            (pair for pair in combinations(range(len(marks)), 2) if _mends(marks, pair)), None
        )
        hint = f" If marks {swap[0] + 1} and {swap[1] + 1} change places, it fits." if swap else ""
        raise ValueError(
            "The marks are in crossing order: they do not run the same way round on the board as "
            f"in the picture.{hint} Name them in the same order in both."
        )
    if _turns_agree(marks) < 0:
        raise ValueError(
            "The marks run the other way round on the board than in the picture, so the pattern "
            "would come out as its mirror image. Measure x to the right and y upwards as the "
            "picture shows the board; a pattern seen from its back is turned over afterwards."
        )


def _mends(marks: Sequence[Mark], pair: tuple[int, int]) -> bool:
    swapped = list(marks)
    i, j = pair
    one, two = marks[i], marks[j]
    swapped[i] = Mark(two.x_px, two.y_px, one.x_mm, one.y_mm)
    swapped[j] = Mark(one.x_px, one.y_px, two.x_mm, two.y_mm)
    return _turns_agree(swapped) > 0


def _turns_agree(marks: Sequence[Mark]) -> int:
    """1 where every three marks turn the same way in both, -1 where all turn the other, else 0.

    A board seen from its front keeps the turn of every three points, however it slants.
    """
    heights = {
        three: min(flatness(*map(_seen, three)), flatness(*map(_true, three)))
        for three in combinations(marks, 3)
    }
    telling = min(TURN_SEEN, max(heights.values()) / 2)
    signs = {
        1 if (turn(*map(_seen, three)) > 0) == (turn(*map(_true, three)) > 0) else -1
        for three, height in heights.items()
        if height >= telling
    }
    return signs.pop() if len(signs) == 1 else 0


def _seen(mark: Mark) -> Point:
    return mark.x_px, -mark.y_px


def _true(mark: Mark) -> Point:
    return mark.x_mm, mark.y_mm
