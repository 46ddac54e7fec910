"""Why nothing is proposed for a replacement, in one sentence about what comes nearest."""

from collections.abc import Sequence

import numpy as np

from restoration.calc.matching import RULES_OUT, Weighed, Why
from restoration.calc.matching_data import Need
from restoration.reports.match_facts import Board, Yardstick, weigh_boards
from restoration.reports.match_words import too_short
from timber_stock.web.fields import size_for

NAMES = {
    Why.HEART: "the heart",
    Why.SAPWOOD: "sapwood",
    Why.RINGS: "the rings",
    Why.SEASONING: "how dry it is",
    Why.GREEN_SIZE: "too little to dry and plane",
}


def why_left(
    boards: Sequence[Board], needs: Sequence[Need], by: Yardstick, with_differences: bool
) -> list[str]:
    _, whose, weighed = weigh_boards(boards, needs, by)
    return [
        _why(weighed, np.nonzero(weighed.need == column)[0], whose, need, by, with_differences)
        for column, need in enumerate(needs)
    ]


def _why(
    weighed: Weighed,
    mine: np.ndarray,
    whose: Sequence[Board],
    need: Need,
    by: Yardstick,
    with_differences: bool,
) -> str:
    ruled = weighed.why[mine] & int(RULES_OUT)
    serving = mine[ruled == 0]
    if len(serving):
        return _would_serve(weighed, serving, whose, with_differences)
    if len(short := mine[ruled == int(Why.LENGTH)]):
        board = whose[weighed.offer[short[np.argmax(weighed.over_mm[short])]]]
        return f"The nearest is {board.row.tag}: {too_short(board, need.length_mm, by.units)}."
    if len(mine[ruled & int(Why.WOOD) == 0]):
        sizes = sorted((need.sided_mm, need.moulded_mm))
        section = " × ".join(size_for(mm, by.units) for mm in sizes)
        return f"No board of its wood holds a section of {section}."
    return "No board in stock is of a wood that will do."


def _would_serve(
    weighed: Weighed, serving: np.ndarray, whose: Sequence[Board], with_differences: bool
) -> str:
    clean = serving[weighed.differences[serving] == 0]
    if with_differences or len(clean):
        tags = sorted({whose[weighed.offer[k]].row.tag for k in (clean if len(clean) else serving)})
        named = ", ".join(tags[:3]) + (" and others" if len(tags) > 3 else "")
        return f"{named} would serve, and {'gives' if len(tags) == 1 else 'give'} others more."
    best = serving[np.argmin(weighed.differences[serving])]
    said = ", ".join(NAMES[flag] for flag in NAMES if weighed.why[best] & int(flag))
    tag = whose[weighed.offer[best]].row.tag
    return f"The nearest is {tag}, which differs from what was asked: {said}."
